// The wire's way: what "7 passes" means, clearances, and the way in and out.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "design/samples.h"
#include "design/validation.h"

using namespace foreslice;
using namespace foreslice::design;

namespace {

struct Extent {
    double left, right, lowest, highest_turn;
};

// Nearest gaps between wire and mould, and the highest the wire's top comes before the last point.
Extent extent_of(const std::vector<Vec2>& path, double radius, double width) {
    Extent extent{1e9, 1e9, 1e9, 0};
    for (std::size_t i = 0; i < path.size(); ++i) {
        extent.left = std::min(extent.left, path[i].x - radius);
        extent.right = std::min(extent.right, width - radius - path[i].x);
        extent.lowest = std::min(extent.lowest, path[i].y - radius);
        if (i > 0 && i + 1 < path.size())
            extent.highest_turn = std::max(extent.highest_turn, path[i].y + radius);
    }
    return extent;
}

// Vertical runs through the middle of the batter: what a maker counts.
int crossings(const std::vector<Vec2>& path, double level) {
    int count = 0;
    for (std::size_t i = 1; i < path.size(); ++i)
        if ((path[i - 1].y > level) != (path[i].y > level)) ++count;
    return count;
}

Design with(const Passes& passes, double wire_mm) {
    Design design = samples::plain();
    design.strokes = {{wire_mm, 50, passes}};
    return design;
}

}  // namespace

TEST_CASE("passes: six, point by point") {
    Design design = with({.count = 6, .spacing_mm = {}, .margin_mm = 10}, 6);
    design.mould.width_mm = 70;
    const std::vector<Vec2> expected{{10, 84}, {10, 7},  {20, 7},  {20, 69}, {30, 69}, {30, 7},
                                     {40, 7},  {40, 69}, {50, 69}, {50, 7},  {60, 7},  {60, 84}};
    CHECK(path_of(design.strokes[0], design) == expected);
}

TEST_CASE("passes: an odd count is lifted between the last two lines, not back up its own") {
    Design design = with({.count = 3, .spacing_mm = 12.0, .margin_mm = 8}, 6);
    const std::vector<Vec2> expected{{8, 84},  {8, 7},  {20, 7}, {20, 69},
                                     {32, 69}, {32, 7}, {26, 7}, {26, 84}};
    CHECK(path_of(design.strokes[0], design) == expected);
}

TEST_CASE("passes: one") {
    Design design = with({.count = 1, .spacing_mm = {}}, 6);
    design.mould.width_mm = 64;
    const std::vector<Vec2> middle{{32, 84}, {32, 7}, {44, 7}, {44, 84}};
    CHECK(path_of(design.strokes[0], design) == middle);
    std::get<Passes>(design.strokes[0].path).spacing_mm = 10;
    const std::vector<Vec2> margin{{8, 84}, {8, 7}, {13, 7}, {13, 84}};
    CHECK(path_of(design.strokes[0], design) == margin);
}

TEST_CASE("passes: count, clearances and way out hold for any count, wire and side") {
    for (int count = 1; count <= 12; ++count)
        for (const double wire : {2.0, 4.0, 6.0})
            for (const bool spaced : {false, true}) {
                CAPTURE(count);
                CAPTURE(wire);
                Passes passes{.count = count, .spacing_mm = {}, .margin_mm = 6};
                if (spaced) passes.spacing_mm = 4.5;
                Design design = with(passes, wire);
                REQUIRE_NOTHROW(validate(design));
                const auto path = path_of(design.strokes[0], design);
                const double radius = wire / 2;
                const Extent extent = extent_of(path, radius, design.mould.width_mm);
                CHECK(extent.lowest == doctest::Approx(passes.floor_clearance_mm));
                CHECK(extent.left >= passes.margin_mm - radius - 1e-9);
                CHECK(extent.right >= passes.margin_mm - radius - 1e-9);
                CHECK(extent.highest_turn <= design.mould.fill_mm - passes.top_clearance_mm + 1e-9);
                CHECK(path.front().y == doctest::Approx(design.mould.fill_mm + radius + 1));
                CHECK(path.back().y == doctest::Approx(design.mould.fill_mm + radius + 1));
                CHECK(crossings(path, design.mould.fill_mm / 2) == count + count % 2);
                for (std::size_t i = 1; i < path.size(); ++i) {
                    const Vec2 step = path[i] - path[i - 1];
                    CHECK((step.x == 0) != (step.y == 0));  // straight up, down or across, never nothing
                }
            }
}

