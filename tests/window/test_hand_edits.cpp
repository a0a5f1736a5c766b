#include <doctest/doctest.h>

#include <cmath>

#include "design/validation.h"
#include "studio/session/edits.h"
#include "studio/session/layer_edits.h"
#include "studio/session/wire_edits.h"

using namespace foreslice;
using namespace foreslice::studio;
using doctest::Approx;

namespace {

double depth_mm(const Design& design, std::size_t pour) {
    return design::pour_areas_mm2(design)[pour] / design.mould.width_mm;
}

Design with_points(std::vector<Vec2> points) {
    Design design = starter_design();
    design.strokes[0].path = design::Waypoints{std::move(points)};
    return design;
}

}  // namespace

TEST_CASE("dragging an edge gives one layer what the other loses and leaves the rest") {
    const Design before = starter_design();
    // Pours 1 and 2 of the starter are poured from different portions, and each of those is poured twice.
    const Design after = with_edge_moved(before, 1, 2, 3);
    CHECK_NOTHROW(design::validate(after));
    CHECK(depth_mm(after, 1) == Approx(depth_mm(before, 1) + 3).epsilon(0.002));
    CHECK(depth_mm(after, 2) == Approx(depth_mm(before, 2) - 3).epsilon(0.002));
    for (const std::size_t other : {0U, 3U, 4U, 5U, 6U})
        CHECK(depth_mm(after, other) == Approx(depth_mm(before, other)).epsilon(0.004));
    double shares = 0;
    for (const auto& portion : after.portions) shares += portion.share_percent;
    CHECK(shares == Approx(100).epsilon(1e-9));
    SUBCASE("an edge between two pours of one portion changes its parts alone") {
        Design twice = before;
        twice.pours[1].portion = twice.pours[0].portion;
        twice.pours.pop_back();
        twice = with_areas(twice, std::vector<double>(twice.pours.size(), 100));
        const Design moved = with_edge_moved(twice, 0, 1, 2);
        CHECK(moved.portions == twice.portions);
        CHECK(depth_mm(moved, 0) == Approx(depth_mm(twice, 0) + 2).epsilon(0.002));
    }
    SUBCASE("no layer goes away altogether") {
        CHECK(depth_mm(with_edge_moved(before, 1, 2, 1000), 2) == Approx(least_layer_mm).epsilon(0.05));
        CHECK(depth_mm(with_edge_moved(before, 1, 2, -1000), 1) == Approx(least_layer_mm).epsilon(0.05));
    }
    CHECK(with_edge_moved(before, 1, 99, 3) == before);
    CHECK(with_edge_moved(before, 2, 2, 3) == before);
}

TEST_CASE("dragging the level pours the last layer deeper and keeps the others") {
    const Design before = starter_design();
    const Design after = with_level_moved(before, 4);
    CHECK_NOTHROW(design::validate(after));
    CHECK(after.mould.fill_mm == before.mould.fill_mm + 4);
    CHECK(depth_mm(after, 0) == Approx(depth_mm(before, 0)).epsilon(0.004));
    CHECK(depth_mm(after, 6) == Approx(depth_mm(before, 6) + 4).epsilon(0.004));
    CHECK(with_level_moved(before, 1000).mould.fill_mm == before.mould.height_mm);
    CHECK_NOTHROW(design::validate(with_level_moved(before, -1000)));
}

TEST_CASE("another portion in the place of a pour keeps the depths") {
    const Design before = starter_design();
    const Design after = with_pour_of(before, 2, "ink");
    CHECK_NOTHROW(design::validate(after));
    CHECK(after.pours[2].portion == "ink");
    for (std::size_t i = 0; i < before.pours.size(); ++i)
        CHECK(depth_mm(after, i) == Approx(depth_mm(before, i)).epsilon(0.004));
    CHECK(with_pour_of(before, 4, "ink").portions.size() == 3);  // the amber has no other pour
    CHECK(with_pour_of(before, 2, "no such") == before);
    CHECK(with_pour_of(before, 99, "ink") == before);
}

TEST_CASE("the place of a falling stream stays in the mould") {
    const Design design = starter_design();
    CHECK(with_fall_at(design, 1, 0, 20.2).pours[1].fall.at_mm == std::vector<double>{20});
    CHECK(with_fall_at(design, 1, 0, 900).pours[1].fall.at_mm == std::vector<double>{design.mould.width_mm});
    CHECK(with_fall_at(design, 1, 3, 20) == design);
}

