// From strokes to runs, and every sentence about input that cannot be computed.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "flow/flow_samples.h"
#include "flow/path_plan.h"
#include "foundation/error.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

const Box box{65, 78.8};
constexpr double no_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();

struct Input {
    Box box{65, 78.8};
    batter::Rheology rheology{1, 1, 0};
    std::vector<Stroke> strokes{{6, 50, {{20, 90}, {20, 10}}}};
    Resolution resolution;
};

// The error that the engine gives; an empty one when it takes the input.
InputError error_of(const Input& input) {
    WorkerPool pool(1);
    FlowEngine engine(pool);
    Progress progress;
    try {
        engine.map(input.box, input.rheology, input.strokes, input.resolution, progress);
    } catch (const InputError& error) {
        return error;
    }
    return {"", "", "", ""};
}

template <typename Change>
InputError after(const Change& change) {
    Input input;
    change(input);
    return error_of(input);
}

bool says(const InputError& error, const std::string& place, const std::string& part) {
    INFO(error.what());
    const bool here = error.place() == place && std::string(error.what()).find(part) != std::string::npos;
    CHECK_MESSAGE(here, error.what());
    return here && !error.allowed().empty();
}

}  // namespace

TEST_CASE("A stroke drawn in many short pieces becomes its corners") {
    Stroke stroke{6, 50, {}};
    for (int k = 0; k <= 200; ++k) stroke.path_mm.push_back({20 + 0.05 * std::sin(k), 80 - 0.3 * k});
    for (int k = 1; k <= 100; ++k) stroke.path_mm.push_back({20 + 0.3 * k, 20.0});
    const auto runs = plan_runs(box, {stroke});
    std::vector<Leg> legs;
    for (const auto& run : runs) legs.insert(legs.end(), run.legs.begin(), run.legs.end());
    REQUIRE(legs.size() >= 2);
    CHECK(legs.size() <= 4);
    CHECK(legs.front().start_mm == stroke.path_mm.front());
    CHECK(legs.back().end_mm == stroke.path_mm.back());
    for (std::size_t k = 1; k < legs.size(); ++k) CHECK(legs[k].start_mm == legs[k - 1].end_mm);
}

TEST_CASE("No drawn point ends up farther than a tenth of a millimetre from the straightened path") {
    Stroke stroke{6, 50, {}};
    for (int k = 0; k <= 300; ++k) {
        const double t = 0.02 * k;
        stroke.path_mm.push_back({32 + 15 * std::cos(t), 35 + 15 * std::sin(1.7 * t)});
    }
    const auto runs = plan_runs(box, {stroke});
    for (const Vec2 p : stroke.path_mm) {
        double nearest = 1e9;
        for (const auto& run : runs)
            for (const auto& leg : run.legs) {
                const Vec2 along = leg.end_mm - leg.start_mm;
                const double t =
                    std::min(1.0, std::max(0.0, dot(p - leg.start_mm, along) / dot(along, along)));
                nearest = std::min(nearest, length(p - leg.start_mm - t * along));
            }
        CHECK(nearest <= 0.1 + 1e-9);
    }
}

TEST_CASE("Legs gather into runs of at least 40 mm, one stroke at a time") {
    Stroke zigzag{6, 50, {}};
    for (int k = 0; k <= 20; ++k) zigzag.path_mm.push_back({k % 2 ? 25.0 : 15.0, 70.0 - 2 * k});
    const auto runs = plan_runs(box, {zigzag, {4, 30, {{40, 60}, {40, 50}}}});
    REQUIRE(runs.size() >= 4);
    for (std::size_t k = 0; k + 2 < runs.size(); ++k) {
        CHECK(runs[k].length_mm() >= 40);
        CHECK(runs[k].radius_mm == 3);
    }
    CHECK(runs.back().radius_mm == 2);
    CHECK(runs.back().speed_mm_per_s == 30);
    CHECK(runs.back().legs.size() == 1);
}

TEST_CASE("Repeated points vanish") {
    const auto runs = plan_runs(box, {{6, 50, {{20, 70}, {20, 70}, {20, 10}, {20, 10}, {20, 10}}}});
    REQUIRE(runs.size() == 1);
    CHECK(runs[0].legs.size() == 1);
    CHECK(runs[0].length_mm() == doctest::Approx(60));
}

TEST_CASE("No strokes is a map that moves nothing") {
    WorkerPool pool(1);
    FlowEngine engine(pool);
    Progress progress;
    const auto map = engine.map(box, {1, 1, 0}, {}, {}, progress);
    CHECK(map->origin_mm({12, 34}) == Vec2{12, 34});
    CHECK(map->path_length_mm() == 0);
    CHECK_THROWS_AS(map->at_fraction(0.5), InputError);
}

