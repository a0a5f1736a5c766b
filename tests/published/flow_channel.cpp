// Yield-stress flow between parallel plates and in a round pipe: by the very sweep that solves the wire's
// flow, and between plates by the whole solver in two dimensions.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "batter/rheology.h"
#include "flow/dense_kernels.h"
#include "flow/driven_box.h"
#include "published/report.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

constexpr double pi = 3.14159265358979323846;

struct Profile {
    double flux = 0;     ///< over the full gap
    double fastest = 0;  ///< on the middle line
    double plug_width = 0;
};

// q / x against t = x / (x + width) for K q^n + r q = x, by bisection.
std::vector<float> law_table(const batter::Rheology& batter, double penalty, double width, int size) {
    std::vector<float> table(static_cast<std::size_t>(size) + 2);
    for (int i = 0; i <= size; ++i) {
        const double t = std::min((i + 1e-9) / size, 1 - 1e-9), x = width * t / (1 - t);
        double low = 0, high = x / penalty;
        for (int step = 0; step < 200; ++step) {
            const double q = 0.5 * (low + high);
            const double value = batter.consistency_pa_sn * std::pow(q, batter.flow_index) + penalty * q - x;
            (value > 0 ? high : low) = q;
        }
        table[static_cast<std::size_t>(i)] = static_cast<float>(0.5 * (low + high) / x);
    }
    table.back() = table[static_cast<std::size_t>(size)];
    return table;
}

// Strain rates in `cells` layers over a distance of 1, the stress growing from 0 to 1. The projection of the
// splitting method is explicit here, since the balance of forces gives the stress. `turn` gives the shear to
// both components of the strain, as in a flow at an angle.
constexpr int cells = 2000;
struct Layers {
    std::vector<double> rate = std::vector<double>(cells);  ///< 1/s, at (k + 1/2) / cells
    double plug = 0;                                        ///< how far the layers without strain reach
};

Layers sheared(const batter::Rheology& batter, double turn) {
    constexpr int size = 2048;
    const double h = 1.0 / cells, penalty = 2, width = 1;
    const auto table = law_table(batter, penalty, width, size);
    std::vector<double> ec(cells), en(cells), vc(cells), vn(cells), ratio(cells), zc(cells), zn(cells);
    SplitSweep sweep;
    sweep.count = cells;
    sweep.cell_strain = ec.data();
    sweep.node_strain = en.data();
    sweep.cell_state = vc.data();
    sweep.node_state = vn.data();
    sweep.ratio = ratio.data();
    sweep.cell_rhs = zc.data();
    sweep.node_rhs = zn.data();
    sweep.penalty = penalty;
    sweep.yield_stress = batter.yield_stress_pa;
    sweep.table = table.data();
    sweep.table_size = size;
    sweep.table_width = width;
    for (int iteration = 0; iteration < 3000; ++iteration) {
        sweep.relaxation = iteration == 0 ? 0 : 1.6;
        sweep.squared_residual = sweep.squared_strain = 0;
        dense_kernels().split_sweep(sweep);
        for (std::size_t i = 0; i < cells; ++i) {
            const double stress = (static_cast<double>(i) + 0.5) * h;
            ec[i] = zc[i] + stress * std::cos(turn) / penalty;
            en[i] = zn[i] + stress * std::sin(turn) / penalty;
        }
    }
    REQUIRE(sweep.squared_residual < 1e-12 * sweep.squared_strain);
    Layers out;
    for (std::size_t i = cells; i-- > 0;) {
        out.rate[i] = std::cos(turn) * ec[i] + std::sin(turn) * en[i];
        if (ratio[i] == 0 && out.plug == 0) out.plug = (static_cast<double>(i) + 1) * h;
    }
    return out;
}

// Half a gap of width 1 under pressure gradient 1: the stress is the distance from the middle.
Profile channel(const batter::Rheology& batter, double turn) {
    const Layers layers = sheared(batter, turn);
    Profile out;
    const double h = 1.0 / cells;
    for (std::size_t i = cells; i-- > 0;) {
        out.flux += 2 * h * (out.fastest + 0.5 * h * layers.rate[i]);
        out.fastest += h * layers.rate[i];
    }
    out.plug_width = layers.plug;
    return out;
}

