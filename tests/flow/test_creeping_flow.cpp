// The flow round the wire at one instant: symmetries and identities that hold for any batter of its kind.
#include <doctest/doctest.h>

#include <cmath>
#include <utility>

#include "flow/flow_samples.h"
#include "flow/wire.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

const Box box{52, 45};
const batter::Rheology newtonian{0.8, 1, 0};
const batter::Rheology light{1.2, 0.75, 3};

double largest(const std::vector<double>& psi) {
    double most = 0;
    for (const double value : psi) most = std::max(most, std::abs(value));
    return most;
}

double difference(const std::vector<double>& a, const std::vector<double>& b, double scale_b = 1) {
    double most = 0;
    for (std::size_t k = 0; k < a.size(); ++k) most = std::max(most, std::abs(a[k] - scale_b * b[k]));
    return most / largest(a);
}

// Power dissipated by the batter per length of wire, Pa mm^2 / s: the integral of stress times strain rate.
double dissipation(const Grid& grid, const std::vector<double>& psi, const batter::Rheology& rheology) {
    Strain e;
    strain_of(grid, psi, e);
    double sum = 0;
    for (int corner = 0; corner < 4; ++corner)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const double rate = std::hypot(e.cell[grid.cell(i, j)],
                                               e.node[grid.node(i + (corner & 1), j + (corner >> 1))]);
                sum += rheology.yield_stress_pa * rate +
                       rheology.consistency_pa_sn * std::pow(rate, rheology.flow_index + 1);
            }
    return sum * grid.hx * grid.hy / 4;
}

}  // namespace

TEST_CASE("Reciprocal theorem (Lorentz 1896): the force matrix of a Newtonian batter is symmetric") {
    for (const Vec2 centre : {Vec2{14.3, 11.9}, {37, 33.1}}) {
        const auto across = closely_solved(box, 52, newtonian, {centre, 3, {10, 0}});
        const auto up = closely_solved(box, 52, newtonian, {centre, 3, {0, 10}});
        CHECK(std::abs(across.force_n_per_m.y) > 1e-4 * across.force_n_per_m.x);
        CHECK(across.force_n_per_m.y ==
              doctest::Approx(up.force_n_per_m.x)
                  .epsilon(1e-7 * across.force_n_per_m.x / std::abs(across.force_n_per_m.y)));
        CHECK(across.force_n_per_m.x > 0);
        CHECK(up.force_n_per_m.y > 0);
    }
}

TEST_CASE("The splitting method tends to the direct Newtonian solve as the yield stress vanishes") {
    const Wire wire{{23, 21}, 3, {20, -40}};
    const auto direct = closely_solved(box, 48, newtonian, wire);
    const auto split = closely_solved(box, 48, {0.8, 1, 1e-9}, wire, 2e-7);
    CHECK(direct.iterations == 1);
    REQUIRE(split.iterations > 1);
    REQUIRE(split.converged);
    CHECK(difference(direct.psi, split.psi) < 1e-6);
    CHECK(split.force_n_per_m.x == doctest::Approx(direct.force_n_per_m.x).epsilon(1e-6));
    CHECK(split.force_n_per_m.y == doctest::Approx(direct.force_n_per_m.y).epsilon(1e-6));
}

TEST_CASE("Mirrored wire, mirrored flow") {
    for (const auto& rheology : {newtonian, light}) {
        CAPTURE(rheology.yield_stress_pa);
        const auto left = closely_solved(box, 48, rheology, {{17.3, 21}, 3, {20, -40}}, 5e-4);
        const auto right = closely_solved(box, 48, rheology, {{52 - 17.3, 21}, 3, {-20, -40}}, 5e-4);
        const Grid grid(box, 48);
        std::vector<double> mirrored(grid.nodes());
        for (int j = 0; j <= grid.ny; ++j)
            for (int i = 0; i <= grid.nx; ++i)
                mirrored[grid.node(i, j)] = -right.psi[grid.node(grid.nx - i, j)];
        CHECK(difference(left.psi, mirrored) < 1e-8);
        CHECK(left.force_n_per_m.x == doctest::Approx(-right.force_n_per_m.x).epsilon(1e-8));
        CHECK(left.force_n_per_m.y == doctest::Approx(right.force_n_per_m.y).epsilon(1e-8));
    }
}

TEST_CASE("Moved the other way at the same place, the flow turns round") {
    for (const auto& rheology : {newtonian, light}) {
        const auto forth = closely_solved(box, 48, rheology, {{17.3, 21}, 3, {20, -40}}, 1e-3);
        const auto back = closely_solved(box, 48, rheology, {{17.3, 21}, 3, {-20, 40}}, 1e-3);
        CHECK(difference(forth.psi, back.psi, -1) < 1e-9);
    }
}

TEST_CASE("Without a yield stress the flow per unit of wire travel knows no speed") {
    for (const auto& rheology : {newtonian, batter::Rheology{2.5, 0.5, 0}}) {
        CAPTURE(rheology.flow_index);
        const auto slow = closely_solved(box, 48, rheology, {{20, 20}, 3, {0, -5}}, 1e-6);
        const auto fast = closely_solved(box, 48, rheology, {{20, 20}, 3, {0, -100}}, 1e-6);
        REQUIRE(slow.converged);
        REQUIRE(fast.converged);
        CHECK(difference(fast.psi, slow.psi, 20) < 1e-5);
        CHECK(fast.force_n_per_m.y ==
              doctest::Approx(slow.force_n_per_m.y * std::pow(20, rheology.flow_index)).epsilon(1e-4));
    }
}

