// Yield-stress flow between parallel plates, by the very sweep that solves the wire's flow.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "batter/rheology.h"
#include "flow/dense_kernels.h"

using namespace foreslice;
using namespace foreslice::flow;

namespace {

struct Profile {
    double flux = 0;     ///< over the full gap
    double fastest = 0;  ///< on the middle line
    double plug_width = 0;
};

// q / x against t = x / (x + width) for K q^n + r q = x, by bisection.
std::vector<double> law_table(const batter::Rheology& batter, double penalty, double width, int size) {
    std::vector<double> table(static_cast<std::size_t>(size) + 2);
    for (int i = 0; i <= size; ++i) {
        const double t = std::min((i + 1e-9) / size, 1 - 1e-9), x = width * t / (1 - t);
        double low = 0, high = x / penalty;
        for (int step = 0; step < 200; ++step) {
            const double q = 0.5 * (low + high);
            const double value = batter.consistency_pa_sn * std::pow(q, batter.flow_index) + penalty * q - x;
            (value > 0 ? high : low) = q;
        }
        table[static_cast<std::size_t>(i)] = 0.5 * (low + high) / x;
    }
    table.back() = table[static_cast<std::size_t>(size)];
    return table;
}

// Half a gap of width 1 under pressure gradient 1, cells from the middle to the plate. The projection of the
// splitting method is explicit here, since the stress is known from the balance of forces: it is the distance
// from the middle. `turn` gives the shear to both components of the strain, as in a flow at an angle.
Profile channel(const batter::Rheology& batter, double turn) {
    constexpr int cells = 2000, size = 2048;
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
    Profile out;
    double speed = 0;
    for (std::size_t i = cells; i-- > 0;) {
        const double rate = std::cos(turn) * ec[i] + std::sin(turn) * en[i];
        out.flux += 2 * h * (speed + 0.5 * h * rate);
        speed += h * rate;
        if (ratio[i] == 0 && out.plug_width == 0) out.plug_width = (static_cast<double>(i) + 1) * h;
    }
    out.fastest = speed;
    return out;
}

struct Case {
    double index, phi, flux, fastest;
};

}  // namespace

// Closed forms, derived in any text on viscoplastic flow (e.g. Bird, Armstrong & Hassager, Dynamics of
// Polymeric Liquids) and confirmed here by quadrature to 1e-14: with half gap h, pressure gradient G and
// phi = tau_y / (G h), u_max = n/(n+1) (1-phi)^(1+1/n) h (G h/K)^(1/n) and
// Q = 2 h^2 (G h/K)^(1/n) n/(2n+1) (1-phi)^(1+1/n) (1 + phi n/(n+1)); the plug is phi h thick on either side.
TEST_CASE("Bingham and Herschel-Bulkley plane Poiseuille flow: closed forms for flux, speed and plug") {
    for (const Case& c : {Case{1, 0.25, 0.421875, 0.28125},
                          {1, 0.5, 0.2083333, 0.125},
                          {0.5, 0.25, 0.22851563, 0.140625},
                          {0.5, 0.5, 0.07291667, 0.04166667},
                          {0.4, 0.3, 0.13847653, 0.08199268}})
        for (const double turn : {0.0, 0.7, 2.2}) {
            CAPTURE(c.index);
            CAPTURE(c.phi);
            CAPTURE(turn);
            const Profile profile = channel({1, c.index, c.phi}, turn);
            CHECK(profile.flux == doctest::Approx(c.flux).epsilon(2e-4));
            CHECK(profile.fastest == doctest::Approx(c.fastest).epsilon(2e-4));
            CHECK(std::abs(profile.plug_width - c.phi) < 2.0 / 2000);
        }
}
