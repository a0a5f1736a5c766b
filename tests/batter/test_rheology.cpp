// The trace presets against the published flow curves that bracket them, and the figures derived from them.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "batter/rheology.h"

using namespace foreslice::batter;

namespace {

constexpr double fresh_kg_per_m3 = 1016;
constexpr double wire_mm = 4;
constexpr double speed_mm_per_s = 50;
constexpr double rate_per_s = speed_mm_per_s / wire_mm;

}  // namespace

TEST_CASE("presets: figures at a 4 mm wire moving at 50 mm/s") {
    // Worked by hand from K, n and the yield stress: mu = K rate^(n-1), Bn = yield d / (mu U), rate 12.5 1/s.
    struct Row {
        Trace trace;
        double mu, bn;
    };
    const Row rows[] = {{Trace::emulsion, 0.15, 0}, {Trace::thin, 0.41, 0.10},
                        {Trace::light, 0.64, 0.38}, {Trace::medium, 1.24, 0.65},
                        {Trace::thick, 2.26, 1.06}, {Trace::very_thick, 3.95, 1.42}};
    for (const Row& row : rows) {
        CAPTURE(name_of(row.trace));
        const Rheology rheology = rheology_of(row.trace);
        CHECK(plastic_viscosity_pa_s(rheology, rate_per_s) == doctest::Approx(row.mu).epsilon(0.01));
        CHECK(std::abs(bingham_number(rheology, wire_mm, speed_mm_per_s) - row.bn) < 0.006);
    }
}

TEST_CASE("presets: bracketed by published flow curves of foods at the rates a wire makes") {
    // Herschel-Bulkley fits of low-fat yoghurts at 4 C, Dairy Sci. Technol. 89 (2009), Table VI:
    const Rheology thinnest_yoghurt{0.94, 0.86, 11.06};  // polysaccharide-forming culture, day 28
    const Rheology youngest_yoghurt{1.22, 0.73, 5.25};   // the same culture, day 1
    const Rheology inulin_day_1{2.06, 0.62, 8.00};
    const Rheology inulin_day_28{4.01, 0.66, 27.84};
    // Steffe 1996, Rheological Methods in Food Process Engineering, appendix (from memory): tomato ketchup.
    const Rheology ketchup{18.7, 0.27, 32};
    for (const double rate : {5.0, 12.5, 25.0}) {  // 1/s
        CAPTURE(rate);
        const auto stress = [rate](const Rheology& r) { return shear_stress_pa(r, rate); };
        CHECK(stress(rheology_of(Trace::light)) < stress(youngest_yoghurt));
        CHECK(stress(rheology_of(Trace::medium)) > stress(inulin_day_1));
        CHECK(stress(rheology_of(Trace::medium)) > stress(youngest_yoghurt));
        CHECK(stress(rheology_of(Trace::medium)) < stress(inulin_day_28));
        CHECK(stress(rheology_of(Trace::thick)) > stress(thinnest_yoghurt));
        CHECK(stress(rheology_of(Trace::thick)) < stress(ketchup));
        CHECK(stress(rheology_of(Trace::very_thick)) > stress(ketchup));
    }
}

TEST_CASE("presets: every step thickens, and only an emulsion is Newtonian") {
    for (std::size_t i = 0; i < all_traces.size(); ++i) {
        const Rheology now = rheology_of(all_traces[i]);
        CHECK(now.newtonian() == (all_traces[i] == Trace::emulsion));
        if (i == 0) continue;
        const Rheology before = rheology_of(all_traces[i - 1]);
        for (const double rate : {0.1, 1.0, 12.5, 100.0})
            CHECK(shear_stress_pa(now, rate) > shear_stress_pa(before, rate));
        CHECK(now.yield_stress_pa > before.yield_stress_pa);
    }
}

TEST_CASE("trail that stays: rho g A / e, the greatest shear stress under a sinusoidal load") {
    // Half-space under p0 cos(kx): the shear stress is p0 k y exp(-k y) (Timoshenko & Goodier, Theory of
    // Elasticity, sinusoidal load on a half-plane), greatest at k y = 1 with p0 / e. Found here numerically.
    double greatest = 0;
    for (int i = 1; i < 5000; ++i) greatest = std::max(greatest, i * 1e-3 * std::exp(-i * 1e-3));
    for (const Trace trace : all_traces) {
        const Rheology rheology = rheology_of(trace);
        const double height_mm = trail_height_that_stays_mm(rheology, fresh_kg_per_m3);
        const double stress_pa = fresh_kg_per_m3 * 9.80665 * height_mm * 1e-3 * greatest;
        CHECK(stress_pa == doctest::Approx(rheology.yield_stress_pa).epsilon(1e-5));
    }
    // 3.61 Pa a millimetre at the density of water.
    CHECK(trail_height_that_stays_mm({1, 1, 3.61}, 1000) == doctest::Approx(1).epsilon(0.001));
    CHECK(trail_height_that_stays_mm(rheology_of(Trace::emulsion), fresh_kg_per_m3) == 0);
    CHECK(trail_height_that_stays_mm(rheology_of(Trace::light), fresh_kg_per_m3) ==
          doctest::Approx(0.8).epsilon(0.05));
    CHECK(trail_height_that_stays_mm(rheology_of(Trace::medium), fresh_kg_per_m3) ==
          doctest::Approx(2.8).epsilon(0.05));
    CHECK(trail_height_that_stays_mm(rheology_of(Trace::thick), fresh_kg_per_m3) ==
          doctest::Approx(8).epsilon(0.05));
    CHECK(trail_height_that_stays_mm(rheology_of(Trace::very_thick), fresh_kg_per_m3) ==
          doctest::Approx(19).epsilon(0.05));
}

TEST_CASE("numbers: a slower tool raises Bn as speed^-n, Reynolds falls back to rho U d / mu") {
    const Rheology thick = rheology_of(Trace::thick);
    const double ratio = bingham_number(thick, wire_mm, 10) / bingham_number(thick, wire_mm, 50);
    CHECK(ratio == doctest::Approx(std::pow(5.0, thick.flow_index)));
    // A 6 mm wire at 50 mm/s in a Newtonian batter of 1 Pa s and 1015 kg/m3: 1015 * 0.05 * 0.006 / 1.
    CHECK(reynolds_number({1, 1, 0}, 1015, 6, 50) == doctest::Approx(0.3045));
    // The yield stress adds to the effective viscosity: with yield = K rate^n it doubles.
    CHECK(reynolds_number({1, 1, 50.0 / 6.0}, 1015, 6, 50) == doctest::Approx(0.3045 / 2));
}

TEST_CASE("names: there and back, and nothing else") {
    for (const Trace trace : all_traces) {
        CHECK(trace_from_name(name_of(trace)) == trace);
        CHECK_FALSE(behaves_like(trace).empty());
    }
    CHECK_FALSE(trace_from_name("runny"));
    CHECK_FALSE(trace_from_name(""));
    CHECK(name_of(Trace::very_thick) == "very thick");
}
