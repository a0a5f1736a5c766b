#include <doctest/doctest.h>

#include "design/validation.h"
#include "studio/session/edits.h"
#include "studio/session/stroke_order.h"

using namespace foreslice;
using namespace foreslice::studio;

namespace {

// Strokes told apart by their wires, of 3, 4, 5 mm and so on.
Design with_strokes(std::size_t count) {
    Design design = starter_design();
    design.strokes.resize(1);
    while (design.strokes.size() < count) design = with_new_stroke(std::move(design));
    for (std::size_t i = 0; i < count; ++i) design.strokes[i].wire_diameter_mm = 3 + static_cast<double>(i);
    return design;
}

std::vector<double> wires_mm(const Design& design) {
    std::vector<double> wires;
    for (const auto& stroke : design.strokes) wires.push_back(stroke.wire_diameter_mm);
    return wires;
}

}  // namespace

TEST_CASE("a stroke can wait for any pour that leaves enough batter to draw through") {
    Design design = with_strokes(1);
    const auto moments = moments_for_stroke(design, 0);
    CHECK(moments.back() == design.pours.size());
    for (const std::size_t pours : moments) {
        std::size_t stroke = 0;
        const Design drawn = with_stroke_after(design, stroke, pours);
        CHECK_NOTHROW(design::validate(drawn));
        CHECK(design::pours_before(drawn.strokes[0], drawn) == pours);
    }
    SUBCASE("not before pours that go in with the one before them") {
        design.pours[1].with_previous = true;
        for (const std::size_t pours : moments_for_stroke(design, 0)) CHECK(pours != 1);
    }
    SUBCASE("not in a puddle: the tool has to find its way through it") {
        design.strokes[0].wire_diameter_mm = 12;
        const auto fewer = moments_for_stroke(design, 0);
        CHECK(fewer.size() < moments.size());
        for (const std::size_t pours : fewer) CHECK(design::level_after_mm(design, pours) >= 16);
    }
    SUBCASE("a moment that is not offered changes nothing") {
        std::size_t stroke = 0;
        CHECK(with_stroke_after(design, stroke, 99) == design);
        stroke = 7;
        CHECK(with_stroke_after(design, stroke, moments.front()) == design);
        CHECK(stroke == 7);
    }
}

TEST_CASE("strokes stand in the order in which they are drawn") {
    Design design = with_strokes(3);
    const std::size_t early = moments_for_stroke(design, 0).front(), all = design.pours.size();
    REQUIRE(early < all);
    std::size_t stroke = 2;
    design = with_stroke_after(std::move(design), stroke, early);
    CHECK(stroke == 0);
    CHECK(wires_mm(design) == std::vector<double>{5, 3, 4});
    SUBCASE("a later one of the same moment comes after it") {
        stroke = 2;
        design = with_stroke_after(std::move(design), stroke, early);
        CHECK(stroke == 1);
        CHECK(wires_mm(design) == std::vector<double>{5, 4, 3});
    }
    SUBCASE("back to the end it is the last") {
        stroke = 0;
        design = with_stroke_after(std::move(design), stroke, all);
        CHECK(stroke == 2);
        CHECK(!design.strokes[2].after_pours);
        CHECK(wires_mm(design) == std::vector<double>{3, 4, 5});
    }
    SUBCASE("only neighbours of one moment change places") {
        CHECK(!strokes_can_swap(design, 0));
        CHECK(with_strokes_swapped(design, 0) == design);
        CHECK(strokes_can_swap(design, 1));
        CHECK(wires_mm(with_strokes_swapped(design, 1)) == std::vector<double>{5, 4, 3});
        CHECK(!strokes_can_swap(design, 2));
    }
}
