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
        if (body.square < outer && skin_holds(centre + tool_.cores()[body.core].a, body))
            out[k] = velocity_in_skin(travel, near, body, skin);
        out[k].y -= level_rate * points[k].y;
    }
}

}  // namespace foreslice::flow