TEST_CASE("passes: from the right is the mirror image") {
    for (const int count : {1, 2, 5, 8})
        for (const bool spaced : {false, true}) {
            Passes passes{.count = count, .spacing_mm = {}, .margin_mm = 7};
            if (spaced) passes.spacing_mm = 6;
            const Design left = with(passes, 5);
            passes.start = Side::right;
            const Design right = with(passes, 5);
            const auto a = path_of(left.strokes[0], left);
            const auto b = path_of(right.strokes[0], right);
            REQUIRE(a.size() == b.size());
            for (std::size_t i = 0; i < a.size(); ++i) {
                CHECK(b[i].x == doctest::Approx(left.mould.width_mm - a[i].x));
                CHECK(b[i].y == a[i].y);
            }
        }
}

TEST_CASE("passes: spread evenly, the first and last stand at the margins") {
    const Design design = with({.count = 7, .spacing_mm = {}, .margin_mm = 8}, 6);
    const auto xs = pass_positions_mm(std::get<Passes>(design.strokes[0].path), design);
    REQUIRE(xs.size() == 8);  // seven and the lift
    CHECK(xs[0] == doctest::Approx(8));
    CHECK(xs[6] == doctest::Approx(design.mould.width_mm - 8));
    CHECK(xs[7] == doctest::Approx((xs[5] + xs[6]) / 2));
}

TEST_CASE("waypoints: a path in air at both ends is taken as it is") {
    Design design = samples::plain();
    const std::vector<Vec2> points{{10, 90}, {20, 10}, {30, 90}};
    design.strokes = {{6, 50, Waypoints{points}}};
    CHECK(path_of(design.strokes[0], design) == points);
}

TEST_CASE("waypoints: a path that starts or ends inside gets a straight way in and out") {
    Design design = samples::plain();  // fill 80
    design.strokes = {{6, 50, Waypoints{{{10, 40}, {20, 10}, {20, 10}, {30, 81}}}}};
    const std::vector<Vec2> expected{{10, 84}, {10, 40}, {20, 10}, {30, 81}, {30, 84}};
    CHECK(path_of(design.strokes[0], design) == expected);
}

TEST_CASE("waypoints: random paths start and end with the wire clear of the batter") {
    for (std::uint64_t seed = 0; seed < 200; ++seed) {
        const Design design = samples::random(seed);
        const auto strokes = flow_strokes_of(design);
        REQUIRE(strokes.size() == design.strokes.size());
        for (const auto& stroke : strokes) {
            const double clear = box_of(design).height_mm + stroke.wire_diameter_mm / 2;
            REQUIRE(stroke.path_mm.size() >= 2);
            CHECK(stroke.path_mm.front().y > clear);
            CHECK(stroke.path_mm.back().y > clear);
        }
    }
}

TEST_CASE("paths: nonsense that has not been validated gives a finite path or none, never a crash") {
    Design design = samples::plain();
    design.strokes = {{6, 50, Waypoints{}},
                      {6, 50, Passes{.count = -3, .spacing_mm = {}}},
                      {6, 50, Passes{.count = 0, .spacing_mm = {}}}};
    CHECK(path_of(design.strokes[0], design).empty());
    CHECK(path_of(design.strokes[1], design).size() >= 2);
    CHECK(path_of(design.strokes[2], design).size() >= 2);
}
