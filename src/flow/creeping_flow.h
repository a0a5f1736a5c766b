// The flow at one position of the wire: one solve for a Newtonian batter, the splitting method (splitting.h)
// for any other and for batters that differ from place to place.
#pragma once

#include <memory>
#include <utility>
#include <vector>

#include "batter/rheology.h"
#include "flow/box_solver.h"
#include "flow/splitting.h"
#include "flow/wire.h"

namespace foreslice::flow {

struct PositionFlow {
    std::vector<double> psi;  ///< mm^2/s, all nodes
    Vec2 force_n_per_m;       ///< that the hand applies to the wire
    int iterations = 0;
    double residual = 0;  ///< 0 for a Newtonian batter
    bool converged = true;
    bool in_batter = false;
};

class CreepingFlow {
  public:
    CreepingFlow(std::shared_ptr<const BoxSolver> solver, const batter::Rheology& rheology)
        : CreepingFlow(std::move(solver), std::vector{rheology}) {}
    /// Several batters (1 to 255); which lies where is for the state to say.
    CreepingFlow(std::shared_ptr<const BoxSolver> solver, std::vector<batter::Rheology> rheologies)
        : solver_(std::move(solver)), rheologies_(std::move(rheologies)) {}

    /// `state` may be empty (cold start) and is advanced; ignored for one Newtonian batter.
    PositionFlow solve(const Wire& wire, const SplitControl& control, SplitState& state) const;
    /// What `solve` needs for a tool at a speed; worth keeping, since it starts with many powers. Null for
    /// one Newtonian batter.
    std::shared_ptr<const Splitting> method(const ToolShape& tool, double speed_mm_per_s,
                                            const SplitControl& control,
                                            std::shared_ptr<const Splitting> kept) const;
    const Grid& grid() const { return solver_->grid(); }

  private:
    PositionFlow solve_newtonian(const WireConditions& conditions) const;
    double penalty_pa_s(double rate_per_s, double asked_factor) const;
    PositionFlow solve_viscoplastic(const Wire& wire, const WireConditions& conditions,
                                    const SplitControl& control, SplitState& state) const;

    std::shared_ptr<const BoxSolver> solver_;
    std::vector<batter::Rheology> rheologies_;
};

}  // namespace foreslice::flow
