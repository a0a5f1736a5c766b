#include "flow/creeping_flow.h"

#include <algorithm>
#include <cmath>

#include "flow/dense_kernels.h"

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

// Integration weights: a quarter cell for each (cell, node) pair.
void weigh(const Grid& grid, Strain& strain) {
    const double area = grid.hx * grid.hy;
    for (double& value : strain.cell) value *= area;
    for (int j = 0; j <= grid.ny; ++j)
        for (int i = 0; i <= grid.nx; ++i) {
            const bool side = i == 0 || i == grid.nx, end = j == 0 || j == grid.ny;
            strain.node[grid.node(i, j)] *= area * (side ? 0.5 : 1.0) * (end ? 0.5 : 1.0);
        }
}

Vec2 force_of(const Eigen::VectorXd& multipliers, const std::vector<bool>& horizontal, double viscosity) {
    Vec2 force;
    for (std::size_t k = 0; k < horizontal.size(); ++k)
        (horizontal[k] ? force.x : force.y) -= multipliers[static_cast<Eigen::Index>(k)];
    return viscosity * newton_per_metre_per_pa_mm * force;
}

}  // namespace

void SplitState::shift(const Grid& grid, int dx, int dy) {
    if (empty() || (dx == 0 && dy == 0)) return;
    std::vector<double> moved(grid.cells());
    for (auto* part : {&cell, &node, &ratio})
        for (std::size_t corner = 0; corner < 4; ++corner) {
            double* values = part->data() + corner * grid.cells();
            for (int j = 0; j < grid.ny; ++j)
                for (int i = 0; i < grid.nx; ++i)
                    moved[grid.cell(i, j)] = values[grid.cell(std::clamp(i - dx, 0, grid.nx - 1),
                                                              std::clamp(j - dy, 0, grid.ny - 1))];
            std::copy(moved.begin(), moved.end(), values);
        }
}

/// |q| / x against t = x / (x + width) where K q^n + r q = x.
struct CreepingFlow::Law {
    static constexpr int size = 2048;
    std::vector<double> table = std::vector<double>(size + 2);
    double width = 1;

    Law(const batter::Rheology& rheology, double penalty, double rate) {
        const double k = rheology.consistency_pa_sn, n = rheology.flow_index;
        width = k * std::pow(rate, n) + penalty * rate;
        for (int i = 0; i <= size; ++i) {
            const double t = std::min((i + 1e-9) / size, 1 - 1e-9);
            const double x = width * t / (1 - t);
            table[static_cast<std::size_t>(i)] = strain_rate(k, n, penalty, x) / x;
        }
        table[size + 1] = table[size];
    }

    // Monotone scalar equation, bracketed Newton: K q^n + r q = x.
    static double strain_rate(double k, double n, double r, double x) {
        double low = 0, high = std::min(x / r, std::pow(x / k, 1 / n));
        double q = high;
        for (int step = 0; step < 200; ++step) {
            const double value = k * std::pow(q, n) + r * q - x;
            (value > 0 ? high : low) = q;
            double next = q - value / (k * n * std::pow(q, n - 1) + r);
            if (!(next > low && next < high)) next = 0.5 * (low + high);
            if (std::abs(next - q) <= 1e-14 * q) return next;
            q = next;
        }
        return q;
    }
};

CreepingFlow::CreepingFlow(std::shared_ptr<const BoxSolver> solver, const batter::Rheology& rheology)
    : solver_(std::move(solver)), rheology_(rheology) {}

PositionFlow CreepingFlow::solve(const Wire& wire, const SplitControl& control, SplitState& state) const {
    const WireConditions conditions = wire_conditions(*solver_, wire);
    if (!conditions.in_batter || length(wire.velocity_mm_per_s) == 0) {
        PositionFlow still;
        still.psi.assign(grid().nodes(), 0.0);
        still.in_batter = conditions.in_batter;
        return still;
    }
    PositionFlow flow = rheology_.newtonian() ? solve_newtonian(conditions)
                                              : solve_viscoplastic(wire, conditions, control, state);
    flow.in_batter = true;
    return flow;
}

PositionFlow CreepingFlow::solve_newtonian(const WireConditions& conditions) const {
    const Grid& g = grid();
    PositionFlow flow;
    std::vector<double> load, interior((g.nx - 1) * static_cast<std::size_t>(g.ny - 1), 0.0);
    Strain strain;
    assemble(g, interior, conditions.top_psi, flow.psi);
    strain_of(g, flow.psi, strain);
    weigh(g, strain);
    loads_of(g, strain, load);
    for (double& value : load) value = -value;
    BoxSolver::Workspace workspace;
    const auto multipliers =
        solver_->solve(load.data(), &conditions.conditions, conditions.targets, interior.data(), workspace);
    assemble(g, interior, conditions.top_psi, flow.psi);
    flow.force_n_per_m = force_of(multipliers, conditions.horizontal, rheology_.consistency_pa_sn);
    flow.iterations = 1;
    return flow;
}

