#include "flow/driven_box.h"

#include <cmath>

#include "flow/flow_samples.h"

namespace foreslice::testing {

using namespace flow;

DrivenBox::DrivenBox(const Box& box, int cells, Top top) : solver_(Grid(box, cells)), lid_(top == Top::lid) {
    if (!lid_) return;
    const Grid& g = grid();
    std::vector<NodeWeights> rows;
    for (int i = 1; i < g.nx; ++i) rows.push_back({{{i, g.ny - 1, 1.0}}, 0});
    // Softness is counted in the mean compliance of the conditions, which the first preparation tells.
    const Conditions hard = solver_.prepare(rows);
    const double mean = hard.schur.reconstructedMatrix().trace() / static_cast<double>(rows.size());
    const double stiffness = 2 * g.hx * g.hy / std::pow(g.hy, 4);
    for (auto& row : rows) row.softness = 1 / (stiffness * mean);
    lid_terms_ = solver_.prepare(rows);
}

void DrivenBox::constant_viscosity_solve(const Strain& rhs, const Drive& drive, double viscosity,
                                         Solution& out, Strain& strain) const {
    const Grid& g = grid();
    const std::size_t across = static_cast<std::size_t>(g.nx - 1);
    std::vector<double> load, interior(across * static_cast<std::size_t>(g.ny - 1));
    loads_of(g, rhs, load);
    for (std::size_t k = 0; k < drive.load_pa_mm.size(); ++k) load[k] += drive.load_pa_mm[k] / viscosity;
    const double lift = 2 * drive.lid_mm_per_s / g.hy, bend = 2 / (g.hy * g.hy);
    if (lid_)
        for (std::size_t i = 0; i < across; ++i)
            load[load.size() - across + i] +=
                bend * (rhs.node[g.node(static_cast<int>(i) + 1, g.ny)] - g.hx * g.hy / 2 * lift);
    BoxSolver::Workspace workspace;
    const Eigen::VectorXd none = Eigen::VectorXd::Zero(lid_ ? g.nx - 1 : 0);
    solver_.solve(load.data(), lid_ ? &lid_terms_ : nullptr, none, interior.data(), workspace);
    out.psi = with_sides(g, interior);
    strain_of(g, out.psi, strain);
    if (lid_)
        for (int i = 1; i < g.nx; ++i)
            strain.node[g.node(i, g.ny)] = bend * out.psi[g.node(i, g.ny - 1)] + lift;
}

DrivenBox::Solution DrivenBox::solve(const std::vector<batter::Rheology>& rheologies, const Drive& drive,
                                     const SplitControl& control, SplitState& state) const {
    const batter::Rheology& rheology = rheologies.front();
    const Grid& g = grid();
    Solution out;
    Strain strain, rhs;
    strain.cell.assign(g.cells(), 0.0);
    strain.node.assign(g.nodes(), 0.0);
    if (rheologies.size() == 1 && rheology.newtonian()) {
        constant_viscosity_solve(strain, drive, rheology.consistency_pa_sn, out, rhs);
        return out;
    }
    const double viscosity = batter::plastic_viscosity_pa_s(rheology, drive.working_rate_per_s);
    const Splitting splitting(g, rheologies, drive.working_rate_per_s, control.penalty_factor * viscosity);
    if (state.empty()) state.clear(g);
    splitting.sweep(strain, 0.0, state, rhs);
    do {
        constant_viscosity_solve(rhs, drive, splitting.penalty_pa_s(), out, strain);
        out.residual = splitting.sweep(strain, control.relaxation, state, rhs);
    } while (++out.iterations < control.most_iterations && out.residual > control.tolerance);
    return out;
}

}  // namespace foreslice::testing