TEST_CASE("Sizes that are no sizes") {
    for (const double bad : {no_number, infinite, -1.0, 0.0, 1e9}) {
        CAPTURE(bad);
        CHECK(says(after([&](Input& i) { i.box.width_mm = bad; }), "mould width", "2000 mm"));
        CHECK(says(after([&](Input& i) { i.box.height_mm = bad; }), "fill height", "2000 mm"));
        CHECK(says(after([&](Input& i) { i.strokes[0].wire_diameter_mm = bad; }), "stroke 1 wire diameter",
                   "half the mould's width"));
        CHECK(says(after([&](Input& i) { i.strokes[0].speed_mm_per_s = bad; }), "stroke 1 speed",
                   "10000 mm/s"));
        CHECK(says(after([&](Input& i) { i.resolution.position_spacing_mm = bad; }), "position spacing",
                   "50 mm"));
        CHECK(says(after([&](Input& i) { i.resolution.map_tolerance_mm = bad; }), "map tolerance", "5 mm"));
        CHECK(says(after([&](Input& i) { i.rheology.consistency_pa_sn = bad; }), "consistency", "Pa s^n"));
        CHECK(says(after([&](Input& i) { i.rheology.flow_index = bad; }), "flow index", "1.5"));
        if (bad != 0)
            CHECK(says(after([&](Input& i) { i.rheology.yield_stress_pa = bad; }), "yield stress",
                       "100000 Pa"));
    }
    for (const int bad : {-5, 0, 15, 513})
        CHECK(says(after([&](Input& i) { i.resolution.cells_across = bad; }), "cells across", "16 to 512"));
}

TEST_CASE("A wire wider than half the mould") {
    CHECK(
        says(after([](Input& i) { i.strokes[0].wire_diameter_mm = 33; }), "stroke 1 wire diameter", "33 mm"));
}

TEST_CASE("A path with one point, none, or one place") {
    CHECK(says(after([](Input& i) {
                   i.strokes[0].path_mm = {{20, 20}};
               }),
               "stroke 1", "fewer than two points"));
    CHECK(says(after([](Input& i) { i.strokes[0].path_mm = {}; }), "stroke 1", "fewer than two points"));
    CHECK(says(after([](Input& i) {
                   i.strokes[0].path_mm = {{20, 20}, {20, 20}};
               }),
               "stroke 1", "does not move"));
    CHECK(says(after([](Input& i) {
                   i.strokes.push_back({6, 50, {{20, 20}}});
               }),
               "stroke 2", "fewer than two points"));
}

TEST_CASE("A wire that would cut into a wall or the floor, or points that are no places") {
    for (const Vec2 bad :
         {Vec2{3, 40}, Vec2{62, 40}, Vec2{20, 3}, Vec2{20, 3.7}, Vec2{-10, 40}, Vec2{80, 40}}) {
        CAPTURE(bad.x);
        CAPTURE(bad.y);
        CHECK(says(after([&](Input& i) { i.strokes[0].path_mm[1] = bad; }), "stroke 1", "0.75 mm"));
    }
    CHECK(after([](Input& i) {
              i.strokes[0].path_mm = {{3.75, 30}, {3.75, 20}};
              i.resolution.cells_across = 16;
          }).place() == "");
    CHECK(says(after([](Input& i) { i.strokes[0].path_mm[1].x = no_number; }), "stroke 1", "not a number"));
    CHECK(says(after([](Input& i) { i.strokes[0].path_mm[1].y = infinite; }), "stroke 1", "not a number"));
    CHECK(says(after([](Input& i) { i.strokes[0].path_mm[0].y = 5000; }), "stroke 1", "far above"));
}

TEST_CASE("More than 20 m of path") {
    CHECK(says(after([](Input& i) {
                   i.strokes[0].path_mm.clear();
                   for (int k = 0; k < 400; ++k) i.strokes[0].path_mm.push_back({20, k % 2 ? 10.0 : 70.0});
               }),
               "strokes", "20 m"));
}

TEST_CASE("A share of the path outside 0 to 1") {
    WorkerPool pool(1);
    FlowEngine engine(pool);
    Progress progress;
    const auto map = engine.map(box, {1, 1, 0}, {{6, 50, {{20, 60}, {20, 40}}}}, {32, 5, 0.1}, progress);
    for (const double bad : {-0.1, 1.1, no_number}) CHECK_THROWS_AS(map->at_fraction(bad), InputError);
    CHECK(map->at_fraction(0.5)->wire_centre_mm().y == doctest::Approx(50));
    CHECK(map->at_fraction(1)->wire_centre_mm().y == doctest::Approx(40));
}