TEST_CASE("a pass is dragged by the margin at the ends and by the spacing between") {
    Design design = starter_design();
    auto passes = [](const Design& of) { return std::get<design::Passes>(of.strokes[0].path); };
    const Design margin = with_pass_at(design, 0, 0, 12);
    CHECK(passes(margin).margin_mm == 12);
    CHECK_FALSE(passes(margin).spacing_mm);
    const Design spaced = with_pass_at(design, 0, 2, 8 + 2 * 6);
    REQUIRE(passes(spaced).spacing_mm);
    CHECK(*passes(spaced).spacing_mm == Approx(6));
    CHECK(design::pass_positions_mm(passes(spaced), spaced)[2] == Approx(20));
    std::get<design::Passes>(design.strokes[0].path).start = design::Side::right;
    const Design mirrored = with_pass_at(design, 0, 0, design.mould.width_mm - 10);
    CHECK(passes(mirrored).margin_mm == 10);
    CHECK(with_pass_at(design, 0, 99, 12) == design);
    for (const double x : {-50.0, 0.0, 33.0, 900.0})
        for (std::size_t pass = 0; pass < 7; ++pass)
            CHECK_NOTHROW(design::validate(with_pass_at(starter_design(), 0, pass, x)));
}

TEST_CASE("the rows of turns are dragged by their clearances") {
    const Design design = starter_design();
    const Design lifted = with_turns_at(design, 0, true, 20);
    CHECK(std::get<design::Passes>(lifted.strokes[0].path).floor_clearance_mm == 17);  // a 6 mm wire's middle
    const Design lowered = with_turns_at(design, 0, false, design.mould.fill_mm - 13);
    CHECK(std::get<design::Passes>(lowered.strokes[0].path).top_clearance_mm == 10);
    for (const double y : {-50.0, 0.0, 40.0, 900.0})
        for (const bool lower : {true, false})
            CHECK_NOTHROW(design::validate(with_turns_at(design, 0, lower, y)));
    CHECK(with_turns_at(with_points({{10, 20}, {30, 20}}), 0, true, 5) == with_points({{10, 20}, {30, 20}}));
}

TEST_CASE("a way drawn by hand keeps its shape with few points") {
    std::vector<Vec2> drawn;
    for (int i = 0; i <= 200; ++i)
        drawn.push_back({10 + 0.2 * i, 40 + 20 * std::sin(0.05 * i) + 0.1 * (i % 2)});
    const Design design = with_drawn_way(starter_design(), 0, drawn, 0.6);
    CHECK_NOTHROW(design::validate(design));
    const auto& points = std::get<design::Waypoints>(design.strokes[0].path).points_mm;
    CHECK(points.size() < 30);
    CHECK(points.size() > 5);
    CHECK(points.front() == Vec2{10, 40});
    CHECK(with_drawn_way(starter_design(), 0, {{5, 5}}, 0.6) == starter_design());
    CHECK(with_drawn_way(starter_design(), 9, drawn, 0.6) == starter_design());
}

TEST_CASE("Douglas and Peucker: what is left out lies within the distance, corners stay") {
    CHECK(simplified({{0, 0}, {1, 0.05}, {2, 0}, {3, 3}}, 0.1) == std::vector<Vec2>{{0, 0}, {2, 0}, {3, 3}});
    CHECK(simplified({{0, 0}, {5, 0.2}, {10, 0}}, 0.1).size() == 3);
    CHECK(simplified({{0, 0}, {5, 0.2}, {10, 0}}, 0.3).size() == 2);
}

TEST_CASE("points of a way are put in, moved and taken out") {
    const Design design = with_points({{10, 20}, {30, 20}, {40, 30}});
    const auto points = [](const Design& of) {
        return std::get<design::Waypoints>(of.strokes[0].path).points_mm;
    };
    CHECK(points(with_point(design, 0, 0, {20, 25}))[1] == Vec2{20, 25});
    CHECK(points(with_point_at(design, 0, 1, {31.2, -5})).at(1) == Vec2{31, 0});
    CHECK(points(without_point(design, 0, 1)).size() == 2);
    const Design two = without_point(design, 0, 1);
    CHECK(without_point(two, 0, 0) == two);  // two points are a way, one is none
    CHECK(with_point(design, 3, 0, {0, 0}) == design);
}
