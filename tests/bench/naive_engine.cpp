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

// The viscous operator on interior nodes, column by column from its own action on unit fields. The stencil
// reaches two nodes, so unit fields five apart are told apart and 25 applications give the whole matrix.
Sparse viscous_matrix(const Grid& grid) {
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
                wires.push_back({centre, radius, (1 / length(along)) * along});
        }
    }
    return wires;
}

}  // namespace

NaiveCost naive_cost(const Box& box, int cells_across, const Stroke& stroke, int width_px, int timed_steps) {
    const Grid grid(box, cells_across);
    const BoxSolver solver(grid);  // for the wire's conditions and the comparison only, not timed
    const CreepingFlow ours(std::make_shared<BoxSolver>(grid), {1, 1, 0});
    const Sparse viscous = viscous_matrix(grid);
    const auto wires = wires_along(box, grid, stroke);
    std::vector<Vec2> pixels = testing::lattice(box, box.width_mm / width_px);
    NaiveCost cost;
    cost.steps = static_cast<int>(wires.size());
    cost.timed_steps = std::min(timed_steps, cost.steps);
    double solving = 0, tracing = 0;
    for (int k = 0; k < cost.timed_steps; ++k) {
        const Wire& wire = wires[static_cast<std::size_t>(k) * wires.size() / cost.timed_steps];
        const WireConditions conditions = wire_conditions(solver, wire);
        const double start = cpu_s();
        const auto psi = solve_afresh(grid, viscous, conditions);
        const double solved = cpu_s();
        step_pixels(SplineField(grid, psi, 1), grid.h(), box, pixels);
        tracing += cpu_s() - solved;
        solving += solved - start;
        SplitState unused;
        const auto own = ours.solve(wire, {}, unused).psi;
        double most = 0, off = 0;
        for (std::size_t p = 0; p < own.size(); ++p) {
            most = std::max(most, std::abs(own[p]));
            off = std::max(off, std::abs(own[p] - psi[p]));
        }
        cost.psi_difference = std::max(cost.psi_difference, off / most);
    }
    cost.cpu_s_per_step = (solving + tracing) / cost.timed_steps;
    cost.solve_share = solving / (solving + tracing);
    cost.total_cpu_s = cost.steps * cost.cpu_s_per_step;
    return cost;
}

}  // namespace foreslice::bench
