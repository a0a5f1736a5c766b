#include "studio/session/layer_edits.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>

#include "design/limits.h"
#include "studio/session/pour_edits.h"

namespace foreslice::studio {
namespace {

double to_hundredth(double value) {
    return std::round(value * 100) / 100;
}

// In hundredths of a percent that add up to 100 exactly: the largest takes what rounding leaves.
void set_shares(std::vector<design::Portion>& portions, const std::map<std::string, double>& areas,
                double whole) {
    double left = 100;
    design::Portion* largest = nullptr;
    for (auto& portion : portions) {
        const auto found = areas.find(portion.id);
        portion.share_percent = found == areas.end() ? 0 : to_hundredth(100 * found->second / whole);
        left -= portion.share_percent;
        if (!largest || portion.share_percent > largest->share_percent) largest = &portion;
    }
    if (largest) largest->share_percent = to_hundredth(largest->share_percent + left);
}

}  // namespace

design::Design with_areas(design::Design design, const std::vector<double>& areas_mm2) {
    if (areas_mm2.size() != design.pours.size() || areas_mm2.empty()) return design;
    double whole = 0;
    std::map<std::string, double> of_portion;
    std::map<std::string, std::size_t> last;
    for (std::size_t i = 0; i < areas_mm2.size(); ++i) {
        whole += areas_mm2[i];
        of_portion[design.pours[i].portion] += areas_mm2[i];
        last[design.pours[i].portion] = i;
    }
    if (!(whole > 0)) return design;
    set_shares(design.portions, of_portion, whole);
    for (std::size_t i = 0; i < areas_mm2.size(); ++i) {
        auto& pour = design.pours[i];
        pour.part_percent.reset();  // the last pour of a portion takes what its others leave
        if (last[pour.portion] != i)
            pour.part_percent = std::max(design::limits::part_percent.least,
                                         to_hundredth(100 * areas_mm2[i] / of_portion[pour.portion]));
    }
    return design;
}

design::Design with_edge_moved(design::Design design, std::size_t lower, std::size_t upper, double up_mm) {
    if (lower >= design.pours.size() || upper >= design.pours.size() || lower == upper) return design;
    auto areas = design::pour_areas_mm2(design);
    const double least = least_layer_mm * design.mould.width_mm;
    const double most_up = std::max(0.0, areas[upper] - least),
                 most_down = std::max(0.0, areas[lower] - least);
    const double moved = std::clamp(up_mm * design.mould.width_mm, -most_down, most_up);
    areas[lower] += moved;
    areas[upper] -= moved;
    return with_areas(std::move(design), areas);
}

design::Design with_level_moved(design::Design design, double up_mm) {
    if (design.pours.empty()) return design;
    auto areas = design::pour_areas_mm2(design);
    const double top_mm = areas.back() / design.mould.width_mm;
    const double least_fill = std::max(design::limits::fill_mm.least,
                                       design.mould.fill_mm - std::max(0.0, top_mm - least_layer_mm));
    const double fill =
        std::clamp(std::round(2 * (design.mould.fill_mm + up_mm)) / 2, least_fill, design.mould.height_mm);
    areas.back() += (fill - design.mould.fill_mm) * design.mould.width_mm;
    if (!(areas.back() > 0)) return design;
    design.mould.fill_mm = fill;
    return with_areas(std::move(design), areas);
}

design::Design with_pour_of(design::Design design, std::size_t pour, const std::string& portion) {
    if (pour >= design.pours.size() || !design::find_portion(design, portion)) return design;
    if (design.pours[pour].portion == portion) return design;
    // Depths stay as they are: what changes is the colour that lies there.
    const auto areas = design::pour_areas_mm2(design);
    design.pours[pour].portion = portion;
    design = with_areas(std::move(design), areas);
    // A portion that is no longer poured would be batter left over.
    if (design.portions.size() > 1)
        std::erase_if(design.portions, [&](const auto& one) {
            return one.share_percent == 0 && one.id != portion &&
                   std::none_of(design.pours.begin(), design.pours.end(),
                                [&](const auto& other) { return other.portion == one.id; });
        });
    return with_pours_mended(std::move(design));
}

design::Design with_fall_at(design::Design design, std::size_t pour, std::size_t place, double x_mm) {
    if (pour >= design.pours.size()) return design;
    auto& at_mm = design.pours[pour].fall.at_mm;
    if (place >= std::max<std::size_t>(1, at_mm.size())) return design;
    if (at_mm.empty()) at_mm.push_back(design.mould.width_mm / 2);
    at_mm[place] = std::clamp(std::round(2 * x_mm) / 2, 0.0, design.mould.width_mm);
    return design;
}

}  // namespace foreslice::studio
