// The wire as conditions on the stream function: at markers on a ring just inside the disc the batter moves
// with the wire. The kernel makes the ring act like a slightly larger disc; with markers 1.7 h apart, a ring
// 0.26 h + 0.42 h^2/a inside the true radius a (fitted to exact drags) gives the exact drag to about 0.5 %
// from a = 2.2 h on, wherever the wire lies in its cell (tests/published/flow_drag.cpp).
#pragma once

#include <vector>

#include "flow/box_solver.h"
#include "foundation/vec2.h"

namespace foreslice::flow {

struct Wire {
    Vec2 centre_mm;
    double radius_mm = 3;
    Vec2 velocity_mm_per_s;
};

/// What a wire at one place asks of the box: conditions (empty when no marker is in the batter), their target
/// velocities, and the stream function on the top while the wire passes through it.
struct WireConditions {
    bool in_batter = false;
    Conditions conditions;
    Eigen::VectorXd targets;       ///< already corrected for the known top values
    std::vector<bool> horizontal;  ///< a condition: true for the x component
    std::vector<double> top_psi;   ///< nx + 1 values, mm^2/s
};

WireConditions wire_conditions(const BoxSolver& solver, const Wire& wire);

/// Stream function along the top while the wire's disc cuts it: the chord moves with the wire, the rest of
/// the surface rises or sinks evenly by what the wire displaces. Zero when the disc is wholly in or out.
std::vector<double> top_stream_function(const Grid& grid, const Wire& wire);

}  // namespace foreslice::flow
