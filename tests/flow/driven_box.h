// The box driven by a moving lid or by forces in the batter instead of a wire, through the same strains,
// splitting method and box solver: the set-ups that published checks need.
#pragma once

#include <memory>
#include <vector>

#include "flow/box_solver.h"
#include "flow/splitting.h"

namespace foreslice::testing {

class DrivenBox {
  public:
    enum class Top { free_slip, lid };

    /// With a lid the top is no-slip: its mirrored ghost node makes u_y + v_x = 2 psi(ny-1) / hy^2 + 2 U / hy
    /// there, that is a diagonal term of the box operator and a load.
    DrivenBox(const flow::Box& box, int cells_across, Top top);

    struct Drive {
        double lid_mm_per_s = 0;
        std::vector<double> load_pa_mm;  ///< on the interior nodes: the work of forces per unit psi; or empty
        double working_rate_per_s = 1;   ///< the strain rate that the flow is about
    };
    struct Solution {
        std::vector<double> psi;  ///< all nodes
        int iterations = 0;
        double residual = 0;
    };
    /// `state` may be empty and is advanced.
    Solution solve(const batter::Rheology& rheology, const Drive& drive, const flow::SplitControl& control,
                   flow::SplitState& state) const {
        return solve(std::vector{rheology}, drive, control, state);
    }
    /// Several batters; `state.batters` says which lies where, the penalty suits the first.
    Solution solve(const std::vector<batter::Rheology>& rheologies, const Drive& drive,
                   const flow::SplitControl& control, flow::SplitState& state) const;
    const flow::Grid& grid() const { return solver_.grid(); }

  private:
    void constant_viscosity_solve(const flow::Strain& rhs, const Drive& drive, double viscosity,
                                  Solution& out, flow::Strain& strain) const;

    flow::BoxSolver solver_;
    bool lid_;
    flow::Conditions lid_terms_;  // psi next to the lid, soft as the lid's diagonal term demands
};

}  // namespace foreslice::testing
