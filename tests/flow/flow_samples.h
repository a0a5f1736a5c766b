// Strokes, fields and sums that the flow room's tests share.
#pragma once

#include <memory>
#include <vector>

#include "flow/creeping_flow.h"
#include "flow/flow.h"
#include "flow/leg_flow.h"
#include "flow/strain.h"

namespace foreslice::testing {

/// Vertical passes of a wire at `count` places spread evenly between margins of 8 mm, entering and leaving
/// through the top, crossing over 4 mm above the floor and 8 mm below the top; an odd count is lifted out
/// half a spacing back.
flow::Stroke passes(const flow::Box& box, int count, double wire_diameter_mm, double speed_mm_per_s = 50);

/// All nodes from the interior ones, zero on the four sides.
std::vector<double> with_sides(const flow::Grid& grid, const std::vector<double>& interior);

/// Numbers in [-1, 1), the same on every machine.
std::vector<double> scattered(std::size_t count, unsigned seed);

/// The flow of a wire on a fresh solver, closely converged when the batter is not Newtonian.
flow::PositionFlow closely_solved(const flow::Box& box, int cells_across, const batter::Rheology& rheology,
                                  const flow::Wire& wire, double tolerance = 1e-4);

/// A leg in a Newtonian batter.
flow::LegFlow newtonian_leg(const flow::Box& box, int cells_across, Vec2 start, Vec2 end, double radius_mm,
                            double position_spacing_mm = 2);

/// Shares of the face that came from `layers` equal layers, by a lattice of about the given pitch.
/// Throws std::logic_error at an origin outside the box.
std::vector<double> shares_of_layers(const flow::FlowMap& map, const flow::Box& box, int layers,
                                     double pitch_mm);

/// A points file's worth of places: a lattice of the given pitch over the box, edges included.
std::vector<Vec2> lattice(const flow::Box& box, double pitch_mm);

}  // namespace foreslice::testing
