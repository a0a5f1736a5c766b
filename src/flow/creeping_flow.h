// The flow at one position of the wire, Newtonian or with a yield stress.
//
// Herschel-Bulkley by operator splitting (Glowinski's augmented-Lagrangian family in Douglas-Rachford form,
// over-relaxed): minimise the dissipation W(|q|) over strain rates q that equal the strain e = D psi of an
// admissible flow. With a penalty r (Pa s) and a state v (Pa) per (cell, node) pair:
//   q = the strain whose stress plus r q is v:  0 if |v| <= tau_y, else tau_y + K |q|^n + r |q| = |v|, q
//   along v stress = v - r q          (exactly tau_y or less where q = 0: true unyielded plugs, no
//   regularisation) psi    = argmin 1/2 |D psi - (q - stress/r)|^2 under the wire's conditions: one
//   constant-viscosity box solve v     += relaxation * r (D psi - q)
// At the fixed point D psi = q and the stress is in balance. The pairs carry a quarter of the cell's area
// each, which makes the discrete functional exactly convex.
#pragma once

#include <memory>
#include <vector>

#include "batter/rheology.h"
#include "flow/box_solver.h"
#include "flow/strain.h"
#include "flow/wire.h"

namespace foreslice::flow {

struct SplitControl {
    double tolerance = 3e-3;  ///< on |D psi - q| / |D psi| in the mean square over the box
    int most_iterations = 60;
    double relaxation = 1.6;
    double penalty_factor = 2.0;  ///< r in units of the plastic viscosity at the working rate U/d
};

/// The splitting method's state, carried from position to position as a warm start.
struct SplitState {
    std::vector<double> cell, node, ratio;  ///< four corners after one another, cells() values each
    bool empty() const { return cell.empty(); }
    /// Moves the state by whole cells, repeating the edge values.
    void shift(const Grid& grid, int cells_x, int cells_y);
};

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
    CreepingFlow(std::shared_ptr<const BoxSolver> solver, const batter::Rheology& rheology);

    /// `state` may be empty (cold start) and is advanced; ignored for a Newtonian batter.
    PositionFlow solve(const Wire& wire, const SplitControl& control, SplitState& state) const;
    const Grid& grid() const { return solver_->grid(); }

  private:
    struct Law;  // the tabulated local problem
    PositionFlow solve_newtonian(const WireConditions& conditions) const;
    PositionFlow solve_viscoplastic(const Wire& wire, const WireConditions& conditions,
                                    const SplitControl& control, SplitState& state) const;

    std::shared_ptr<const BoxSolver> solver_;
    batter::Rheology rheology_;
};

}  // namespace foreslice::flow
