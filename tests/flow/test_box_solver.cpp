// The constant-viscosity solve against its own discrete problem, applied directly.
#include <doctest/doctest.h>

#include <cmath>

#include "flow/box_solver.h"
#include "flow/flow_samples.h"
#include "flow/wire.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

const Grid grid({52, 41}, 40);  // cells not quite square

double greatest(const std::vector<double>& values) {
    double most = 0;
    for (const double value : values) most = std::max(most, std::abs(value));
    return most;
}

// The viscous operator by strains, weights and the transposed strains.
std::vector<double> viscous_loads(const std::vector<double>& interior) {
    Strain strain;
    std::vector<double> loads;
    strain_of(grid, with_sides(grid, interior), strain);
    weigh(grid, strain);
    loads_of(grid, strain, loads);
    return loads;
}

double value_of(const NodeWeights& weights, const std::vector<double>& psi) {
    double sum = 0;
    for (const auto& term : weights.terms) sum += term.weight * psi[grid.node(term.i, term.j)];
    return sum;
}

std::size_t interior_of(int i, int j) {
    return static_cast<std::size_t>(j - 1) * (grid.nx - 1) + (i - 1);
}

const std::size_t interior_count = static_cast<std::size_t>(grid.nx - 1) * (grid.ny - 1);

}  // namespace

TEST_CASE("loads_of is the transpose of strain_of") {
    const auto interior = scattered(interior_count, 1);
    Strain strain, stress;
    strain_of(grid, with_sides(grid, interior), strain);
    stress.cell = scattered(grid.cells(), 2);
    stress.node = scattered(grid.nodes(), 3);
    std::vector<double> loads;
    loads_of(grid, stress, loads);
    double by_strain = 0, by_load = 0, scale = 0;
    for (std::size_t k = 0; k < strain.cell.size(); ++k) by_strain += strain.cell[k] * stress.cell[k];
    for (std::size_t k = 0; k < strain.node.size(); ++k) by_strain += strain.node[k] * stress.node[k];
    for (std::size_t k = 0; k < interior.size(); ++k) {
        by_load += interior[k] * loads[k];
        scale += std::abs(interior[k] * loads[k]);
    }
    CHECK(std::abs(by_strain - by_load) < 1e-13 * scale);
}

TEST_CASE("The strain of a quadratic stream function is exact away from walls") {
    std::vector<double> psi(grid.nodes());
    for (int j = 0; j <= grid.ny; ++j)
        for (int i = 0; i <= grid.nx; ++i) {
            const double x = i * grid.hx, y = j * grid.hy;
            psi[grid.node(i, j)] = 1.5 * x * x - 0.7 * x * y + 0.4 * y * y;
        }
    Strain strain;
    strain_of(grid, psi, strain);
    for (const double value : strain.cell) CHECK(value == doctest::Approx(-1.4).epsilon(1e-9));
    for (int j = 1; j < grid.ny; ++j)
        for (int i = 1; i < grid.nx; ++i)
            CHECK(strain.node[grid.node(i, j)] == doctest::Approx(0.8 - 3.0).epsilon(1e-9));
}

TEST_CASE("A solve without a wire leaves no residual") {
    const BoxSolver solver(grid);
    const auto load = scattered(interior_count, 4);
    std::vector<double> psi(interior_count);
    BoxSolver::Workspace workspace;
    solver.solve(load.data(), nullptr, {}, psi.data(), workspace);
    auto residual = viscous_loads(psi);
    for (std::size_t k = 0; k < residual.size(); ++k) residual[k] -= load[k];
    CHECK(greatest(residual) < 1e-10);  // of loads of size 1, with a condition number of some 1e6
    CHECK(greatest(psi) > 1e-3);
}

TEST_CASE("A solve with conditions meets them and balances their multipliers") {
    const BoxSolver solver(grid);
    std::vector<NodeWeights> conditions{{{{20, 15, 1.0}}, 0},
                                        {{{22, 15, 0.5}, {23, 16, -0.75}}, 0},
                                        {{{1, 1, 1.0}, {2, 1, 0.25}}, 0},
                                        {{{25, 30, 1.0}, {25, 29, -1.0}}, 0}};
    const auto load = scattered(interior_count, 5);
    Eigen::VectorXd targets(4);
    targets << 0.3, -1.1, 0.02, 0.7;
    std::vector<double> psi(interior_count);
    BoxSolver::Workspace workspace;
    const Conditions prepared = solver.prepare(conditions);
    const auto multipliers = solver.solve(load.data(), &prepared, targets, psi.data(), workspace);
    const auto nodes = with_sides(grid, psi);
    for (std::size_t k = 0; k < conditions.size(); ++k)
        CHECK(std::abs(value_of(conditions[k], nodes) - targets[static_cast<Eigen::Index>(k)]) < 1e-9);
    auto residual = viscous_loads(psi);
    const double scale = greatest(residual);
    for (std::size_t k = 0; k < residual.size(); ++k) residual[k] -= load[k];
    for (std::size_t k = 0; k < conditions.size(); ++k)
        for (const auto& term : conditions[k].terms)
            residual[interior_of(term.i, term.j)] += term.weight * multipliers[static_cast<Eigen::Index>(k)];
    CHECK(greatest(residual) < 1e-9 * scale);
}

TEST_CASE("A solve in 32 bits agrees with the exact one to a few parts in a million") {
    const BoxSolver solver(grid);
    const WireConditions wire = wire_conditions(solver, {{20, 18}, 4, {3, -7}});
    const auto load = scattered(interior_count, 5);
    std::vector<double> exact(interior_count), single(interior_count);
    BoxSolver::Workspace workspace;
    solver.solve(load.data(), &wire.conditions, wire.targets, exact.data(), workspace);
    solver.solve(load.data(), &wire.conditions, wire.targets, single.data(), workspace,
                 BoxSolver::Precision::single);
    double most = 0;
    for (std::size_t k = 0; k < interior_count; ++k) most = std::max(most, std::abs(single[k] - exact[k]));
    CHECK(most < 5e-6 * greatest(exact));
    CHECK(most > 0);  // it did run in 32 bits
}

TEST_CASE("Every marker of a wire moves with it") {
    const BoxSolver solver(grid);
    const Wire wire{{21.3, 17.8}, 3.4, {12, -31}};
    const auto conditions = wire_conditions(solver, wire);
    REQUIRE(conditions.in_batter);
    REQUIRE(conditions.conditions.count() >= 16);
    const std::vector<double> load(interior_count, 0.0);
    std::vector<double> psi(interior_count);
    BoxSolver::Workspace workspace;
    solver.solve(load.data(), &conditions.conditions, conditions.targets, psi.data(), workspace);
    const Conditions& c = conditions.conditions;
    Eigen::VectorXd patch(c.on_patch.cols());
    Eigen::Index at = 0;
    for (int j = c.j0; j <= c.j1; ++j)
        for (int i = c.i0; i <= c.i1; ++i) patch[at++] = psi[interior_of(i, j)];
    const Eigen::VectorXd missed = c.on_patch * patch - conditions.targets;
    CHECK(missed.cwiseAbs().maxCoeff() < 1e-9 * 31);
}
