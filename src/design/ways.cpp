#include "design/internal/ways.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "design/limits.h"
#include "flow/tool.h"

namespace foreslice::design {
namespace {

constexpr int points_a_loop = 32;

flow::ToolShape shape_of(const Stroke& stroke) {
    return flow::ToolShape(flow::Stroke{stroke.wire_diameter_mm, stroke.speed_mm_per_s, {}, stroke.tool});
}

void mirror(std::vector<Vec2>& path, const Design& design) {
    for (Vec2& point : path) point.x = design.mould.width_mm - point.x;
}

}  // namespace

Heights heights_of(double floor_clearance, double top_clearance, const Stroke& stroke, const Design& design) {
    const auto shape = shape_of(stroke);
    return {height_in_air_mm(stroke, design), level_of_mm(stroke, design) - top_clearance - shape.above_mm(),
            floor_clearance + shape.below_mm()};
}

double half_row_mm(const Stroke& stroke) {
    const auto shape = shape_of(stroke);
    return shape.right_mm() - shape.radius_mm();
}

double height_in_air_mm(const Stroke& stroke, const Design& design) {
    return level_of_mm(stroke, design) + shape_of(stroke).below_mm() + 1;
}

std::vector<Vec2> path_of_zigzag(const Zigzag& zigzag, const Stroke& stroke, const Design& design) {
    const Heights heights = heights_of(zigzag.floor_clearance_mm, zigzag.top_clearance_mm, stroke, design);
    const double left = zigzag.margin_mm + half_row_mm(stroke), right = design.mould.width_mm - left;
    std::vector<Vec2> path{{left, heights.in_air_mm}};
    for (int k = 0; k <= zigzag.count; ++k)
        path.push_back({k % 2 == 0 ? left : right, heights.lower_mm + (heights.upper_mm - heights.lower_mm) *
                                                                          k / std::max(1, zigzag.count)});
    path.push_back({path.back().x, heights.in_air_mm});
    if (zigzag.start == Side::right) mirror(path, design);
    return path;
}

std::vector<Vec2> path_of_loops(const Loops& loops, const Stroke& stroke, const Design& design) {
    const Heights heights = heights_of(loops.floor_clearance_mm, loops.top_clearance_mm, stroke, design);
    const double left = loops.margin_mm + half_row_mm(stroke), span = design.mould.width_mm - 2 * left;
    const int count = std::max(1, loops.count);
    const double width = loops.width_mm.value_or(span / count);
    const double middle = 0.5 * (heights.lower_mm + heights.upper_mm);
    const double half_height = 0.5 * (heights.upper_mm - heights.lower_mm);
    const double turns_across = loops.shape == LoopShape::loop ? 1 : 2;
    std::vector<Vec2> path;
    for (int k = 0; k < count; ++k) {
        const double x = count == 1 ? left + span / 2 : left + width / 2 + (span - width) * k / (count - 1);
        if (k == 0) path.push_back({x, heights.in_air_mm});
        for (int p = 0; p <= points_a_loop; ++p) {
            const double t = 2 * std::numbers::pi * p / points_a_loop;
            path.push_back({x + width / 2 * std::sin(turns_across * t), middle + half_height * std::cos(t)});
        }
    }
    path.push_back({path.back().x, heights.in_air_mm});
    if (loops.start == Side::right) mirror(path, design);
    return path;
}

Room room_of(const Stroke& stroke, const Design& design) {
    const auto shape = shape_of(stroke);
    const double gap = limits::least_gap_per_radius * shape.radius_mm();
    return {shape.left_mm() + gap, design.mould.width_mm - shape.right_mm() - gap, shape.below_mm() + gap};
}

std::vector<Vec2> path_of(const Stroke& stroke, const Design& design) {
    const Room room = room_of(stroke, design);
    std::vector<Vec2> path = wanted_path_of(stroke, design);
    for (Vec2& point : path) {
        if (point.x < room.least_x_mm - touch_mm) point.x = room.least_x_mm;
        if (point.x > room.most_x_mm + touch_mm) point.x = room.most_x_mm;
        if (point.y < room.least_y_mm - touch_mm) point.y = room.least_y_mm;
    }
    return path;
}

PathCorrection correction_of(const Stroke& stroke, const Design& design) {
    const auto wanted = wanted_path_of(stroke, design), taken = path_of(stroke, design);
    PathCorrection out;
    for (std::size_t k = 0; k < wanted.size(); ++k) {
        const Vec2 moved = taken[k] - wanted[k];
        if (moved == Vec2{}) continue;
        ++out.points;
        out.from_wall = out.from_wall || moved.x != 0;
        out.from_floor = out.from_floor || moved.y != 0;
        out.most_mm = std::max(out.most_mm, length(moved));
    }
    return out;
}

}  // namespace foreslice::design
