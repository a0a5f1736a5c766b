// Where the wire goes: the generator of straight passes, and the way in and out through the top.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "design/design.h"
#include "design/internal/ways.h"

namespace foreslice::design {
namespace {

std::vector<Vec2> path_of_passes(const Passes& passes, const Stroke& stroke, const Design& design) {
    const Heights heights = heights_of(passes.floor_clearance_mm, passes.top_clearance_mm, stroke, design);
    Passes row = passes;
    row.margin_mm += half_row_mm(stroke);
    const std::vector<double> xs = pass_positions_mm(row, design);
    // A slanted pass stands at its place half way up.
    const double lean = passes.slant_deg == 0 ? 0
                                              : 0.5 * (passes.start == Side::right ? -1 : 1) *
                                                    (heights.upper_mm - heights.lower_mm) *
                                                    std::tan(passes.slant_deg * std::numbers::pi / 180);
    const auto above = [&](std::size_t i, double y) { return Vec2{xs[i] - lean, y}; };
    const auto below = [&](std::size_t i) { return Vec2{xs[i] + lean, heights.lower_mm}; };
    std::vector<Vec2> path{above(0, heights.in_air_mm)};
    const auto enter = [&](std::size_t i) {  // a slanted line begins where the batter does
        if (lean != 0) path.push_back(above(i, heights.upper_mm));
    };
    const auto count = static_cast<std::size_t>(std::max(1, passes.count));
    enter(0);
    for (std::size_t i = 0; i < count; ++i) {
        const bool down = i % 2 == 0, last = i + 1 == count;
        if (i > 0) path.push_back(down ? above(i, heights.upper_mm) : below(i));
        if (!down && last) enter(i);
        path.push_back(down ? below(i) : above(i, last ? heights.in_air_mm : heights.upper_mm));
    }
    if (xs.size() > count) {  // the lift of an odd count
        path.push_back(below(count));
        enter(count);
        path.push_back(above(count, heights.in_air_mm));
    }
    return path;
}

std::vector<Vec2> path_of_waypoints(const Waypoints& waypoints, const Stroke& stroke, const Design& design) {
    const double in_air = height_in_air_mm(stroke, design);
    std::vector<Vec2> path;
    const auto add = [&path](Vec2 point) {
        if (path.empty() || !(path.back() == point)) path.push_back(point);
    };
    const auto& points = waypoints.points_mm;
    if (!points.empty() && points.front().y < in_air) add({points.front().x, in_air});
    for (const Vec2 point : points) add(point);
    if (!points.empty() && points.back().y < in_air) add({points.back().x, in_air});
    return path;
}

}  // namespace

double pass_spacing_mm(const Passes& passes, const Design& design) {
    if (passes.spacing_mm) return *passes.spacing_mm;
    const double between_margins = design.mould.width_mm - 2 * passes.margin_mm;
    return passes.count > 1 ? between_margins / (passes.count - 1) : between_margins / 2;
}

std::vector<double> pass_positions_mm(const Passes& passes, const Design& design) {
    const double width = design.mould.width_mm;
    const double spacing = pass_spacing_mm(passes, design);
    const int count = std::max(1, passes.count);
    const bool lone = count == 1 && !passes.spacing_mm;
    std::vector<double> xs;
    xs.reserve(static_cast<std::size_t>(count) + 1);
    for (int i = 0; i < count; ++i) xs.push_back(lone ? width / 2 : passes.margin_mm + i * spacing);
    if (count % 2 == 1) xs.push_back(xs.back() + (count == 1 ? spacing / 2 : -spacing / 2));
    if (passes.start == Side::right)
        for (double& x : xs) x = width - x;
    return xs;
}

std::vector<Vec2> wanted_path_of(const Stroke& stroke, const Design& design) {
    if (const auto* passes = std::get_if<Passes>(&stroke.path))
        return path_of_passes(*passes, stroke, design);
    if (const auto* zigzag = std::get_if<Zigzag>(&stroke.path))
        return path_of_zigzag(*zigzag, stroke, design);
    if (const auto* loops = std::get_if<Loops>(&stroke.path)) return path_of_loops(*loops, stroke, design);
    return path_of_waypoints(std::get<Waypoints>(stroke.path), stroke, design);
}

}  // namespace foreslice::design
