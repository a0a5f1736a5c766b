#include "studio/session/stroke_order.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "design/limits.h"
#include "flow/tool.h"

namespace foreslice::studio {
namespace {

constexpr double least_way_mm = 4;  // up and down, or it is no stroke

double height_of_tool_mm(const design::Stroke& stroke) {
    const flow::ToolShape shape(flow::Stroke{stroke.wire_diameter_mm, 1, {}, stroke.tool});
    return shape.below_mm() + shape.above_mm();
}

// Half of what is free is left for the way.
void fit_clearances(design::Stroke& stroke, double free_mm) {
    const auto fit = [&](auto& way) {
        if constexpr (requires { way.floor_clearance_mm; }) {
            const double both_mm = way.floor_clearance_mm + way.top_clearance_mm;
            if (free_mm - both_mm >= least_way_mm / 2) return;
            for (double* clearance_mm : {&way.floor_clearance_mm, &way.top_clearance_mm})
                *clearance_mm = std::floor(*clearance_mm * free_mm / (2 * both_mm) * 10) / 10;
        }
    };
    std::visit(fit, stroke.path);
}

}  // namespace

std::vector<std::size_t> moments_for_stroke(const design::Design& design, std::size_t stroke) {
    std::vector<std::size_t> moments;
    if (stroke >= design.strokes.size()) return moments;
    const std::size_t all = design.pours.size();
    const double deep_mm =
        std::max(design::limits::fill_mm.least, height_of_tool_mm(design.strokes[stroke]) + least_way_mm);
    for (std::size_t pours = 1; pours < all; ++pours)
        if (!design.pours[pours].with_previous && design::level_after_mm(design, pours) >= deep_mm)
            moments.push_back(pours);
    moments.push_back(all);
    return moments;
}

design::Design with_stroke_after(design::Design design, std::size_t& stroke, std::size_t pours) {
    const auto moments = moments_for_stroke(design, stroke);
    if (!std::binary_search(moments.begin(), moments.end(), pours)) return design;
    design::Stroke moved = std::move(design.strokes[stroke]);
    design.strokes.erase(design.strokes.begin() + static_cast<std::ptrdiff_t>(stroke));
    moved.after_pours.reset();
    if (pours < design.pours.size()) moved.after_pours = static_cast<int>(pours);
    fit_clearances(moved, design::level_after_mm(design, pours) - height_of_tool_mm(moved));
    // The others keep their order among themselves, also where a file holds them in another than the hand's.
    std::stable_sort(design.strokes.begin(), design.strokes.end(),
                     [&](const design::Stroke& a, const design::Stroke& b) {
                         return design::pours_before(a, design) < design::pours_before(b, design);
                     });
    const auto later = std::find_if(design.strokes.begin(), design.strokes.end(), [&](const auto& other) {
        return design::pours_before(other, design) > pours;
    });
    stroke = static_cast<std::size_t>(later - design.strokes.begin());
    design.strokes.insert(later, std::move(moved));
    return design;
}

bool strokes_can_swap(const design::Design& design, std::size_t earlier) {
    return earlier + 1 < design.strokes.size() &&
           design::pours_before(design.strokes[earlier], design) ==
               design::pours_before(design.strokes[earlier + 1], design);
}

design::Design with_strokes_swapped(design::Design design, std::size_t earlier) {
    if (strokes_can_swap(design, earlier)) std::swap(design.strokes[earlier], design.strokes[earlier + 1]);
    return design;
}

}  // namespace foreslice::studio