// A pipe of radius 1 with wall stress 1: the flux is pi times the integral of r^2 times the strain rate.
double pipe_flux(const batter::Rheology& batter, double turn) {
    const Layers layers = sheared(batter, turn);
    double sum = 0;
    for (std::size_t i = 0; i < cells; ++i) {
        const double r = (static_cast<double>(i) + 0.5) / cells;
        sum += pi * r * r * layers.rate[i] / cells;
    }
    return sum;
}

// A tall closed box of width 4 whose left half is pushed up and whose right half is pushed down by 1 Pa/mm.
// Away from its ends each half is a channel of gap 2: by antisymmetry no pressure differs between the halves
// and the middle line stands still. Turning round at the ends loads the plugs, so the stress at the wall is
// less than in an endless channel; what it is there, the strain rate at the wall tells.
struct Twin {
    Profile profile;
    double wall_rate_per_s = 0;
};

Twin twin_channels(const batter::Rheology& batter, int cells_across) {
    const DrivenBox box({4, 16}, cells_across, DrivenBox::Top::free_slip);
    const Grid& g = box.grid();
    DrivenBox::Drive drive;
    drive.working_rate_per_s = 0.3;
    drive.load_pa_mm.assign(static_cast<std::size_t>(g.nx - 1) * (g.ny - 1), 0.0);
    for (int j = 1; j < g.ny; ++j)  // the forces' work: v = -psi_x integrates to -2 psi on the middle line
        drive.load_pa_mm[static_cast<std::size_t>(j - 1) * (g.nx - 1) + g.nx / 2 - 1] = -2 * g.hy;
    SplitControl control;
    control.tolerance = 3e-5;
    control.most_iterations = 3000;
    control.penalty_factor = 3;
    SplitState cold;
    const auto solution = box.solve(batter, drive, control, cold);
    REQUIRE(solution.iterations < control.most_iterations);
    Twin out;
    const auto psi = [&](int i) { return solution.psi[g.node(i, g.ny / 2)]; };
    const auto speed = [&](int i) { return (psi(i) - psi(i + 1)) / g.hx; };
    const auto rate = [&](int i) { return (speed(i) - speed(i - 1)) / g.hx; };
    out.wall_rate_per_s = 3 * rate(1) - 3 * rate(2) + rate(3);
    out.profile.flux = -psi(g.nx / 2);
    for (int i = 0; i < g.nx / 2; ++i) out.profile.fastest = std::max(out.profile.fastest, speed(i));
    for (int i = 0; i < g.nx / 2; ++i)
        if (speed(i) > 0.999 * out.profile.fastest) out.profile.plug_width += g.hx / 2;
    return out;
}

// Sheared layers under a push of 1 Pa/mm from the wall to where the stress has fallen to the yield stress,
// with a rigid plug between them: each layer is as in the closed form below.
Profile layers_and_plug(const batter::Rheology& b, double wall_rate) {
    const double n = b.flow_index, over = batter::shear_stress_pa(b, wall_rate) - b.yield_stress_pa;
    const double fastest = n / (n + 1) * over * std::pow(over / b.consistency_pa_sn, 1 / n);
    return {fastest * ((2 - 2 * over) + 2 * over * (n + 1) / (2 * n + 1)), fastest, 1 - over};
}

// The tall box again, each half filled with two layers: the thicker batter in the middle half of the box.
// Flux of the outer and of the inner layer of a half, and the speed where they meet.
struct TwoLayers {
    double outer = 0, inner = 0, interface = 0;
};

