#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "colour/pigment.h"

using namespace foreslice::colour;

TEST_CASE("finite layer: K = 0 and S = 0 are the limits of small K and S, without a jump") {
    for (double x : {0.01, 1.0, 25.0, 1000.0})
        for (double rg : {0.0, 0.3, 1.0}) {
            CAPTURE(x);
            CAPTURE(rg);
            const double no_k = reflectance_finite(0, 2, x, rg), no_s = reflectance_finite(0.3, 0, x, rg);
            CHECK(std::abs(no_k - (rg + 2 * x * (1 - rg)) / (1 + 2 * x * (1 - rg))) < 1e-13);
            CHECK(std::abs(no_s - rg * std::exp(-2 * 0.3 * x)) < 1e-13);
            double last = 1;
            for (double small : {1e-6, 1e-9, 1e-12, 1e-15, 1e-18, 1e-30}) {
                const double off = std::abs(reflectance_finite(small, 2, x, rg) - no_k);
                CHECK(off <= last + 1e-12);
                last = off;
            }
            CHECK(last < 1e-12);
            CHECK(std::abs(reflectance_finite(0.3, 1e-15, x, rg) - no_s) < 1e-13);
            CHECK(transmittance_finite(1e-30, 2, x) == doctest::Approx(1 / (1 + 2 * x)).epsilon(1e-12));
            CHECK(transmittance_finite(0.3, 1e-18, x) == doctest::Approx(std::exp(-0.3 * x)).epsilon(1e-12));
        }
}

TEST_CASE("finite layer: nothing there shows the backing, everything there hides it") {
    CHECK(reflectance_finite(0, 0, 25, 0.42) == 0.42);
    CHECK(transmittance_finite(0, 0, 25) == 1.0);
    CHECK(reflectance_finite(1, 1, 0, 0.42) == 0.42);
    CHECK(std::abs(reflectance_finite(0.5, 2, 500, 0.9) - reflectance_infinite(0.25)) < 1e-14);
    CHECK(reflectance_finite(5000, 1e-3, 25, 0.9) < 1e-6);
    CHECK(reflectance_finite(1e4, 1e4, 1e4, 1) == doctest::Approx(2 - std::sqrt(3.0)));
}

TEST_CASE("two layers laid on one another are one layer (Kubelka's composition law)") {
    for (double k : {0.0, 1e-8, 0.05, 3.0})
        for (double s : {0.0, 1e-8, 0.4, 6.0}) {
            const double under = reflectance_finite(k, s, 0.7, 0.55);
            CHECK(std::abs(reflectance_finite(k, s, 0.5, under) - reflectance_finite(k, s, 1.2, 0.55)) <
                  1e-12);
            const double r0 = reflectance_finite(k, s, 0.5, 0), t = transmittance_finite(k, s, 0.5);
            CHECK(std::abs(r0 + t * t * under / (1 - r0 * under) - reflectance_finite(k, s, 0.5, under)) <
                  1e-12);
        }
}

TEST_CASE("the surface: inverse of the correction, and a matt white stays below one") {
    const Surface surface;
    for (double r : {0.0, 1e-4, 0.03, 0.4, 0.96, 1.0})
        CHECK(std::abs(saunderson_inverse(saunderson(r, surface), surface) - r) < 1e-13);
    CHECK(saunderson(1, surface) == doctest::Approx(1 - surface.k1));
}

TEST_CASE("K and S add up with the dose, and a dose of nothing changes nothing") {
    Colourant red, white;
    red.unit.absorption_per_mm.fill(0.25);
    white.unit.scattering_per_mm.fill(0.5);
    Optics base;
    base.scattering_per_mm.fill(1);
    const Optics both = mixed(base, {{&red, 2}, {&white, 3}});
    CHECK(both.absorption_per_mm[7] == 0.5);
    CHECK(both.scattering_per_mm[7] == 2.5);
    const Optics in_steps = mixed(mixed(mixed(base, {{&white, 3}}), {{&red, 1.5}}), {{&red, 0.5}});
    CHECK(in_steps.absorption_per_mm == both.absorption_per_mm);
    CHECK(in_steps.scattering_per_mm == both.scattering_per_mm);
    CHECK(mixed(base, {{&red, 0}, {nullptr, 5}}).absorption_per_mm == base.absorption_per_mm);
}

TEST_CASE("a bar that scatters little lets the board beneath it show; a thick one does not") {
    Optics clear;
    clear.absorption_per_mm.fill(0.001);
    clear.scattering_per_mm.fill(0.001);
    const Surface surface;
    CHECK(std::abs(colour_of(clear, surface, 0.1).reflectance[10] -
                   saunderson(bar_backing_reflectance, surface)) < 1e-3);
    Optics dense = clear;
    dense.scattering_per_mm.fill(5);
    CHECK(colour_of(dense, surface, 25).lab.l > 90);
    CHECK(colour_of(dense, surface, 25).lab.l ==
          doctest::Approx(colour_of(dense, surface, 100).lab.l).epsilon(0.01));
}

TEST_CASE("teaspoons per pound: 4 g to the spoon, one spoon to the pound is 8.818 g per kg") {
    Colourant powder;
    powder.gram_per_teaspoon = 4;
    CHECK(teaspoons_per_pound(powder, 4 / 0.45359237) == doctest::Approx(1).epsilon(1e-12));
    CHECK(teaspoons_per_pound(powder, 0) == 0);
}
