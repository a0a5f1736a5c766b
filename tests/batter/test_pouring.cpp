#include <doctest/doctest.h>

#include <cmath>

#include "batter/pouring.h"

using namespace foreslice;

namespace {

double depth_mm(double viscosity_pa_s, double yield_stress_pa, double height_cm) {
    return batter::plunge_of(viscosity_pa_s, yield_stress_pa, 1000, 10 * height_cm, 30).depth_mm;
}

}  // namespace

// Own model (three formulas), its table worked out for this project for Q = 30 mL/s and V0 = 0.1 m/s: no
// measurement of a soap stream is known, so these values only pin the formulas down.
TEST_CASE("plunge depth of the own model: thin dives, medium dents, thick sits on top") {
    struct Row {
        double viscosity, yield, depth_mm[4];  // at 2, 5, 10 and 30 cm
    };
    const Row rows[] = {{0.5, 2, {27, 43, 60, 104}},
                        {2, 8, {3.4, 5.3, 7.5, 13}},
                        {5, 30, {0, 1.1, 1.6, 2.7}},
                        {10, 60, {0, 0.4, 0.5, 0.9}}};
    const double heights_cm[] = {2, 5, 10, 30};
    for (const Row& row : rows)
        for (int i = 0; i < 4; ++i) {
            CAPTURE(row.viscosity);
            CAPTURE(heights_cm[i]);
            const double rounding = row.depth_mm[i] < 10 ? 0.051 : 0.51;
            CHECK(std::abs(depth_mm(row.viscosity, row.yield, heights_cm[i]) - row.depth_mm[i]) <= rounding);
        }
    CHECK(depth_mm(0.1, 0.3, 10) > 300);  // to the bottom of any mould
}

TEST_CASE("plunge depth grows linearly with the rate and as the root of the height") {
    const double one = batter::plunge_of(1, 4, 1016, 200, 20).depth_mm;
    CHECK(batter::plunge_of(1, 4, 1016, 200, 40).depth_mm == doctest::Approx(2 * one));
    CHECK(batter::plunge_of(1, 4, 1016, 800, 20).depth_mm == doctest::Approx(2 * one).epsilon(0.01));
    CHECK(std::isinf(batter::plunge_of(1, 0, 1016, 200, 20).depth_mm));
    // a stream that would go less deep than it is wide stays on top
    const batter::Rheology thick = batter::rheology_of(batter::Trace::thick);
    CHECK(batter::plunge_of(thick, 1016, 150, 30).depth_mm == 0);
    CHECK(batter::plunge_of(batter::rheology_of(batter::Trace::light), 1016, 150, 30).depth_mm > 20);
}

// Slope of a thin layer at rest: Liu & Mei 1989, J. Fluid Mech. 207, 505 (formula from memory); the figures
// are worked out from it for a density of 1000 kg/m3.
TEST_CASE("rest slope and rest heap after Liu & Mei 1989") {
    const struct {
        double yield_pa, length_mm, degrees;
    } rows[] = {{10, 1.02, 1.2}, {30, 3.06, 3.5}, {60, 6.1, 7}, {100, 10.2, 11.5}};
    for (const auto& row : rows) {
        CHECK(batter::yield_length_mm(row.yield_pa, 1000) == doctest::Approx(row.length_mm).epsilon(0.005));
        const double degrees = std::atan(batter::rest_slope(row.yield_pa, 1000, 50)) * 180 / 3.14159265358979;
        CHECK(degrees == doctest::Approx(row.degrees).epsilon(0.04));
    }
    CHECK(batter::yield_length_mm(1, 1000) == doctest::Approx(0.10).epsilon(0.03));
    const auto flat = batter::mound_at_rest(10, 1000, 500), steep = batter::mound_at_rest(60, 1000, 500);
    CHECK(flat.reach_mm == doctest::Approx(65).epsilon(0.01));
    CHECK(flat.height_mm == doctest::Approx(11.5).epsilon(0.01));
    CHECK(steep.reach_mm == doctest::Approx(36).epsilon(0.01));
    CHECK(steep.height_mm == doctest::Approx(21).epsilon(0.01));
    // the area under the parabola is the one asked for
    CHECK(2.0 / 3 * flat.reach_mm * flat.height_mm == doctest::Approx(500));
}