TwoLayers two_layers(double thicker, int cells_across) {
    const DrivenBox box({4, 16}, cells_across, DrivenBox::Top::free_slip);
    const Grid& g = box.grid();
    DrivenBox::Drive drive;
    drive.working_rate_per_s = 0.3;
    drive.load_pa_mm.assign(static_cast<std::size_t>(g.nx - 1) * (g.ny - 1), 0.0);
    for (int j = 1; j < g.ny; ++j)
        drive.load_pa_mm[static_cast<std::size_t>(j - 1) * (g.nx - 1) + g.nx / 2 - 1] = -2 * g.hy;
    SplitState state;
    for (int row = 0; row < 4 * g.ny; ++row)  // four quarters of every cell
        for (int i = 0; i < g.nx; ++i) state.batters.push_back(i >= g.nx / 4 && i < 3 * g.nx / 4);
    SplitControl control;
    control.tolerance = 1e-6;
    control.most_iterations = 1000;
    control.penalty_factor = std::sqrt(thicker);
    const auto solution = box.solve({{1, 1, 0}, {thicker, 1, 0}}, drive, control, state);
    REQUIRE(solution.iterations < control.most_iterations);
    const auto psi = [&](int i) { return solution.psi[g.node(i, g.ny / 2)]; };
    return {-psi(g.nx / 4), psi(g.nx / 4) - psi(g.nx / 2),
            (psi(g.nx / 4 - 1) - psi(g.nx / 4 + 1)) / (2 * g.hx)};
}

struct Case {
    double index, phi, flux, fastest;
};

const Case plane_cases[] = {{1, 0.25, 0.421875, 0.28125},
                            {1, 0.5, 0.2083333, 0.125},
                            {0.5, 0.25, 0.22851563, 0.140625},
                            {0.5, 0.5, 0.07291667, 0.04166667},
                            {0.4, 0.3, 0.13847653, 0.08199268}};

}  // namespace

// Closed forms, derived in any text on viscoplastic flow (e.g. Bird, Armstrong & Hassager, Dynamics of
// Polymeric Liquids) and confirmed here by quadrature to 1e-14: with half gap h, pressure gradient G and
// phi = tau_y / (G h), u_max = n/(n+1) (1-phi)^(1+1/n) h (G h/K)^(1/n) and
// Q = 2 h^2 (G h/K)^(1/n) n/(2n+1) (1-phi)^(1+1/n) (1 + phi n/(n+1)); the plug is phi h thick on either side.
TEST_CASE("Bingham and Herschel-Bulkley plane Poiseuille flow: closed forms for flux, speed and plug") {
    for (const Case& c : plane_cases)
        for (const double turn : {0.0, 0.7, 2.2}) {
            CAPTURE(c.index);
            CAPTURE(c.phi);
            CAPTURE(turn);
            const Profile profile = channel({1, c.index, c.phi}, turn);
            CHECK(profile.flux == doctest::Approx(c.flux).scale(0).epsilon(2e-4));
            CHECK(profile.fastest == doctest::Approx(c.fastest).scale(0).epsilon(2e-4));
            CHECK(std::abs(profile.plug_width - c.phi) < 2.0 / 2000);
        }
}

// The same closed forms against the solver that the faces come from, in two dimensions: the plug is rigid.
TEST_CASE("Bingham and Herschel-Bulkley channel flow, solved in two dimensions: the closed forms (long)") {
    for (const batter::Rheology& batter :
         {batter::Rheology{1, 1, 0.25}, {1, 1, 0.4}, {1, 0.5, 0.2}, {1, 0.7, 0.3}, {1, 1.3, 0.3}}) {
        CAPTURE(batter.flow_index);
        CAPTURE(batter.yield_stress_pa);
        double off[2];
        for (int level = 0; level < 2; ++level) {
            const Twin found = twin_channels(batter, 32 << level);
            const Profile exact = layers_and_plug(batter, found.wall_rate_per_s);
            off[level] = std::abs(found.profile.flux / exact.flux - 1);
            MESSAGE((32 << level) << " cells: flux " << found.profile.flux << " of " << exact.flux
                                  << ", fastest " << found.profile.fastest << " of " << exact.fastest
                                  << ", plug " << found.profile.plug_width << " of " << exact.plug_width);
            if (level == 0) continue;
            compare({"closed form (Bird, Armstrong & Hassager)",
                     "channel solved in two dimensions, n " + in_words(batter.flow_index) +
                         ", yield stress " + in_words(batter.yield_stress_pa) + " of the push: flux",
                     exact.flux},
                    found.profile.flux, 0.01 * exact.flux);
            CHECK(found.profile.fastest == doctest::Approx(exact.fastest).scale(0).epsilon(0.01));
            CHECK(std::abs(found.profile.plug_width - exact.plug_width) < 2.0 * 4 / 64);
        }
        CHECK(off[1] < std::max(0.6 * off[0], 0.004));
    }
    // An endless channel, whose wall stress is 1: the closed form's own figures.
    for (const Case& c : plane_cases) {
        const Profile endless = layers_and_plug({1, c.index, c.phi}, std::pow(1 - c.phi, 1 / c.index));
        CHECK(endless.flux == doctest::Approx(c.flux).scale(0).epsilon(1e-6));
        CHECK(endless.fastest == doctest::Approx(c.fastest).scale(0).epsilon(1e-6));
    }
}

