// The wire's way off its path at one place along the loaf. A small seeded deformation T of the cross-section
// that keeps areas, walls, floor and top takes the path as meant to the path as drawn. If M is the flow map
// of the path as meant, T M T^-1 is nearly that of the path as drawn: exact where T is a shift over the reach
// of the wire, and area-preserving always. So all bars of a loaf share one flow.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "flow/flow.h"
#include "foundation/vec2.h"

namespace foreslice::picture {

class HandWander {
  public:
    /// `wander_mm`: standard deviation of the way off in the middle of the box. `z_mm`: place along the loaf;
    /// what is 25 mm apart is alike. Same seed, same wander.
    HandWander(const flow::Box& box, std::uint64_t seed, double wander_mm, double z_mm);

    /// T: from a place of the path as meant to the path as drawn.
    Vec2 forth(Vec2 point_mm) const { return carried(point_mm, 1); }
    /// Its inverse.
    Vec2 back(Vec2 point_mm) const { return carried(point_mm, -1); }

  private:
    Vec2 carried(Vec2 point_mm, double sense) const;
    Vec2 velocity(Vec2 point_mm) const;

    flow::Box box_;
    int columns_, rows_;
    Vec2 step_mm_;
    std::vector<double> psi_mm2_;  ///< at nodes, with a rim of one beyond the box on every side
};

/// The map of the path as the wandering hand drew it; `map` unchanged when `wander_mm` is 0.
std::shared_ptr<const flow::FlowMap> wandered(std::shared_ptr<const flow::FlowMap> map, const flow::Box& box,
                                              std::uint64_t seed, double wander_mm, double z_mm);

}  // namespace foreslice::picture