TEST_CASE("With a yield stress the flow depends on the Bingham number only") {
    const batter::Rheology thin{1.2, 0.6, 2}, thick{12, 0.6, 20};
    const double slower = 30;  // K U^n in the proportion of the yield stresses at any one speed
    const auto a = closely_solved(box, 48, thin, {{20, 20}, 3, {0, -slower}}, 1e-5);
    const auto b = closely_solved(box, 48, thick, {{20, 20}, 3, {0, -slower}}, 1e-5);
    CHECK(batter::bingham_number(thin, 6, slower) ==
          doctest::Approx(batter::bingham_number(thick, 6, slower)).epsilon(1e-12));
    CHECK(difference(a.psi, b.psi) < 1e-6);
    CHECK(b.force_n_per_m.y == doctest::Approx(10 * a.force_n_per_m.y).epsilon(1e-6));

    // The same number at another speed: the yield stress follows U^n.
    const batter::Rheology matched{1.2, 0.6, 2 * std::pow(4, 0.6)};
    const auto c = closely_solved(box, 48, matched, {{20, 20}, 3, {0, -4 * slower}}, 1e-5);
    CHECK(difference(c.psi, a.psi, 4) < 1e-4);
    // And another number is another flow.
    const auto d = closely_solved(box, 48, thin, {{20, 20}, 3, {0, -4 * slower}}, 1e-5);
    CHECK(difference(d.psi, a.psi, 4) > 0.01);
}

TEST_CASE("The hand's work is what the batter dissipates") {
    const Vec2 velocity{15, -35};
    for (const auto& rheology : {newtonian, batter::Rheology{2.5, 0.5, 0}, light,
                                 batter::Rheology{0.3, 1, 12}, batter::Rheology{0.5, 1.3, 1}}) {
        CAPTURE(rheology.flow_index);
        CAPTURE(rheology.yield_stress_pa);
        const auto flow = closely_solved(box, 48, rheology, {{24, 22}, 3, velocity}, 1e-4);
        REQUIRE(flow.converged);
        const double work = 1000 * dot(flow.force_n_per_m, velocity);  // N/m mm/s = 1000 Pa mm^2/s
        CHECK(dissipation(Grid(box, 48), flow.psi, rheology) == doctest::Approx(work).epsilon(1e-3));
    }
}

TEST_CASE("A yield stress holds the batter still away from the wire") {
    const Grid grid(box, 48);
    const auto reach = [&](const PositionFlow& flow) {  // share of nodes that move at over a hundredth
        const SplineField field(grid, flow.psi, 1.0 / 50);
        int moving = 0, all = 0;
        for (const Vec2 p : lattice(box, 1)) {
            moving += length(field.gradient(p)) > 0.01;
            ++all;
        }
        return static_cast<double>(moving) / all;
    };
    const Wire wire{{26, 22}, 3, {0, -50}};
    const double thin = reach(closely_solved(box, 48, newtonian, wire));
    const double thick = reach(closely_solved(box, 48, {1, 1, 200}, wire, 1e-4));
    CHECK(thin > 0.9);
    CHECK(thick < 0.3);
}

TEST_CASE("A wire in the air moves nothing; one that stands still neither") {
    const auto above = closely_solved(box, 48, light, {{20, 60}, 3, {0, -50}});
    CHECK_FALSE(above.in_batter);
    CHECK(largest(above.psi) == 0);
    const auto still = closely_solved(box, 48, light, {{20, 20}, 3, {0, 0}});
    CHECK(still.in_batter);
    CHECK(largest(still.psi) == 0);
    CHECK(length(still.force_n_per_m) == 0);
}

TEST_CASE("While the wire passes through the top, the surface rises by what it displaces") {
    const Grid grid(box, 52);
    for (const double centre_y : {42.9, 44.0, 45.0, 46.7}) {
        CAPTURE(centre_y);
        const auto top = top_stream_function(grid, {{20.2, centre_y}, 3, {7, -40}});
        CHECK(top.front() == 0);
        CHECK(top.back() == 0);
        const double half_chord = std::sqrt(9 - (45 - centre_y) * (45 - centre_y));
        double most = 0;
        for (const double value : top) most = std::max(most, std::abs(value));
        CHECK(most <= 40 * 2 * half_chord);
        CHECK(most > 0.3 * 40 * 2 * half_chord * (20.2 / 52));
    }
    for (const double value : top_stream_function(grid, {{20.2, 41.9}, 3, {7, -40}})) CHECK(value == 0);
}

// What a tool displaces lifts the level: over a whole entry the logarithm of the height by that of the
// batter's area with the tool in it.
TEST_CASE("A tool that sinks in lifts the level by its area") {
    const Grid grid(box, 52);
    const double pi = 3.14159265358979323846;
    Stroke comb{4, 40, {}};
    comb.tool = {Tool::Kind::comb, 3, 12};
    for (const auto& [tool, area] :
         {std::pair{ToolShape(3), 9 * pi}, std::pair{ToolShape(comb), 3 * 4 * pi}}) {
        double lifted = 0;
        const double step = 0.01;
        for (double y = box.height_mm + 4; y > box.height_mm - 4; y -= step)
            lifted += level_rise_mm_per_s(grid, {{26, y}, tool, {0, -1}}) / box.height_mm * step;
        const double batter = box.width_mm * box.height_mm;
        CHECK(lifted == doctest::Approx(std::log(batter / (batter - area))).epsilon(1e-3));
    }
}