// Round pipe, closed form (Buckingham 1921 and Reiner 1926 for n = 1, from memory; the general form confirmed
// by quadrature to 1e-14): with wall stress t and phi = tau_y / t, Q = pi R^3 (t/K)^(1/n) n (1-phi)^(1+1/n)
// [(1-phi)^2/(3n+1) + 2 phi (1-phi)/(2n+1) + phi^2/(n+1)].
TEST_CASE("Bingham and Herschel-Bulkley pipe flow: Buckingham-Reiner and its power-law form") {
    const auto exact = [](double n, double phi) {
        const double rest = 1 - phi;
        return pi * n * std::pow(rest, 1 + 1 / n) *
               (rest * rest / (3 * n + 1) + 2 * phi * rest / (2 * n + 1) + phi * phi / (n + 1));
    };
    CHECK(exact(1, 0.5) == doctest::Approx(0.27816185).scale(0).epsilon(1e-6));
    CHECK(exact(0.5, 0.3) == doctest::Approx(0.25107294).scale(0).epsilon(1e-6));
    for (const auto& pair : {std::pair{1.0, 0.5}, {0.5, 0.3}, {0.4, 0.1}, {1.0, 0.8}})
        for (const double turn : {0.0, 0.7}) {
            const double n = pair.first, phi = pair.second;
            CAPTURE(n);
            CAPTURE(phi);
            CHECK(pipe_flux({1, n, phi}, turn) == doctest::Approx(exact(n, phi)).scale(0).epsilon(2e-4));
            if (turn == 0.0)
                compare(
                    {"Buckingham 1921, Reiner 1926 (from memory)",
                     "pipe, n " + in_words(n) + ", yield stress " + in_words(phi) + " of the wall's: flux",
                     exact(n, phi)},
                    pipe_flux({1, n, phi}, turn), 2e-4 * exact(n, phi));
        }
}

// Bird, Stewart & Lightfoot, Transport Phenomena, section 2.5 (from memory; derived anew here: the shear
// stress is linear across the gap and the speed continuous at the interface): two Newtonian liquids that do
// not mix, each filling half of a gap of 2 b, pushed by G: mean speeds G b^2 / (12 mu_1) (7 mu_1 + mu_2) /
// (mu_1 + mu_2) and the same with the two exchanged; the interface moves with G b^2 / (mu_1 + mu_2). Strains
// at the interface are shared by the two, so the error is of first order in the cells.
TEST_CASE("two batters side by side in a channel: the closed form for immiscible liquids") {
    for (const double thicker : {2.0, 5.0, 10.0}) {
        CAPTURE(thicker);
        const TwoLayers coarse = two_layers(thicker, 32), fine = two_layers(thicker, 64);
        const double sum = 1 + thicker;
        const TwoLayers exact{(7 + thicker) / (12 * sum), (1 + 7 * thicker) / (12 * thicker * sum), 1 / sum};
        MESSAGE("thicker by " << thicker << ": outer layer " << coarse.outer << ", " << fine.outer << " of "
                              << exact.outer << "; inner " << coarse.inner << ", " << fine.inner << " of "
                              << exact.inner);
        CHECK(fine.outer == doctest::Approx(exact.outer).scale(0).epsilon(0.06));
        compare({"Bird, Stewart & Lightfoot, section 2.5 (from memory)",
                 "two liquids in a channel, one " + in_words(thicker) +
                     " times as thick: mean speed of the thinner",
                 exact.outer},
                2 * fine.outer - coarse.outer, 0.03 * exact.outer);
        CHECK(2 * fine.inner - coarse.inner == doctest::Approx(exact.inner).scale(0).epsilon(0.02));
        CHECK(2 * fine.interface - coarse.interface ==
              doctest::Approx(exact.interface).scale(0).epsilon(0.025));
    }
}
