#include "studio/session/wire_edits.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "design/limits.h"
#include "flow/tool.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;
constexpr double above_level_mm = 40;  // points may lie so far up in the air

double to_half(double mm) {
    return std::round(2 * mm) / 2;
}

design::Waypoints* points_of(design::Design& design, std::size_t stroke) {
    return stroke < design.strokes.size() ? std::get_if<design::Waypoints>(&design.strokes[stroke].path)
                                          : nullptr;
}

Vec2 inside(Vec2 at, const design::Design& design) {
    return {std::clamp(to_half(at.x), 0.0, design.mould.width_mm),
            std::clamp(to_half(at.y), 0.0, design.mould.fill_mm + above_level_mm)};
}

double distance(Vec2 point, Vec2 a, Vec2 b) {
    const Vec2 along = b - a;
    const double square = dot(along, along);
    const double share = square > 0 ? std::clamp(dot(point - a, along) / square, 0.0, 1.0) : 0;
    return length(point - (a + share * along));
}

void keep_needed(const std::vector<Vec2>& points, std::size_t first, std::size_t last, double within,
                 std::vector<bool>& kept) {
    std::vector<std::pair<std::size_t, std::size_t>> pieces{{first, last}};
    while (!pieces.empty()) {
        const auto [from, to] = pieces.back();
        pieces.pop_back();
        double most = within;
        std::size_t farthest = from;
        for (std::size_t i = from + 1; i < to; ++i)
            if (const double off = distance(points[i], points[from], points[to]); off > most) {
                most = off;
                farthest = i;
            }
        if (farthest == from) continue;
        kept[farthest] = true;
        pieces.emplace_back(from, farthest);
        pieces.emplace_back(farthest, to);
    }
}

}  // namespace

std::vector<Vec2> simplified(const std::vector<Vec2>& points, double within) {
    if (points.size() < 3) return points;
    std::vector<bool> kept(points.size(), false);
    kept.front() = kept.back() = true;
    keep_needed(points, 0, points.size() - 1, within, kept);
    std::vector<Vec2> out;
    for (std::size_t i = 0; i < points.size(); ++i)
        if (kept[i]) out.push_back(points[i]);
    return out;
}

design::Design with_pass_at(design::Design design, std::size_t stroke, std::size_t pass, double x_mm) {
    if (stroke >= design.strokes.size()) return design;
    auto* passes = std::get_if<design::Passes>(&design.strokes[stroke].path);
    if (!passes || pass >= static_cast<std::size_t>(passes->count)) return design;
    const double width = design.mould.width_mm;
    const double from_start = passes->start == design::Side::left ? x_mm : width - x_mm;
    const bool last = pass + 1 == static_cast<std::size_t>(passes->count);
    // So that all the passes still stand side by side between the margins.
    const double least_row = limits::pass_spacing_mm.least * std::max(1, passes->count - 1);
    const double most_margin = std::floor(width - least_row) / 2 - 0.5;
    const auto margin_at = [&](double mm) {
        return std::clamp(to_half(mm), limits::pass_margin_mm.least, std::max(1.0, most_margin));
    };
    if (pass == 0) {
        passes->margin_mm = margin_at(from_start);
    } else if (last && !passes->spacing_mm) {
        passes->margin_mm = margin_at(width - from_start);
    } else {
        const double room =
            (width - 2 * limits::pass_margin_mm.least - passes->margin_mm) / std::max(1, passes->count - 1);
        const double spacing = (from_start - passes->margin_mm) / static_cast<double>(pass);
        passes->spacing_mm = std::clamp(std::round(10 * spacing) / 10, limits::pass_spacing_mm.least,
                                        std::max(limits::pass_spacing_mm.least, room));
    }
    return design;
}

design::Design with_turns_at(design::Design design, std::size_t stroke, bool lower, double y_mm) {
    if (stroke >= design.strokes.size()) return design;
    auto& target = design.strokes[stroke];
    const flow::ToolShape shape(flow::Stroke{target.wire_diameter_mm, 1, {}, target.tool});
    const double level = design::level_of_mm(target, design);
    const double least_floor_mm = std::ceil(shape.radius_mm() / 2) / 2;  // what the tool needs to pass
    const double floor_mm =
        std::clamp(to_half(y_mm - shape.below_mm()), least_floor_mm, std::max(least_floor_mm, level / 2));
    const double top_mm = std::clamp(to_half(level - shape.above_mm() - y_mm), limits::top_clearance_mm.least,
                                     std::min(limits::top_clearance_mm.most, level / 2));
    std::visit(
        [&](auto& way) {
            if constexpr (requires { way.floor_clearance_mm; }) {
                if (lower)
                    way.floor_clearance_mm = floor_mm;
                else
                    way.top_clearance_mm = top_mm;
            }
        },
        target.path);
    return design;
}

design::Design with_drawn_way(design::Design design, std::size_t stroke, const std::vector<Vec2>& drawn_mm,
                              double within_mm) {
    if (stroke >= design.strokes.size()) return design;
    design::Waypoints way;
    for (const Vec2 point : simplified(drawn_mm, within_mm)) {
        const Vec2 at = inside(point, design);
        if (way.points_mm.empty() || !(way.points_mm.back() == at)) way.points_mm.push_back(at);
    }
    if (way.points_mm.size() < 2) return design;
    design.strokes[stroke].path = std::move(way);
    return design;
}

design::Design with_point(design::Design design, std::size_t stroke, std::size_t after, Vec2 at_mm) {
    auto* way = points_of(design, stroke);
    if (!way || after >= way->points_mm.size()) return design;
    way->points_mm.insert(way->points_mm.begin() + static_cast<std::ptrdiff_t>(after) + 1,
                          inside(at_mm, design));
    return design;
}

design::Design without_point(design::Design design, std::size_t stroke, std::size_t point) {
    auto* way = points_of(design, stroke);
    if (!way || point >= way->points_mm.size() || way->points_mm.size() <= 2) return design;
    way->points_mm.erase(way->points_mm.begin() + static_cast<std::ptrdiff_t>(point));
    return design;
}

design::Design with_point_at(design::Design design, std::size_t stroke, std::size_t point, Vec2 at_mm) {
    auto* way = points_of(design, stroke);
    if (!way || point >= way->points_mm.size()) return design;
    way->points_mm[point] = inside(at_mm, design);
    return design;
}

}  // namespace foreslice::studio
