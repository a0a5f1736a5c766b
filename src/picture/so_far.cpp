#include "picture/so_far.h"

#include <algorithm>
#include <map>
#include <string>
#include <utility>

namespace foreslice::picture {
namespace {

constexpr double least_way_mm = 0.5;  // less than this is no movement yet

double way_mm(const flow::Stroke& stroke) {
    double sum = 0;
    for (std::size_t i = 1; i < stroke.path_mm.size(); ++i)
        sum += length(stroke.path_mm[i] - stroke.path_mm[i - 1]);
    return sum;
}

void shorten(std::vector<Vec2>& path, double way) {
    for (std::size_t i = 1; i < path.size(); ++i) {
        const double piece = length(path[i] - path[i - 1]);
        if (piece >= way) {
            if (piece > 0) path[i] = path[i - 1] + (way / piece) * (path[i] - path[i - 1]);
            path.resize(i + 1);
            return;
        }
        way -= piece;
    }
}

double percent(double part, double whole) {
    return std::min(100.0, 100 * part / whole);  // round-off may go beyond
}

// Embeds go in when all is poured, and the top is worked after that.
void leave_out_later_things(design::Design& out) {
    out.top = {};
    out.inclusions.embeds.clear();
    std::erase_if(out.inclusions.scattered, [&](const design::Scattered& one) {
        const bool poured = std::any_of(out.portions.begin(), out.portions.end(),
                                        [&](const auto& portion) { return portion.id == one.portion; });
        return one.on_top || !poured || one.pour.value_or(1) > static_cast<int>(out.pours.size());
    });
}

}  // namespace

std::vector<flow::Stroke> strokes_so_far(std::vector<flow::Stroke> strokes, double path_share) {
    if (path_share >= 1) return strokes;
    double left = 0;
    for (const auto& stroke : strokes) left += way_mm(stroke);
    left *= std::max(0.0, path_share);
    std::vector<flow::Stroke> begun;
    for (auto& stroke : strokes) {
        if (left < least_way_mm) break;
        const double whole = way_mm(stroke);
        if (whole > left) shorten(stroke.path_mm, left);
        left -= whole;
        begun.push_back(std::move(stroke));
    }
    return begun;
}

design::Design design_so_far(const design::Design& design, std::size_t pours) {
    pours = std::min(pours, design.pours.size());
    while (pours < design.pours.size() && design.pours[pours].with_previous) ++pours;
    if (pours == design.pours.size() || pours == 0) return design;
    const auto areas_mm2 = design::pour_areas_mm2(design);
    double whole_mm2 = 0;
    std::map<std::string, double> of_portion;
    for (std::size_t i = 0; i < pours; ++i) {
        whole_mm2 += areas_mm2[i];
        of_portion[design.pours[i].portion] += areas_mm2[i];
    }
    design::Design out = design;
    out.mould.fill_mm = design::level_after_mm(design, pours);
    out.pours.resize(pours);
    std::erase_if(out.portions, [&](const auto& portion) { return !of_portion.contains(portion.id); });
    for (auto& portion : out.portions) portion.share_percent = percent(of_portion[portion.id], whole_mm2);
    std::map<std::string, std::size_t> last;
    for (std::size_t i = 0; i < pours; ++i) last[out.pours[i].portion] = i;
    for (std::size_t i = 0; i < pours; ++i) {
        auto& pour = out.pours[i];
        const bool rest = last[pour.portion] == i;
        pour.part_percent =
            rest ? std::nullopt : std::optional(percent(areas_mm2[i], of_portion[pour.portion]));
    }
    std::erase_if(out.strokes, [&](const auto& stroke) {
        return !stroke.after_pours || design::pours_before(stroke, design) > pours;
    });
    leave_out_later_things(out);
    return out;
}

}  // namespace foreslice::picture