PositionFlow CreepingFlow::solve_viscoplastic(const Wire& wire, const WireConditions& conditions,
                                              const SplitControl& control, SplitState& state) const {
    const Grid& g = grid();
    const double rate = length(wire.velocity_mm_per_s) / (2 * wire.radius_mm);
    const double penalty = control.penalty_factor * batter::plastic_viscosity_pa_s(rheology_, rate);
    const Law law(rheology_, penalty, rate);
    if (state.empty()) {
        state.cell.assign(4 * g.cells(), 0.0);
        state.node.assign(4 * g.cells(), 0.0);
        state.ratio.assign(4 * g.cells(), 0.0);
    }
    PositionFlow flow;
    std::vector<double> load, interior((g.nx - 1) * static_cast<std::size_t>(g.ny - 1), 0.0);
    std::vector<double> row_cell(static_cast<std::size_t>(g.nx)), row_node(static_cast<std::size_t>(g.nx));
    Strain strain, lift, rhs;
    BoxSolver::Workspace workspace;
    assemble(g, interior, conditions.top_psi, flow.psi);
    strain_of(g, flow.psi, lift);
    weigh(g, lift);

    SplitSweep sweep;
    sweep.count = g.nx;
    sweep.cell_rhs = row_cell.data();
    sweep.node_rhs = row_node.data();
    sweep.penalty = penalty;
    sweep.yield_stress = rheology_.yield_stress_pa;
    sweep.table = law.table.data();
    sweep.table_size = Law::size;
    sweep.table_width = law.width;
    const double weight = g.hx * g.hy / 4;

    // The first sweep only evaluates q and the right-hand side of the state as it is (relaxation 0).
    strain_of(g, std::vector<double>(g.nodes(), 0.0), strain);
    Eigen::VectorXd multipliers;
    const auto precision =
        control.tolerance >= 1e-3 ? BoxSolver::Precision::single : BoxSolver::Precision::exact;
    for (int iteration = 0;; ++iteration) {
        sweep.relaxation = iteration == 0 ? 0.0 : control.relaxation;
        sweep.squared_residual = sweep.squared_strain = 0;
        rhs.cell.assign(g.cells(), 0.0);
        rhs.node.assign(g.nodes(), 0.0);
        for (int corner = 0; corner < 4; ++corner) {
            const int di = corner & 1, dj = corner >> 1;
            for (int j = 0; j < g.ny; ++j) {
                const std::size_t base = static_cast<std::size_t>(corner) * g.cells() + g.cell(0, j);
                sweep.cell_strain = strain.cell.data() + g.cell(0, j);
                sweep.node_strain = strain.node.data() + g.node(di, j + dj);
                sweep.cell_state = state.cell.data() + base;
                sweep.node_state = state.node.data() + base;
                sweep.ratio = state.ratio.data() + base;
                dense_kernels().split_sweep(sweep);
                double* cells = rhs.cell.data() + g.cell(0, j);
                double* nodes = rhs.node.data() + g.node(di, j + dj);
                for (int i = 0; i < g.nx; ++i) {
                    cells[i] += weight * row_cell[static_cast<std::size_t>(i)];
                    nodes[i] += weight * row_node[static_cast<std::size_t>(i)];
                }
            }
        }
        if (iteration > 0) {
            flow.residual = std::sqrt(sweep.squared_residual / std::max(sweep.squared_strain, 1e-300));
            flow.iterations = iteration;
            flow.converged = flow.residual <= control.tolerance;
            if (flow.converged || iteration >= control.most_iterations) break;
        }
        for (std::size_t k = 0; k < rhs.cell.size(); ++k) rhs.cell[k] -= lift.cell[k];
        for (std::size_t k = 0; k < rhs.node.size(); ++k) rhs.node[k] -= lift.node[k];
        loads_of(g, rhs, load);
        multipliers = solver_->solve(load.data(), &conditions.conditions, conditions.targets, interior.data(),
                                     workspace, precision);
        assemble(g, interior, conditions.top_psi, flow.psi);
        strain_of(g, flow.psi, strain);
    }
    flow.force_n_per_m = force_of(multipliers, conditions.horizontal, penalty);
    return flow;
}

}  // namespace foreslice::flow
