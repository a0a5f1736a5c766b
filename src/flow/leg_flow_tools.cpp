// Velocities beside a comb or a strip: as beside one wire (leg_flow.cpp), with the nearest body for the wire.
#include <cmath>

#include "flow/leg_flow.h"

namespace foreslice::flow {

void LegFlow::tool_velocities(const Moment& now, const Vec2* points, int count, Vec2* out) const {
    Group grid;
    for (int k = 0; k < count; ++k) grid.add(k, points[k]);
    grid_velocities(now, grid);
    grid.spread(out);
    for (int k = 0; k < count; ++k) {
        const auto body = tool_.nearest(points[k] - now.centre_mm);
        if (body.square < now.inner_mm2) {
            out[k] = direction_;
            continue;
        }
        const Vec2 wire = now.centre_mm + tool_.cores()[body.core].a;
        if (body.square < now.outer_mm2 && skin_holds(wire, body)) {
            const Hold hold = hold_at_top(wire, (1 / std::sqrt(body.square)) * body.from_core);
            out[k] = hold.share == 1 ? velocity_in_skin(in_skin(now, body))
                                     : loosened(now, body, points[k] - now.centre_mm, hold, out[k]);
        }
        out[k].y -= now.level_rate * points[k].y;
    }
}

}  // namespace foreslice::flow
