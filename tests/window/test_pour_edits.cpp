#include <doctest/doctest.h>

#include "colour/pigment.h"
#include "design/validation.h"
#include "studio/session/edits.h"
#include "studio/session/pour_edits.h"

using namespace foreslice;
using namespace foreslice::studio;
using design::PourManner;

TEST_CASE("pours that go in together share a manner and part when moved away") {
    Design design = with_manner(starter_design(), 1, PourManner::side_by_side);
    CHECK(design.pours[1].manner == PourManner::side_by_side);
    CHECK(design.pours[0].manner == PourManner::laid);
    design = with_togetherness(design, 2, true);
    CHECK(design.pours[2].with_previous);
    CHECK(design.pours[2].manner == PourManner::side_by_side);
    CHECK(first_together(design, 2) == 1);
    CHECK_NOTHROW(design::validate(design));
    design = with_manner(design, 2, PourManner::free_fall);
    CHECK(design.pours[1].manner == PourManner::free_fall);
    CHECK_NOTHROW(design::validate(design));
    CHECK(with_togetherness(design, 0, true) == design);  // there is none before the first
    const Design moved = with_pour_moved(design, 2, 6);
    CHECK_FALSE(moved.pours[6].with_previous);
    CHECK_NOTHROW(design::validate(moved));
    CHECK_FALSE(with_togetherness(design, 2, false).pours[2].with_previous);
    CHECK(with_manner(design, 99, PourManner::hills) == design);
}

TEST_CASE("places of a stream are spread over the mould; one is the middle") {
    Design design = with_fall_places(starter_design(), 2, 3);
    REQUIRE(design.pours[2].fall.at_mm.size() == 3);
    CHECK(design.pours[2].fall.at_mm[1] == doctest::Approx(design.mould.width_mm / 2));
    CHECK(design.pours[2].fall.at_mm[0] == doctest::Approx(design.mould.width_mm / 6));
    CHECK(with_fall_places(design, 2, 1).pours[2].fall.at_mm.empty());
    CHECK(with_fall_places(design, 2, 5000).pours[2].fall.at_mm.size() == 50);
}

TEST_CASE("a line comes, changes its powder and goes") {
    const auto library = colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json");
    Design design = with_line(starter_design(), 1, "mica-gold");
    REQUIRE(design.pours[1].sifted_over);
    design.pours[1].sifted_over->thickness_mm = 0.4;
    design = with_line(design, 1, "activated-charcoal");
    CHECK(design.pours[1].sifted_over->thickness_mm == 0.4);
    CHECK_NOTHROW(design::validate(design, library));
    CHECK(with_line(design, 1, "") == starter_design());
}

TEST_CASE("strokes wait for no more pours than there are, and not in the middle of a jug") {
    Design design = starter_design();
    design.strokes[0].after_pours = 7;
    const Design fewer = without_pour(design, 0);
    CHECK(fewer.strokes[0].after_pours == 6);
    CHECK_NOTHROW(design::validate(fewer));
    design.strokes[0].after_pours = 3;
    design = with_togetherness(design, 3, true);
    CHECK(design.strokes[0].after_pours == 4);
    CHECK_NOTHROW(design::validate(design));
}
