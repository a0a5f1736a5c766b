#include "design/family.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "design/recipe.h"
#include "design/tint.h"

namespace foreslice::design {
namespace {

struct Used {
    std::size_t design, portion;
};

const Portion& portion_of(const std::vector<FamilyMember>& family, const Used& used) {
    return family[used.design].design.portions[used.portion];
}

std::vector<Used> all_portions(const std::vector<FamilyMember>& family) {
    std::vector<Used> all;
    for (std::size_t d = 0; d < family.size(); ++d)
        for (std::size_t p = 0; p < family[d].design.portions.size(); ++p) all.push_back({d, p});
    return all;
}

std::vector<RecurringColour> recurring_colours(const std::vector<FamilyMember>& family,
                                               const colour::ColourantLibrary& library) {
    std::vector<RecurringColour> found;
    for (const Used& used : all_portions(family)) {
        const Portion& portion = portion_of(family, used);
        auto same =
            std::find_if(found.begin(), found.end(), [&](const auto& one) { return one.id == portion.id; });
        if (same == found.end()) same = found.insert(found.end(), {portion.id, portion.name, {}, 0, 0, 0});
        const auto colour = colour_of(portion, family[used.design].design, library);
        same->uses.push_back({used.design, used.portion, colour.lab, colour.srgb});
    }
    std::erase_if(found, [](const auto& one) { return one.uses.size() < 2; });
    for (auto& one : found)
        for (std::size_t a = 0; a < one.uses.size(); ++a)
            for (std::size_t b = a + 1; b < one.uses.size(); ++b) {
                const double de00 = colour::ciede2000(one.uses[a].lab, one.uses[b].lab);
                if (de00 <= one.most_de00) continue;
                one.most_de00 = de00;
                one.farthest_a = a;
                one.farthest_b = b;
            }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.most_de00 > b.most_de00; });
    return found;
}

bool same_doses(const std::vector<colour::Dose>& a, const std::vector<colour::Dose>& b) {
    if (a.size() != b.size() || a.empty()) return false;
    return std::all_of(a.begin(), a.end(), [&](const colour::Dose& dose) {
        const auto other = std::find_if(b.begin(), b.end(), [&](const colour::Dose& candidate) {
            return candidate.colourant->id == dose.colourant->id;
        });
        return other != b.end() && std::abs(other->g_per_kg_oils - dose.g_per_kg_oils) <=
                                       same_recipe_share * std::max(other->g_per_kg_oils, dose.g_per_kg_oils);
    });
}

void add_part(Masterbatch& batch, const std::vector<FamilyMember>& family, const Used& used,
              const colour::ColourantLibrary& library) {
    const auto& [design, loaves] = family[used.design];
    const Portion& portion = portion_of(family, used);
    double shares = 0;
    for (const auto& one : design.portions) shares += one.share_percent;
    const double batter_g = loaves * batter_of_loaf_g(design) * portion.share_percent / shares;
    batch.parts.push_back({used.design, used.portion, batter_g});
    batch.batter_g += batter_g;
    for (const auto& dose : doses_of(portion, design, library)) {
        const double g = loaves * dose.g_per_kg_oils * oils_of_portion_g(design, portion) / 1000;
        auto powder = std::find_if(batch.powders.begin(), batch.powders.end(),
                                   [&](const auto& one) { return one.colourant == dose.colourant->name; });
        if (powder == batch.powders.end())
            batch.powders.push_back({dose.colourant->name, g});
        else
            powder->g += g;
    }
}

std::vector<Masterbatch> masterbatches_of(const std::vector<FamilyMember>& family,
                                          const colour::ColourantLibrary& library) {
    const auto all = all_portions(family);
    std::vector<std::vector<colour::Dose>> doses;
    doses.reserve(all.size());
    for (const Used& used : all)
        doses.push_back(doses_of(portion_of(family, used), family[used.design].design, library));
    std::vector<bool> taken(all.size());
    std::vector<Masterbatch> found;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (taken[i] || family[all[i].design].loaves == 0) continue;
        Masterbatch batch;
        batch.name = portion_of(family, all[i]).name;
        for (std::size_t j = i; j < all.size(); ++j)
            if (!taken[j] && family[all[j].design].loaves > 0 && same_doses(doses[i], doses[j])) {
                taken[j] = true;
                add_part(batch, family, all[j], library);
            }
        const bool several = std::any_of(batch.parts.begin(), batch.parts.end(), [&](const auto& part) {
            return part.design != batch.parts.front().design;
        });
        if (several) found.push_back(std::move(batch));
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.batter_g > b.batter_g; });
    return found;
}

std::vector<PigmentNeed> pigments_of(const std::vector<FamilyMember>& family,
                                     const colour::ColourantLibrary& library, double margin_percent) {
    std::map<std::string, PigmentNeed> needs;
    for (const Used& used : all_portions(family)) {
        const auto& [design, loaves] = family[used.design];
        const Portion& portion = portion_of(family, used);
        for (const auto& dose : doses_of(portion, design, library)) {
            PigmentNeed& need = needs[dose.colourant->id];
            need.id = dose.colourant->id;
            need.name = dose.colourant->name;
            need.of_design_g.resize(family.size());
            const double g = loaves * dose.g_per_kg_oils * oils_of_portion_g(design, portion) / 1000;
            need.of_design_g[used.design] += g;
            need.needed_g += g;
        }
    }
    std::vector<PigmentNeed> list;
    for (auto& [id, need] : needs) {
        if (need.needed_g <= 0) continue;
        need.to_order_g = std::ceil(need.needed_g * (1 + margin_percent / 100) - 1e-9);
        list.push_back(std::move(need));
    }
    std::stable_sort(list.begin(), list.end(),
                     [](const auto& a, const auto& b) { return a.needed_g > b.needed_g; });
    return list;
}

}  // namespace

void ToneRange::take(const colour::Lab& lab) {
    const double chroma = std::hypot(lab.a, lab.b);
    least_lightness = std::min(least_lightness, lab.l);
    most_lightness = std::max(most_lightness, lab.l);
    least_chroma = std::min(least_chroma, chroma);
    most_chroma = std::max(most_chroma, chroma);
}

double batter_of_loaf_g(const Design& design) {
    auto space = mould_space_of(design);
    space.moulds = 1;
    return batter::batter_g(batter::batter_ml(space), design.batter.density_kg_per_m3, losses_of(design));
}

double oils_of_portion_g(const Design& design, const Portion& portion) {
    double shares = 0;
    for (const auto& one : design.portions) shares += one.share_percent;
    return batter_of_loaf_g(design) / batter_kg_per_kg_oils(design) * portion.share_percent / shares;
}

FamilyReport family_report(const std::vector<FamilyMember>& family, const colour::ColourantLibrary& library,
                           double margin_percent) {
    FamilyReport report;
    report.margin_percent = margin_percent;
    report.recurring = recurring_colours(family, library);
    for (const auto& member : family) {
        report.of_design.emplace_back();
        for (const auto& portion : member.design.portions) {
            const auto lab = colour_of(portion, member.design, library).lab;
            report.of_design.back().take(lab);
            report.all.take(lab);
        }
        for (const auto& pour : member.design.pours)
            report.has_sifted_lines = report.has_sifted_lines || pour.sifted_over;
    }
    report.masterbatches = masterbatches_of(family, library);
    report.pigments = pigments_of(family, library, margin_percent);
    return report;
}

}  // namespace foreslice::design
