// The splitting method for a yield-stress batter, without saying what drives the flow.
//
// Herschel-Bulkley by operator splitting (Glowinski's augmented-Lagrangian family in Douglas-Rachford form,
// over-relaxed): minimise the dissipation W(|q|) over strain rates q that equal the strain e = D psi of an
// admissible flow. With a penalty r (Pa s) and a state v (Pa) per (cell, node) pair:
//   q      = the strain whose stress plus r q is v: 0 if |v| <= tau_y, else along v with
//            tau_y + K |q|^n + r |q| = |v|
//   stress = v - r q, exactly tau_y or less where q = 0: true unyielded plugs, no regularisation
//   psi    = argmin 1/2 |D psi - (q - stress/r)|^2 under what drives the flow: one constant-viscosity solve
//   v     += relaxation * r (D psi - q)
// At the fixed point D psi = q and the stress is in balance. The pairs carry a quarter of the cell's area
// each, which makes the discrete functional exactly convex.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "batter/rheology.h"
#include "flow/grid.h"
#include "flow/strain.h"

namespace foreslice::flow {

/// When to stop, and how far each step goes.
struct SplitControl {
    double tolerance = 3e-3;  ///< on |D psi - q| / |D psi| in the mean square over the box
    int most_iterations = 60;
    double relaxation = 1.6;
    double penalty_factor =
        0;  ///< r in units of the plastic viscosity at the working rate; 0: by the rule below
};

/// The penalty, in units of the plastic viscosity at the working rate, that converges in the fewest
/// iterations when warm: measured round a wire in a box (DEVELOPERS.md, section The flow). `bingham` >= 0 at
/// that rate.
double penalty_factor(double bingham);

class Splitting;
struct SplitSweep;

/// The splitting method's state, carried from position to position as a warm start.
struct SplitState {
    std::vector<double> cell, node, ratio;    ///< four corners after one another, cells() values each
    std::vector<std::uint8_t> batters;        ///< which batter lies in each quarter of a cell, in the same
                                              ///< order; empty: the first everywhere
    std::shared_ptr<const Splitting> method;  ///< its tables, kept while speed and tool stay the same
    bool empty() const { return cell.empty(); }
    void clear(const Grid& grid);  ///< no stress anywhere: a cold start
    /// Moves the stresses by whole cells, repeating the edge values.
    void shift(const Grid& grid, int cells_x, int cells_y);
};

/// Some batters on one grid with one penalty: their local problems tabulated, the sweep over all pairs.
class Splitting {
  public:
    /// `working_rate_per_s` > 0: the strain rate that the flow is about; `penalty_pa_s` > 0; at least one
    /// batter.
    Splitting(const Grid& grid, std::vector<batter::Rheology> rheologies, double working_rate_per_s,
              double penalty_pa_s);
    Splitting(const Grid& grid, const batter::Rheology& rheology, double working_rate_per_s,
              double penalty_pa_s)
        : Splitting(grid, std::vector{rheology}, working_rate_per_s, penalty_pa_s) {}

    double penalty_pa_s() const { return penalty_; }
    /// Whether it was made from the same figures.
    bool suits(const Grid& grid, const std::vector<batter::Rheology>& rheologies, double working_rate_per_s,
               double penalty_pa_s) const;
    /// Advances `state` by the strain of the last flow and leaves in `rhs` the strain (weighted for loads_of)
    /// that the next flow is to come close to. Relaxation 0 only evaluates the state as it is. Returns
    /// |D psi - q| / |D psi| of the flow handed in.
    double sweep(const Strain& strain, double relaxation, SplitState& state, Strain& rhs) const;

  private:
    struct Law {
        double width_pa = 1;       // where the table has half its entries
        std::vector<float> table;  // |q| / x against t = x / (x + width) where K q^n + r q = x
    };
    Law tabulated(const batter::Rheology& rheology) const;
    void sweep_row(SplitSweep& sweep, const std::uint8_t* batters) const;

    Grid grid_;
    std::vector<batter::Rheology> rheologies_;
    double working_rate_, penalty_;
    std::vector<Law> laws_;
};

}  // namespace foreslice::flow
