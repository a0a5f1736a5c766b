// The wire as conditions on the stream function: at markers on a ring just inside the disc the batter moves
// with the wire. The kernel makes the ring act like a slightly larger disc; with markers 1.7 h apart, a ring
// 0.26 h + 0.42 h^2/a inside the true radius a (fitted to exact drags) gives the exact drag to about 0.5 %
// from a = 2.2 h on, wherever the wire lies in its cell (tests/published/flow_drag.cpp). A comb is several
// rings. A strip has markers along its outline, inset likewise, or along its middle line when it is thinner
// than the grid resolves.
#pragma once

#include <vector>

#include "flow/box_solver.h"
#include "flow/tool.h"
#include "foundation/vec2.h"

namespace foreslice::flow {

struct Wire {
    Vec2 centre_mm;  ///< middle of the tool
    ToolShape tool;  ///< a bare radius (mm) is one round wire
    Vec2 velocity_mm_per_s;
};

/// What a wire at one place asks of the box: conditions (none when no marker is in the batter), their target
/// velocities, and the stream function on the top while the wire passes through it.
struct WireConditions {
    bool in_batter = false;
    Conditions conditions;
    const Conditions* any() const { return conditions.count() > 0 ? &conditions : nullptr; }
    Eigen::VectorXd targets;       ///< already corrected for the known top values
    std::vector<bool> horizontal;  ///< a condition: true for the x component
    std::vector<double> top_psi;   ///< nx + 1 values, mm^2/s
};

/// A place that moves with a given velocity.
struct Marker {
    Vec2 place_mm;
    Vec2 velocity_mm_per_s;
};

/// Places evenly round a circle, the spacing for which the inset below was fitted.
std::vector<Vec2> ring(const Grid& grid, Vec2 centre_mm, double ring_radius_mm);
/// How far inside a round body's surface its ring of markers lies.
double ring_inset_mm(const Grid& grid, double radius_mm);

/// Markers above the top let go, from so many cells below it on. `top_psi`: nx + 1 values.
WireConditions conditions_at(const BoxSolver& solver, const std::vector<Marker>& markers,
                             std::vector<double> top_psi, double letting_go_cells = 1);
WireConditions wire_conditions(const BoxSolver& solver, const Wire& wire);

// While the tool cuts the top, what it displaces lifts the level, and the box stays as high as the level at
// rest: heights in it are shares of the level. What keeps its share of the rising level rises in proportion
// to its height, which is no flow without divergence; the stream function carries all but that. In it the
// tool and the surface move faster upwards by the rise at their height.

/// How fast the level rises, mm/s: what the tool displaces over all of the batter. 0 when the tool is wholly
/// in or out.
double level_rise_mm_per_s(const Grid& grid, const Wire& wire);
/// The tool's velocity in the stream function: with the rise at the middle of its part in the batter.
Vec2 velocity_in_stream_mm_per_s(const Grid& grid, const Wire& wire);
/// Stream function along the top: the surface rises evenly by the rise of the level, and what the tool cuts
/// out of it takes up the rest. Zero when the tool is wholly in or out.
std::vector<double> top_stream_function(const Grid& grid, const Wire& wire);

}  // namespace foreslice::flow
