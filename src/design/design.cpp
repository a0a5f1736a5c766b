#include "design/design.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace foreslice::design {
namespace {

// Explicit parts of a portion, and how many pours share what these leave.
struct PartSum {
    double given_percent = 0;
    int open = 0;
};

// All the batter: what is poured, then what is spooned on.
std::vector<double> batter_areas_mm2(const Design& design) {
    std::map<std::string, PartSum> sums;
    for (const Spooned& spooned : design.top.spooned)
        sums[spooned.portion].given_percent += spooned.part_percent;
    for (const Pour& pour : design.pours) {
        PartSum& sum = sums[pour.portion];
        if (pour.part_percent)
            sum.given_percent += *pour.part_percent;
        else
            ++sum.open;
    }
    std::vector<double> areas;
    double total = 0;
    const auto add = [&](const std::string& id, double part_percent) {
        const Portion* portion = find_portion(design, id);
        areas.push_back(portion ? portion->share_percent * part_percent : 0);
        total += areas.back();
    };
    for (const Pour& pour : design.pours) {
        const PartSum& sum = sums[pour.portion];
        add(pour.portion,
            pour.part_percent ? *pour.part_percent : std::max(0.0, 100 - sum.given_percent) / sum.open);
    }
    for (const Spooned& spooned : design.top.spooned) add(spooned.portion, spooned.part_percent);
    double lines = 0;
    for (const Pour& pour : design.pours) lines += line_area_mm2(design, pour);
    // The shares add up to 100 only within half a per cent; the mould is filled exactly.
    const double scale = total > 0 ? (design.mould.width_mm * design.mould.fill_mm - lines) / total : 0;
    for (double& area : areas) area *= scale;
    return areas;
}

}  // namespace

flow::Box box_of(const Design& design) {
    return {design.mould.width_mm, level_after_mm(design, design.pours.size())};
}

flow::Box box_after(const Design& design, std::size_t pours) {
    return {design.mould.width_mm, level_after_mm(design, pours)};
}

std::size_t pours_before(const Stroke& stroke, const Design& design) {
    const std::size_t all = design.pours.size();
    return stroke.after_pours ? std::min(static_cast<std::size_t>(std::max(0, *stroke.after_pours)), all)
                              : all;
}

double level_after_mm(const Design& design, std::size_t pours) {
    if (pours >= design.pours.size()) {
        double level_mm = design.mould.fill_mm;
        for (const double area_mm2 : spooned_areas_mm2(design)) level_mm -= area_mm2 / design.mould.width_mm;
        return level_mm;
    }
    const auto areas_mm2 = pour_areas_mm2(design);
    double poured_mm2 = 0;
    for (std::size_t pour = 0; pour < pours; ++pour)
        poured_mm2 += areas_mm2[pour] + line_area_mm2(design, design.pours[pour]);
    return poured_mm2 / design.mould.width_mm;
}

double level_of_mm(const Stroke& stroke, const Design& design) {
    return level_after_mm(design, pours_before(stroke, design));
}

std::vector<flow::Stroke> flow_strokes_of(const Design& design) {
    const auto groups = stroke_groups(design);
    if (groups.empty() || groups.back().pours < design.pours.size()) return {};
    return groups.back().strokes;
}

std::vector<StrokeGroup> stroke_groups(const Design& design) {
    std::map<std::size_t, StrokeGroup> groups;
    for (const Stroke& stroke : design.strokes) {
        const std::size_t pours = pours_before(stroke, design);
        StrokeGroup& group = groups[pours];
        group.pours = pours;
        group.strokes.push_back(
            {stroke.wire_diameter_mm, stroke.speed_mm_per_s, path_of(stroke, design), stroke.tool});
    }
    std::vector<StrokeGroup> ordered;
    ordered.reserve(groups.size());
    for (auto& [pours, group] : groups) ordered.push_back(std::move(group));
    return ordered;
}

int bar_count(const Design& design) {
    const double usable_mm = design.mould.length_mm - 2 * design.cut.trim_mm;
    // The tiny allowance keeps 11 bars of 24.545454 mm in 270 mm.
    return std::max(0, static_cast<int>(std::floor(usable_mm / design.cut.bar_thickness_mm + 1e-6)));
}

double bar_face_z_mm(const Design& design, int bar) {
    return design.cut.trim_mm + (bar - 1) * design.cut.bar_thickness_mm;
}

std::vector<double> pour_areas_mm2(const Design& design) {
    auto areas = batter_areas_mm2(design);
    areas.resize(design.pours.size());
    return areas;
}

std::vector<double> spooned_areas_mm2(const Design& design) {
    if (design.top.spooned.empty()) return {};
    const auto areas = batter_areas_mm2(design);
    return {areas.begin() + static_cast<std::ptrdiff_t>(design.pours.size()), areas.end()};
}

double top_yield_stress_pa(const Design& design) {
    const std::string& highest =
        design.top.spooned.empty() ? design.pours.back().portion : design.top.spooned.back().portion;
    const Portion* portion = find_portion(design, highest);
    const auto own = portion ? rheology_of(*portion, design) : design.batter.rheology();
    return design.top.firmed_yield_stress_pa.value_or(own.yield_stress_pa);
}

bool shows_top(const Design& design) {
    const auto& scattered = design.inclusions.scattered;
    return !design.top.plain() ||
           std::any_of(scattered.begin(), scattered.end(), [](const Scattered& bits) { return bits.on_top; });
}

double line_area_mm2(const Design& design, const Pour& pour) {
    return pour.sifted_over ? pour.sifted_over->thickness_mm * design.mould.width_mm : 0;
}

std::size_t end_of_group(const Design& design, std::size_t first) {
    std::size_t end = first + 1;
    while (end < design.pours.size() && design.pours[end].with_previous) ++end;
    return end;
}

double holding_yield_stress_pa(const Design& design, const Pour& pour) {
    return pour.firmed_yield_stress_pa.value_or(rheology_of(pour, design).yield_stress_pa);
}

const std::vector<std::string>& manner_names() {
    static const std::vector<std::string> names{"laid",   "free-fall", "down-the-wall",
                                                "tilted", "hills",     "side-by-side"};
    return names;
}

batter::Rheology rheology_of(const Portion& portion, const Design& design) {
    batter::Rheology rheology =
        portion.trace ? batter::rheology_of(*portion.trace) : design.batter.rheology();
    rheology.consistency_pa_sn *= portion.times_as_thick;
    rheology.yield_stress_pa *= portion.times_as_thick;
    return rheology;
}

batter::Rheology rheology_of(const Pour& pour, const Design& design) {
    const Portion* portion = find_portion(design, pour.portion);
    return portion ? rheology_of(*portion, design) : design.batter.rheology();
}

batter::Rheology shared_rheology(const Design& design) {
    return design.portions.empty() ? design.batter.rheology() : rheology_of(design.portions.front(), design);
}

bool portions_differ(const Design& design) {
    return std::any_of(design.portions.begin(), design.portions.end(), [&](const Portion& portion) {
        return !(rheology_of(portion, design) == rheology_of(design.portions.front(), design));
    });
}

const Portion* find_portion(const Design& design, const std::string& id) {
    for (const Portion& portion : design.portions)
        if (portion.id == id) return &portion;
    return nullptr;
}

std::size_t portion_index(const Design& design, const std::string& id) {
    const Portion* found = find_portion(design, id);
    return found ? static_cast<std::size_t>(found - design.portions.data()) : design.portions.size();
}

}  // namespace foreslice::design
