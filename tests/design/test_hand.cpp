#include "design/hand.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "design/design_file.h"
#include "design/samples.h"

using namespace foreslice;
using namespace foreslice::design;

namespace {

double nearest_mm(const std::vector<Vec2>& path, Vec2 point) {
    double nearest = 1e9;
    for (std::size_t i = 1; i < path.size(); ++i) {
        const Vec2 chord = path[i] - path[i - 1];
        const double share = std::clamp(dot(point - path[i - 1], chord) / dot(chord, chord), 0.0, 1.0);
        nearest = std::min(nearest, length(point - path[i - 1] - share * chord));
    }
    return nearest;
}

}  // namespace

TEST_CASE("a follower on a thread goes along a tractrix") {
    // Leader from (0, 0) straight to the right, follower starting a thread's length above it. The curve,
    // known since Huygens (1692, from memory): x = a arsech(y / a) - sqrt(a^2 - y^2).
    constexpr double a = 10;
    const auto path = trailing_path({{0, a}, {0, 0}, {60, 0}}, a);
    CHECK(path.front() == Vec2{0, a});
    for (const double y : {9.5, 8.0, 5.0, 2.0, 0.5}) {
        const double x = a * std::acosh(a / y) - std::sqrt(a * a - y * y);
        CHECK(nearest_mm(path, {x, y}) < 0.15);
    }
    CHECK(length(path.back() - Vec2{60, 0}) < 0.1);  // it comes to where the leader stopped
}

TEST_CASE("trailing keeps straight strokes, rounds corners and comes less deep where strokes turn") {
    const std::vector<Vec2> straight{{10, 90}, {10, 40}};
    const auto same = trailing_path(straight, 3);
    REQUIRE(same.size() == 2);
    CHECK(length(same[1] - straight[1]) < 1e-9);
    const std::vector<Vec2> passes{{10, 90}, {10, 8}, {20, 8}, {20, 90}};
    CHECK(trailing_path(passes, 0) == passes);
    const auto towed = trailing_path(passes, 3);
    CHECK(towed.size() < 30);
    double lowest = 90;
    for (const Vec2 point : towed) {
        lowest = std::min(lowest, point.y);
        CHECK(point.x >= 10);  // never outside the way of the hands
        CHECK(point.x <= 20 + 1e-9);
    }
    CHECK(lowest > 8);
    CHECK(nearest_mm(towed, {10, 8}) > 1);
    CHECK(length(towed.back() - Vec2{20, 90}) < 0.1);
    CHECK(trailing_path({{5, 5}}, 3).size() == 1);
}

TEST_CASE("the lag is a parabola along the loaf in steps") {
    Design design = samples::plain();
    CHECK(wire_lag_mm(design, 140) == 0);
    design.hand.sag_mm = 2;
    CHECK(wire_lag_mm(design, 0) == 0);
    CHECK(wire_lag_mm(design, design.mould.length_mm) == 0);
    CHECK(wire_lag_mm(design, design.mould.length_mm / 2) == 2);
    CHECK(wire_lag_mm(design, design.mould.length_mm / 4) == 1.5);
    CHECK(wire_lag_mm(design, 0.75 * design.mould.length_mm) == 1.5);
    design.hand.sag_mm = 0.2;
    CHECK(wire_lag_mm(design, design.mould.length_mm / 2) == 0);
}

TEST_CASE("the hand stands in the file only when it is not steady") {
    Design design = samples::plain();
    CHECK(to_json(design).find("\"hand\"") == std::string::npos);
    design.hand = {0.8, 1.5};
    const std::string text = to_json(design);
    CHECK(text.find("\"wander_mm\": 0.8") != std::string::npos);
    const Design again = parse(text, "again");
    CHECK(again.hand == design.hand);
    CHECK(again == design);
    CHECK_FALSE(again == samples::plain());
}
