#include "flow/creeping_flow.h"

#include <algorithm>
#include <cmath>

namespace foreslice::flow {
namespace {

constexpr double newton_per_metre_per_pa_mm = 1e-3;

// Interior values and the known top values as one field over all nodes.
void assemble(const Grid& grid, const std::vector<double>& interior, const std::vector<double>& top,
              std::vector<double>& psi) {
    psi.assign(grid.nodes(), 0.0);
    for (int j = 1; j < grid.ny; ++j)
        std::copy_n(interior.data() + static_cast<std::size_t>(j - 1) * (grid.nx - 1), grid.nx - 1,
                    psi.data() + grid.node(1, j));
    std::copy(top.begin(), top.end(), psi.data() + grid.node(0, grid.ny));
}

// What a known stream function on the top asks of the interior; empty where it is zero.
std::vector<double> load_of_top(const Grid& grid, const std::vector<double>& top) {
    std::vector<double> load, psi;
    if (std::all_of(top.begin(), top.end(), [](double value) { return value == 0; })) return load;
    Strain strain;
    assemble(grid, std::vector<double>((grid.nx - 1) * static_cast<std::size_t>(grid.ny - 1), 0.0), top, psi);
    strain_of(grid, psi, strain);
    weigh(grid, strain);
    loads_of(grid, strain, load);
    for (double& value : load) value = -value;
    return load;
}

Vec2 force_of(const Eigen::VectorXd& multipliers, const std::vector<bool>& horizontal, double viscosity) {
    Vec2 force;
    for (std::size_t k = 0; k < horizontal.size(); ++k)
        (horizontal[k] ? force.x : force.y) -= multipliers[static_cast<Eigen::Index>(k)];
    return viscosity * newton_per_metre_per_pa_mm * force;
}

}  // namespace

PositionFlow CreepingFlow::solve(const Wire& wire, const SplitControl& control, SplitState& state) const {
    const WireConditions conditions = wire_conditions(*solver_, wire);
    if (!conditions.in_batter || length(wire.velocity_mm_per_s) == 0) {
        PositionFlow still;
        still.psi.assign(grid().nodes(), 0.0);
        still.in_batter = conditions.in_batter;
        return still;
    }
    const bool newtonian = state.batters.empty() && rheologies_.front().newtonian();
    PositionFlow flow =
        newtonian ? solve_newtonian(conditions) : solve_viscoplastic(wire, conditions, control, state);
    flow.in_batter = true;
    return flow;
}

PositionFlow CreepingFlow::solve_newtonian(const WireConditions& conditions) const {
    const Grid& g = grid();
    PositionFlow flow;
    std::vector<double> interior((g.nx - 1) * static_cast<std::size_t>(g.ny - 1), 0.0);
    const std::vector<double> load = load_of_top(g, conditions.top_psi);
    BoxSolver::Workspace workspace;
    const auto multipliers = solver_->solve(load.empty() ? nullptr : load.data(), conditions.any(),
                                            conditions.targets, interior.data(), workspace);
    assemble(g, interior, conditions.top_psi, flow.psi);
    flow.force_n_per_m = force_of(multipliers, conditions.horizontal, rheologies_.front().consistency_pa_sn);
    flow.iterations = 1;
    return flow;
}

// Between the penalties that suit the least and the most viscous batter.
double CreepingFlow::penalty_pa_s(double rate, double asked_factor) const {
    double least = 0, most = 0;
    for (const auto& rheology : rheologies_) {
        const double viscosity = batter::plastic_viscosity_pa_s(rheology, rate);
        const double factor =
            asked_factor > 0 ? asked_factor : penalty_factor(rheology.yield_stress_pa / (viscosity * rate));
        const double penalty = factor * viscosity;
        least = least == 0 ? penalty : std::min(least, penalty);
        most = std::max(most, penalty);
    }
    return least == most ? most : std::sqrt(least * most);
}

std::shared_ptr<const Splitting> CreepingFlow::method(const ToolShape& tool, double speed,
                                                      const SplitControl& control,
                                                      std::shared_ptr<const Splitting> kept) const {
    if (rheologies_.size() == 1 && rheologies_.front().newtonian()) return nullptr;
    // Rounded, so that tables made for one leg serve others of the same speed, whatever their directions.
    const double rate = static_cast<float>(speed / tool.size_mm());
    const double penalty = penalty_pa_s(rate, control.penalty_factor);
    if (kept && kept->suits(grid(), rheologies_, rate, penalty)) return kept;
    return std::make_shared<const Splitting>(grid(), rheologies_, rate, penalty);
}

PositionFlow CreepingFlow::solve_viscoplastic(const Wire& wire, const WireConditions& conditions,
                                              const SplitControl& control, SplitState& state) const {
    const Grid& g = grid();
    state.method = method(wire.tool, length(wire.velocity_mm_per_s), control, std::move(state.method));
    const Splitting& splitting = *state.method;
    if (state.empty()) state.clear(g);
    PositionFlow flow;
    std::vector<double> load, interior((g.nx - 1) * static_cast<std::size_t>(g.ny - 1), 0.0);
    Strain strain, lift, rhs;
    BoxSolver::Workspace workspace;
    assemble(g, interior, conditions.top_psi, flow.psi);
    strain_of(g, flow.psi, lift);
    weigh(g, lift);
    strain_of(g, std::vector<double>(g.nodes(), 0.0), strain);
    splitting.sweep(strain, 0.0, state, rhs);
    Eigen::VectorXd multipliers;
    const auto precision =
        control.tolerance >= 1e-3 ? BoxSolver::Precision::single : BoxSolver::Precision::exact;
    while (true) {
        for (std::size_t k = 0; k < rhs.cell.size(); ++k) rhs.cell[k] -= lift.cell[k];
        for (std::size_t k = 0; k < rhs.node.size(); ++k) rhs.node[k] -= lift.node[k];
        loads_of(g, rhs, load);
        multipliers = solver_->solve(load.data(), conditions.any(), conditions.targets, interior.data(),
                                     workspace, precision);
        assemble(g, interior, conditions.top_psi, flow.psi);
        strain_of(g, flow.psi, strain);
        flow.residual = splitting.sweep(strain, control.relaxation, state, rhs);
        ++flow.iterations;
        flow.converged = flow.residual <= control.tolerance;
        if (flow.converged || flow.iterations >= control.most_iterations) break;
    }
    flow.force_n_per_m = force_of(multipliers, conditions.horizontal, splitting.penalty_pa_s());
    return flow;
}

}  // namespace foreslice::flow
