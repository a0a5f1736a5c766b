// Risks of the manners of pouring: each is given when it should be, at the right place, and not otherwise.
#include <doctest/doctest.h>

#include <functional>

#include "design/samples.h"
#include "design/validation.h"

using namespace foreslice;
using namespace foreslice::design;
using samples::warned;
using samples::warnings_after;

TEST_CASE("pour risks: a stream that goes to the floor, one that stays on top, one that does as it should") {
    const auto fall = [](batter::Trace trace, double height_mm) {
        return warnings_after([=](Design& d) {
            d.batter.trace = trace;
            d.pours[1].manner = PourManner::free_fall;
            d.pours[1].fall.height_mm = height_mm;
        });
    };
    CHECK(warned(fall(batter::Trace::thin, 300), "/pours/1/fall", "to the floor"));
    CHECK(warned(fall(batter::Trace::thick, 100), "/pours/1/fall", "heaps up"));
    const auto good = fall(batter::Trace::light, 30);
    CHECK_FALSE(warned(good, "/pours/1/fall", ""));
}

TEST_CASE("pour risks: slopes and hills that the batter does not hold, and what it would take") {
    const auto tilted = [](std::optional<double> firmed) {
        return warnings_after([=](Design& d) {
            d.pours[0].manner = PourManner::tilted;
            d.pours[0].firmed_yield_stress_pa = firmed;
        });
    };
    CHECK(warned(tilted({}), "/pours/0/tilt_deg", "flows down"));
    CHECK_FALSE(warned(tilted(80), "/pours/0/tilt_deg", "flows down"));
    const auto hilly = [](double amplitude_mm) {
        return warnings_after([=](Design& d) {
            d.batter.trace = batter::Trace::thick;
            d.pours[0].manner = PourManner::hills;
            d.pours[0].hills.amplitude_mm = amplitude_mm;
        });
    };
    CHECK(warned(hilly(12), "/pours/0/hills", "flows down"));  // 30 Pa hold 8 mm: about 3.6 Pa a mm
    CHECK_FALSE(warned(hilly(8), "/pours/0/hills", "flows down"));
    CHECK(warned(warnings_after([](Design& d) { d.pours[2].manner = PourManner::hills; }), "/pours/2/manner",
                 "level"));
}

TEST_CASE("pour risks: thick lines and lonely rooms") {
    CHECK(warned(warnings_after([](Design& d) {
                     d.pours[0].sifted_over = {"mica-gold", 0.8};
                 }),
                 "/pours/0/sifted_over/thickness_mm", "bonding"));
    CHECK_FALSE(warned(warnings_after([](Design& d) {
                           d.pours[0].sifted_over = {"mica-gold", 0.3};
                       }),
                       "/pours/0/sifted_over/thickness_mm", ""));
    CHECK(warned(warnings_after([](Design& d) { d.pours[1].manner = PourManner::side_by_side; }),
                 "/pours/1/manner", "nothing beside"));
}
