// Velocities beside a comb or a strip: as beside one wire (leg_flow.cpp), with the nearest body for the wire.
#include <cmath>

#include "flow/dense_kernels.h"
#include "flow/leg_flow.h"

namespace foreslice::flow {
namespace {

constexpr double skin_cells = 2;  // as for one wire

}  // namespace

// Neighbouring wires of a comb share what lies between them.
double LegFlow::tool_skin_mm(Vec2 centre) const {
    double room = gap_to_walls(box_, centre, tool_);
    if (tool_.cores().size() > 1)
        room = std::min(room, tool_.cores()[1].a.x - tool_.cores()[0].a.x - 2 * radius_mm_);
    return std::min(skin_cells * cell_mm_, 0.5 * room);
}

void LegFlow::tool_velocities(double travel, const Vec2* points, int count, Vec2* out) const {
    const Vec2 centre = start_ + travel * direction_;
    const Between near = between(travel);
    const bool wet = !near.record[0]->field.zero() && !near.record[1]->field.zero();
    const double skin = tool_skin_mm(centre), inner = wet ? radius_mm_ * radius_mm_ : 0;
    const bool has_skin = wet && tool_.round() && skin > 0.1 * cell_mm_;
    const double outer = has_skin ? (radius_mm_ + skin) * (radius_mm_ + skin) : 0;
    Group grid;
    for (int k = 0; k < count; ++k) grid.add(k, points[k]);
    grid_velocities(travel, near, grid);
    grid.spread(out);
    const double level_rate =
        (near.share[0] * near.record[0]->level_rate + near.share[1] * near.record[1]->level_rate) /
        box_.height_mm;
    for (int k = 0; k < count; ++k) {
        const auto body = tool_.nearest(points[k] - centre);
        if (body.square < inner) {
            out[k] = direction_;
            continue;
        }
        const double edge_y = (radius_mm_ + skin) * body.from_core.y / std::sqrt(body.square);
        if (body.square < outer && centre.y + edge_y < box_.height_mm)
            out[k] = velocity_in_tool_skin(near, body, skin);
        out[k].y -= level_rate * points[k].y;
    }
}

// The cubic of LegFlow::velocity_in_skin, straight from the fields. Wires lie level with the tool's middle.
Vec2 LegFlow::velocity_in_tool_skin(const Between& near, const ToolShape::Nearest& body, double skin) const {
    const double r = std::sqrt(body.square), b = radius_mm_ + skin;
    const Vec2 radial = (1 / r) * body.from_core, tangent{-radial.y, radial.x};
    Edge edge;
    for (int k = 0; k < 2; ++k) {
        const Record& record = *near.record[k];
        const Vec2 wire = start_ + record.travel_mm * direction_ + tool_.cores()[body.core].a;
        const auto psi = record.field.jet(wire + b * radial);
        const Vec2 gradient{psi.x + direction_.y, psi.y - direction_.x};
        const Vec2 bent{psi.xx * tangent.x + psi.xy * tangent.y, psi.xy * tangent.x + psi.yy * tangent.y};
        edge.value += near.share[k] * (psi.value - record.on_cores[body.core] -
                                       b * (direction_.x * radial.y - direction_.y * radial.x));
        edge.value_turn += near.share[k] * (b * dot(tangent, gradient));
        edge.slope += near.share[k] * (skin * dot(radial, gradient));
        edge.slope_turn += near.share[k] * (skin * (dot(tangent, gradient) + b * dot(radial, bent)));
    }
    const double t = (r - radius_mm_) / skin;
    const double h1 = t * t * (3 - 2 * t), h2 = t * t * (t - 1);
    const double h1_rate = 6 * t * (1 - t) / skin, h2_rate = t * (3 * t - 2) / skin;
    const double outward = (edge.value_turn * h1 + edge.slope_turn * h2) / r;
    const double around = -(edge.value * h1_rate + edge.slope * h2_rate);
    return direction_ + outward * radial + around * tangent;
}

}  // namespace foreslice::flow
