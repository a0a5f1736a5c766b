// Where the wire goes: the generator of straight passes, and the way in and out through the top.
#include <algorithm>

#include "design/design.h"

namespace foreslice::design {
namespace {

// Heights of the wire's centre, and where it turns; from the start side, not yet mirrored.
struct Frame {
    double in_air_mm;
    double upper_mm;
    double lower_mm;
};

Frame frame_of(const Passes& passes, const Stroke& stroke, const Design& design) {
    const double radius = stroke.wire_diameter_mm / 2;
    return {height_in_air_mm(stroke, design), level_of_mm(stroke, design) - passes.top_clearance_mm - radius,
            passes.floor_clearance_mm + radius};
}

std::vector<Vec2> path_of_passes(const Passes& passes, const Stroke& stroke, const Design& design) {
    const Frame frame = frame_of(passes, stroke, design);
    const std::vector<double> xs = pass_positions_mm(passes, design);
    std::vector<Vec2> path{{xs.front(), frame.in_air_mm}};
    const auto count = static_cast<std::size_t>(std::max(1, passes.count));
    for (std::size_t i = 0; i < count; ++i) {
        const bool down = i % 2 == 0;
        if (i > 0) path.push_back({xs[i], down ? frame.upper_mm : frame.lower_mm});
        const bool last = i + 1 == count;
        path.push_back({xs[i], down ? frame.lower_mm : last ? frame.in_air_mm : frame.upper_mm});
    }
    if (xs.size() > count) {  // the lift of an odd count
        path.push_back({xs.back(), frame.lower_mm});
        path.push_back({xs.back(), frame.in_air_mm});
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

double height_in_air_mm(const Stroke& stroke, const Design& design) {
    return level_of_mm(stroke, design) + stroke.wire_diameter_mm / 2 + 1;
}

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
    for (int i = 0; i < count; ++i) xs.push_back(lone ? width / 2 : passes.margin_mm + i * spacing);
    if (count % 2 == 1) xs.push_back(xs.back() + (count == 1 ? spacing / 2 : -spacing / 2));
    if (passes.start == Side::right)
        for (double& x : xs) x = width - x;
    return xs;
}

std::vector<Vec2> path_of(const Stroke& stroke, const Design& design) {
    if (const auto* passes = std::get_if<Passes>(&stroke.path))
        return path_of_passes(*passes, stroke, design);
    return path_of_waypoints(std::get<Waypoints>(stroke.path), stroke, design);
}

}  // namespace foreslice::design
