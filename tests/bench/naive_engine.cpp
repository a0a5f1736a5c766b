#include "bench/naive_engine.h"

#include <Eigen/Sparse>
#include <algorithm>
#include <cmath>
#include <ctime>
#include <vector>

#include "flow/flow_samples.h"
#include "flow/spline_field.h"

namespace foreslice::bench {
namespace {

using namespace foreslice::flow;
using Sparse = Eigen::SparseMatrix<double>;

double cpu_s() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

/// Viscosity where the strains live, Pa s.
struct Viscosity {
    std::vector<double> cell, node;
};

Viscosity uniform(const Grid& grid, double pa_s) {
    return {std::vector(grid.cells(), pa_s), std::vector(grid.nodes(), pa_s)};
}

// The viscous operator on interior nodes, column by column from its own action on unit fields. The stencil
// reaches two nodes, so unit fields five apart are told apart and 25 applications give the whole matrix.
Sparse viscous_matrix(const Grid& grid, const Viscosity& viscosity) {
    const int m = grid.nx - 1, n = grid.ny - 1;
    std::vector<Eigen::Triplet<double>> entries;
    Strain strain;
    std::vector<double> loads, units(static_cast<std::size_t>(m) * n);
    for (int colour = 0; colour < 25; ++colour) {
        for (int j = 0; j < n; ++j)
            for (int i = 0; i < m; ++i)
                units[static_cast<std::size_t>(j) * m + i] = i % 5 == colour % 5 && j % 5 == colour / 5;
        strain_of(grid, testing::with_sides(grid, units), strain);
        flow::weigh(grid, strain);
        for (std::size_t k = 0; k < strain.cell.size(); ++k) strain.cell[k] *= viscosity.cell[k];
        for (std::size_t k = 0; k < strain.node.size(); ++k) strain.node[k] *= viscosity.node[k];
        loads_of(grid, strain, loads);
        for (int j = 0; j < n; ++j)
            for (int i = 0; i < m; ++i) {
                const double value = loads[static_cast<std::size_t>(j) * m + i];
                // The one unit within two nodes of (i, j).
                const int di = (colour % 5 - i % 5 + 7) % 5 - 2, dj = (colour / 5 - j % 5 + 7) % 5 - 2;
                const bool inside = i + di >= 0 && i + di < m && j + dj >= 0 && j + dj < n;
                if (inside && value != 0) entries.emplace_back(j * m + i, (j + dj) * m + i + di, value);
            }
    }
    Sparse matrix(m * n, m * n);
    matrix.setFromTriplets(entries.begin(), entries.end());
    return matrix;
}

Sparse condition_matrix(const Grid& grid, const Conditions& conditions) {
    const int m = grid.nx - 1, columns = conditions.i1 - conditions.i0 + 1;
    std::vector<Eigen::Triplet<double>> entries;
    for (int k = 0; k < conditions.count(); ++k)
        for (int p = 0; p < conditions.on_patch.cols(); ++p)
            if (conditions.on_patch(k, p) != 0)
                entries.emplace_back(k,
                                     (conditions.j0 - 1 + p / columns) * m + conditions.i0 - 1 + p % columns,
                                     conditions.on_patch(k, p));
    Sparse matrix(conditions.count(), m * (grid.ny - 1));
    matrix.setFromTriplets(entries.begin(), entries.end());
    return matrix;
}

// Stream function with the wire's conditions as stiff springs, which keeps the matrix positive definite.
std::vector<double> solve_afresh(const Grid& grid, const Sparse& viscous, const WireConditions& wire) {
    const Sparse c = condition_matrix(grid, wire.conditions);
    const double spring = 1e4 * viscous.diagonal().mean() * grid.hx * grid.hy;
    const Sparse matrix = viscous + spring * Sparse(c.transpose() * c);
    const Eigen::SimplicialLLT<Sparse> factor(matrix);
    const Eigen::VectorXd psi = factor.solve(spring * (c.transpose() * wire.targets));
    return testing::with_sides(grid, {psi.data(), psi.data() + psi.size()});
}

// The batter's viscosity at the strain rate of a flow: the usual regularisation, rigid parts made stiff.
// Rates at cells take the mean of the nodes round them and the other way round.
Viscosity effective_viscosity(const Grid& grid, const batter::Rheology& batter,
                              const std::vector<double>& psi, double least_rate_per_s) {
    Strain strain;
    strain_of(grid, psi, strain);
    const auto pa_s = [&](double a, double b) {
        const double rate = std::max(std::hypot(a, b), least_rate_per_s);
        return batter.consistency_pa_sn * std::pow(rate, batter.flow_index - 1) +
               batter.yield_stress_pa / rate;
    };
    const auto cell_at = [&](int i, int j) {
        return strain.cell[grid.cell(std::clamp(i, 0, grid.nx - 1), std::clamp(j, 0, grid.ny - 1))];
    };
    Viscosity out = uniform(grid, 0);
    for (int j = 0; j <= grid.ny; ++j)
        for (int i = 0; i <= grid.nx; ++i) {
            const auto node = [&](int di, int dj) { return strain.node[grid.node(i + di, j + dj)]; };
            out.node[grid.node(i, j)] =
                pa_s(node(0, 0),
                     (cell_at(i - 1, j - 1) + cell_at(i, j - 1) + cell_at(i - 1, j) + cell_at(i, j)) / 4);
            if (i < grid.nx && j < grid.ny)
                out.cell[grid.cell(i, j)] =
                    pa_s(cell_at(i, j), (node(0, 0) + node(1, 0) + node(0, 1) + node(1, 1)) / 4);
        }
    return out;
}

// A yield-stress batter: a new viscosity and a new factorisation until the flow stays within 1 %.
std::vector<double> iterate_afresh(const Grid& grid, const batter::Rheology& batter, double rate_per_s,
                                   const WireConditions& wire, std::vector<double> psi) {
    for (int iteration = 0; iteration < 100; ++iteration) {
        const auto viscosity = effective_viscosity(grid, batter, psi, 1e-2 * rate_per_s);
        const auto next = solve_afresh(grid, viscous_matrix(grid, viscosity), wire);
        double change = 0, size = 0;
        for (std::size_t k = 0; k < psi.size(); ++k) {
            change += (next[k] - psi[k]) * (next[k] - psi[k]);
            size += next[k] * next[k];
        }
        psi = next;
        if (change < 1e-4 * size) break;
    }
    return psi;
}

std::vector<double> solved_by_itself(const Grid& grid, const batter::Rheology& batter,
                                     const Sparse& newtonian, const Wire& wire,
                                     const WireConditions& conditions, const std::vector<double>& warm) {
    if (batter.newtonian()) return solve_afresh(grid, newtonian, conditions);
    const double rate_per_s = length(wire.velocity_mm_per_s) / wire.tool.size_mm();
    return iterate_afresh(grid, batter, rate_per_s, conditions, warm);
}

// Greatest difference, in the greatest of the first.
double difference(const std::vector<double>& a, const std::vector<double>& b) {
    double most = 0, off = 0;
    for (std::size_t p = 0; p < a.size(); ++p) {
        most = std::max(most, std::abs(a[p]));
        off = std::max(off, std::abs(a[p] - b[p]));
    }
    return off / most;
}

void step_pixels(const SplineField& field, double distance, const Box& box, std::vector<Vec2>& pixels) {
    const auto velocity = [&](Vec2 p) {
        const Vec2 gradient = field.gradient(p);
        return Vec2{gradient.y, -gradient.x};
    };
    for (Vec2& p : pixels) {
        const Vec2 k1 = velocity(p), k2 = velocity(p + (-distance / 2) * k1);
        const Vec2 k3 = velocity(p + (-distance / 2) * k2), k4 = velocity(p + (-distance) * k3);
        p += (-distance / 6) * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
        p = {std::clamp(p.x, 0.0, box.width_mm), std::clamp(p.y, 0.0, box.height_mm)};
    }
}

// The wire at every step of one cell, without those in which it is in or close to the surface.
std::vector<Wire> wires_along(const Box& box, const Grid& grid, const Stroke& stroke) {
    std::vector<Wire> wires;
    const double radius = stroke.wire_diameter_mm / 2;
    for (std::size_t k = 1; k < stroke.path_mm.size(); ++k) {
        const Vec2 along = stroke.path_mm[k] - stroke.path_mm[k - 1];
        const int steps = std::max(1, static_cast<int>(std::lround(length(along) / grid.h())));
        for (int s = 0; s < steps; ++s) {
            const Vec2 centre = stroke.path_mm[k - 1] + ((s + 0.5) / steps) * along;
            if (centre.y < box.height_mm - radius - 3 * grid.hy)
                wires.push_back({centre, radius, (stroke.speed_mm_per_s / length(along)) * along});
        }
    }
    return wires;
}

}  // namespace

NaiveCost naive_cost(const Box& box, const batter::Rheology& batter, int cells_across, const Stroke& stroke,
                     int width_px, int timed_steps) {
    const Grid grid(box, cells_across);
    const BoxSolver solver(grid);  // for the wire's conditions and the comparison only, not timed
    const CreepingFlow ours(std::make_shared<BoxSolver>(grid), batter);
    const Sparse newtonian = viscous_matrix(grid, uniform(grid, 1));
    const auto wires = wires_along(box, grid, stroke);
    std::vector<double> warm(grid.nodes(), 0.0);  // the flow of the step before
    std::vector<Vec2> pixels = testing::lattice(box, box.width_mm / width_px);
    NaiveCost cost;
    cost.steps = static_cast<int>(wires.size());
    cost.timed_steps = std::min(timed_steps, cost.steps);
    double solving = 0, tracing = 0;
    const std::size_t first = wires.size() / 3;
    SplitState state;
    for (int k = -1; k < cost.timed_steps; ++k) {  // the one before the first is only to begin with
        const Wire& wire = wires[std::min(wires.size() - 1, first + static_cast<std::size_t>(k + 1))];
        const WireConditions conditions = wire_conditions(solver, wire);
        if (k < 0) warm = solve_afresh(grid, newtonian, conditions);
        const double start = cpu_s();
        warm = solved_by_itself(grid, batter, newtonian, wire, conditions, warm);
        const double solved = cpu_s();
        step_pixels(SplineField(grid, warm, 1 / stroke.speed_mm_per_s), grid.h(), box, pixels);
        if (k >= 0) {
            tracing += cpu_s() - solved;
            solving += solved - start;
        }
        const auto own = ours.solve(wire, {}, state).psi;
        if (k >= 0) cost.psi_difference = std::max(cost.psi_difference, difference(own, warm));
    }
    cost.cpu_s_per_step = (solving + tracing) / cost.timed_steps;
    cost.solve_share = solving / (solving + tracing);
    cost.total_cpu_s = cost.steps * cost.cpu_s_per_step;
    return cost;
}

}  // namespace foreslice::bench
