#include "studio/session/edits.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "studio/session/pour_edits.h"

namespace foreslice::studio {
namespace {

using design::Portion;
using design::Pour;

constexpr double least_share_percent = 0.5;

double rounded_to_tenth(double value) {
    return std::round(value * 10) / 10;
}

// Gives all portions but `fixed` (none when it is not an index) what `fixed` leaves of 100 percent: the least
// share each, and above that in proportion to what they had. In tenths of a percent; the largest takes what
// rounding down leaves.
void spread_rest(std::vector<Portion>& portions, std::size_t fixed) {
    std::vector<Portion*> others;
    double rest = 100, above_least = 0;
    for (std::size_t i = 0; i < portions.size(); ++i) {
        if (i == fixed) {
            rest -= portions[i].share_percent;
        } else {
            others.push_back(&portions[i]);
            above_least += std::max(0.0, portions[i].share_percent - least_share_percent);
        }
    }
    if (others.empty()) return;
    const auto count = static_cast<double>(others.size());
    const double spare = rest - least_share_percent * count;
    double left = rest;
    for (Portion* other : others) {
        const double above = std::max(0.0, other->share_percent - least_share_percent);
        const double part = above_least > 0 ? above / above_least : 1 / count;
        other->share_percent = std::floor((least_share_percent + spare * part) * 10 + 1e-6) / 10;
        left -= other->share_percent;
    }
    Portion* largest = *std::max_element(
        others.begin(), others.end(),
        [](const Portion* a, const Portion* b) { return a->share_percent < b->share_percent; });
    largest->share_percent += left;
}

template <class T>
void move_item(std::vector<T>& items, std::size_t from, std::size_t to) {
    if (from >= items.size() || to >= items.size() || from == to) return;
    const auto begin = items.begin();
    const auto a = static_cast<std::ptrdiff_t>(from), b = static_cast<std::ptrdiff_t>(to);
    if (from < to)
        std::rotate(begin + a, begin + a + 1, begin + b + 1);
    else
        std::rotate(begin + b, begin + a, begin + a + 1);
}

std::string fresh_id(const Design& design) {
    for (std::size_t n = design.portions.size() + 1;; ++n) {
        std::string id = "portion-" + std::to_string(n);
        if (!design::find_portion(design, id)) return id;
    }
}

Portion portion(std::string id, std::string name, double share, std::vector<design::ColourantDose> doses,
                double white) {
    Portion out;
    out.id = std::move(id);
    out.name = std::move(name);
    out.share_percent = share;
    out.doses = std::move(doses);
    out.white.g_per_kg_oils = white;
    return out;
}

// Whatever unit the dose was stated in.
void set_grams(design::ColourantDose& dose, double g_per_kg_oils) {
    dose.g_per_kg_oils = g_per_kg_oils;
    dose.stated.reset();
}

}  // namespace

Design starter_design() {
    Design out;
    out.name = "new design";
    out.portions = {
        portion("ink", "basin ink", 30, {{"ultramarine-blue", 14}, {"activated-charcoal", 3}}, 0),
        portion("haze", "fog violet", 30, {{"ultramarine-violet", 10}}, 4),
        portion("lamp", "lamp amber", 10, {{"iron-oxide-yellow", 6}}, 1),
        portion("salt", "salt white", 30, {}, 8),
    };
    for (const char* id : {"ink", "haze", "salt", "ink", "lamp", "haze", "salt"}) {
        Pour pour;
        pour.portion = id;
        out.pours.push_back(pour);
    }
    out.strokes.emplace_back();
    return out;
}

Design with_share(Design design, std::size_t portion, double share_percent) {
    if (portion >= design.portions.size() || design.portions.size() < 2) return design;
    const double most = 100 - least_share_percent * static_cast<double>(design.portions.size() - 1);
    design.portions[portion].share_percent = std::clamp(share_percent, least_share_percent, most);
    spread_rest(design.portions, portion);
    return design;
}

Design with_white(Design design, std::size_t portion, double g_per_kg_oils) {
    if (portion < design.portions.size()) set_grams(design.portions[portion].white, g_per_kg_oils);
    return design;
}

Design with_colourant(Design design, std::size_t portion, const std::string& colourant,
                      double g_per_kg_oils) {
    if (portion >= design.portions.size()) return design;
    auto& target = design.portions[portion];
    if (target.white.colourant == colourant) return design;
    for (const auto& dose : target.doses)
        if (dose.colourant == colourant) return design;
    target.doses.push_back({colourant, g_per_kg_oils});
    return design;
}

Design without_dose(Design design, std::size_t portion, std::size_t dose) {
    if (portion < design.portions.size() && dose < design.portions[portion].doses.size()) {
        auto& doses = design.portions[portion].doses;
        doses.erase(doses.begin() + static_cast<std::ptrdiff_t>(dose));
    }
    return design;
}

Design with_new_portion(Design design) {
    Portion fresh;
    fresh.id = fresh_id(design);
    fresh.name = "portion " + std::to_string(design.portions.size() + 1);
    fresh.share_percent = design.portions.empty() ? 100 : 10;
    Pour pour;
    pour.portion = fresh.id;
    design.portions.push_back(std::move(fresh));
    design.pours.push_back(std::move(pour));
    spread_rest(design.portions, design.portions.size() - 1);
    return design;
}

Design without_portion(Design design, std::size_t portion) {
    if (portion >= design.portions.size() || design.portions.size() < 2) return design;
    const std::string id = design.portions[portion].id;
    design.portions.erase(design.portions.begin() + static_cast<std::ptrdiff_t>(portion));
    std::erase_if(design.pours, [&](const Pour& pour) { return pour.portion == id; });
    spread_rest(design.portions, design.portions.size());
    return with_pours_mended(std::move(design));
}

Design with_pour_moved(Design design, std::size_t from, std::size_t to) {
    move_item(design.pours, from, to);
    return with_pours_mended(std::move(design));
}

Design with_new_pour(Design design, const std::string& portion) {
    if (!design::find_portion(design, portion)) return design;
    Pour pour;
    pour.portion = portion;
    design.pours.push_back(std::move(pour));
    return design;
}

bool pour_can_go(const Design& design, std::size_t pour) {
    if (pour >= design.pours.size()) return false;
    const auto& id = design.pours[pour].portion;
    return std::count_if(design.pours.begin(), design.pours.end(),
                         [&](const Pour& other) { return other.portion == id; }) > 1;
}

Design without_pour(Design design, std::size_t pour) {
    if (!pour_can_go(design, pour)) return design;
    const std::string id = design.pours[pour].portion;
    design.pours.erase(design.pours.begin() + static_cast<std::ptrdiff_t>(pour));
    // A typed part of a portion whose other pour has gone would leave batter over: the last one takes the
    // rest.
    for (auto last = design.pours.rbegin(); last != design.pours.rend(); ++last)
        if (last->portion == id) {
            last->part_percent.reset();
            break;
        }
    return with_pours_mended(std::move(design));
}

Design with_new_stroke(Design design) {
    if (design.strokes.empty()) {
        design.strokes.emplace_back();
        return design;
    }
    design.strokes.push_back(design.strokes.back());
    // The same passes the other way round would undo the first ones: the new ones go between them.
    auto* passes = std::get_if<design::Passes>(&design.strokes.back().path);
    if (!passes || passes->count < 2) return design;
    const double spacing_mm =
        passes->spacing_mm.value_or((design.mould.width_mm - 2 * passes->margin_mm) / (passes->count - 1));
    passes->margin_mm = rounded_to_tenth(passes->margin_mm + spacing_mm / 2);
    --passes->count;
    return design;
}

Design without_stroke(Design design, std::size_t stroke) {
    if (stroke < design.strokes.size())
        design.strokes.erase(design.strokes.begin() + static_cast<std::ptrdiff_t>(stroke));
    return design;
}

Design with_passes_written_out(Design design, std::size_t stroke) {
    if (stroke >= design.strokes.size()) return design;
    auto& target = design.strokes[stroke];
    if (std::holds_alternative<design::Waypoints>(target.path)) return design;
    design::Waypoints points;
    for (const Vec2 p : design::path_of(target, design))
        points.points_mm.push_back({rounded_to_tenth(p.x), rounded_to_tenth(p.y)});
    target.path = std::move(points);
    return design;
}

}  // namespace foreslice::studio
