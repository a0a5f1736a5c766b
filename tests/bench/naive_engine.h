// What the flow costs without this project's ways, for comparison: the straightforward engine.
#pragma once

#include "flow/flow.h"

namespace foreslice::bench {

struct NaiveCost {
    int steps = 0;              ///< of one cell along the path in the batter
    int timed_steps = 0;        ///< how many of them were really done
    double cpu_s_per_step = 0;  ///< solving and tracing
    double solve_share = 0;     ///< of that, the factorisation and solve
    double total_cpu_s = 0;     ///< extrapolated: steps * cpu_s_per_step
    double psi_difference = 0;  ///< greatest difference from this project's stream function, relative
};

/// On one core: for each step of one cell along the stroke a fresh sparse Cholesky factorisation of the same
/// discrete problem, and one fourth-order Runge-Kutta step of every pixel's centre through the new field. A
/// batter that is not Newtonian takes a new effective viscosity (regularised) and a new factorisation until
/// the flow stays within 1 %, beginning with that of the step before. Does `timed_steps` in a row, from a
/// third of the path on, and extrapolates.
NaiveCost naive_cost(const flow::Box& box, const batter::Rheology& batter, int cells_across,
                     const flow::Stroke& stroke, int width_px, int timed_steps);

}  // namespace foreslice::bench
