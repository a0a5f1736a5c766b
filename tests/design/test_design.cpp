// Geometry helpers: bars, areas, the cross-section.
#include <doctest/doctest.h>

#include <numeric>

#include "design/samples.h"

using namespace foreslice;
using namespace foreslice::design;

TEST_CASE("design: the flow's box is the filled cross-section") {
    Design design = samples::plain();
    design.mould = {65, 90, 280, 78.8};
    CHECK(box_of(design) == flow::Box{65, 78.8});
}

TEST_CASE("design: bars") {
    Design design = samples::plain();
    design.mould.length_mm = 280;
    design.cut = {25, 2.5};
    CHECK(bar_count(design) == 11);  // 275 / 25
    CHECK(bar_face_z_mm(design, 1) == 2.5);
    CHECK(bar_face_z_mm(design, 11) == 252.5);
    design.cut.trim_mm = 5;
    CHECK(bar_count(design) == 10);
    design.cut = {270.0 / 11, 5};  // not a round number in binary
    CHECK(bar_count(design) == 11);
    design.cut = {25, 140};
    CHECK(bar_count(design) == 0);
    design.cut.trim_mm = 200;
    CHECK(bar_count(design) == 0);
}

TEST_CASE("design: areas of the pours") {
    Design design = samples::plain();
    design.mould.width_mm = 65;
    design.mould.fill_mm = 80;
    const double whole = 65 * 80;
    const auto areas = pour_areas_mm2(design);
    REQUIRE(areas.size() == 3);
    CHECK(areas[0] == doctest::Approx(0.30 * whole));  // half of ink's 60 %
    CHECK(areas[1] == doctest::Approx(0.40 * whole));
    CHECK(areas[2] == doctest::Approx(0.30 * whole));  // what the other half leaves

    design.pours = {{"ink", 20.0, PourManner::laid, 0},
                    {"ink", {}, PourManner::laid, 0},
                    {"salt", {}, PourManner::laid, 0},
                    {"ink", {}, PourManner::laid, 0}};
    const auto split = pour_areas_mm2(design);
    CHECK(split[0] == doctest::Approx(0.12 * whole));
    CHECK(split[1] == doctest::Approx(0.24 * whole));
    CHECK(split[3] == doctest::Approx(0.24 * whole));
}

TEST_CASE("design: areas fill the mould exactly, also when the shares are a little off") {
    for (std::uint64_t seed = 0; seed < 200; ++seed) {
        Design design = samples::random(seed);
        design.portions[0].share_percent += 0.3;
        const auto areas = pour_areas_mm2(design);
        double sum = std::accumulate(areas.begin(), areas.end(), 0.0);
        for (const Pour& pour : design.pours) sum += line_area_mm2(design, pour);
        for (const double area : spooned_areas_mm2(design)) sum += area;
        CHECK(sum == doctest::Approx(design.mould.width_mm * design.mould.fill_mm).epsilon(1e-12));
        for (const double area : areas) CHECK(area >= 0);
    }
}

TEST_CASE("design: areas of nothing, and of portions that are not there") {
    Design design;
    CHECK(pour_areas_mm2(design).empty());
    design.pours = {{"ghost", {}, PourManner::laid, 0}};
    CHECK(pour_areas_mm2(design) == std::vector<double>{0});
    CHECK(find_portion(design, "ghost") == nullptr);
}
