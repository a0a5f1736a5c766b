// Input that cannot be computed gets one clear sentence; input that is merely absurd gets a bounded run that
// can be stopped, and never a number that is none.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "flow/flow_samples.h"
#include "foundation/error.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

const Box box{40, 30};
const batter::Rheology newtonian{1, 1, 0};
const Resolution coarse{32, 4, 0.3};
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

std::string refusal(const Box& in, const batter::Rheology& rheology, const Stroke& stroke) {
    WorkerPool pool;
    FlowEngine engine(pool);
    Progress progress;
    try {
        engine.map(in, rheology, {stroke}, coarse, progress);
    } catch (const InputError& error) {
        return error.what();
    }
    return "accepted";
}

bool names(const std::string& sentence, const std::string& part) {
    return sentence.find(part) != std::string::npos;
}

// `count` passes between two heights, half a millimetre apart and back again when the wall is reached.
Stroke many_passes(int count, double low, double high) {
    Stroke stroke{4, 50, {{10, 34}}};
    for (int k = 0; k < count; ++k) {
        const int place = k % 80;
        const double x = 10 + 0.5 * (place < 40 ? place : 80 - place);
        stroke.path_mm.push_back({x, k % 2 == 0 ? high : low});
        stroke.path_mm.push_back({x, k % 2 == 0 ? low : high});
    }
    return stroke;
}

}  // namespace

TEST_CASE("Impossible input: one sentence that says what is wrong and what is allowed") {
    const Stroke good{4, 50, {{20, 34}, {20, 8}}};
    CHECK(refusal(box, newtonian, good) == "accepted");
    CHECK(names(refusal(box, newtonian, {4, 50, {{20, 20}}}), "fewer than two points"));
    CHECK(names(refusal(box, newtonian, {4, 50, {}}), "fewer than two points"));
    CHECK(names(refusal(box, newtonian, {4, 50, {{20, 20}, {20, 20}}}), "does not move"));
    CHECK(names(refusal(box, newtonian, {50, 50, {{20, 34}, {20, 8}}}), "half the mould's width"));
    CHECK(names(refusal(box, newtonian, {not_a_number, 50, {{20, 34}, {20, 8}}}), "wire diameter"));
    CHECK(names(refusal(box, newtonian, {4, not_a_number, {{20, 34}, {20, 8}}}), "speed"));
    CHECK(names(refusal(box, newtonian, {4, 50, {{20, not_a_number}, {20, 8}}}), "not a number"));
    CHECK(names(refusal({not_a_number, 30}, newtonian, good), "mould width"));
    CHECK(names(refusal(box, {not_a_number, 1, 0}, good), "consistency"));
    CHECK(names(refusal(box, {1, not_a_number, 0}, good), "flow index"));
    CHECK(names(refusal(box, {1, 1, not_a_number}, good), "yield stress"));
    CHECK(names(refusal(box, {1, 1, 1e9}, good), "0 to 100000 Pa"));
    CHECK(names(refusal(box, newtonian, many_passes(10000, 8, 26)), "up to 20 m"));
}

TEST_CASE(
    "A yield stress at which nothing moves far from the wire: bounded work, finite, still away from it") {
    WorkerPool pool;
    FlowEngine engine(pool);
    Progress progress;
    for (const batter::Rheology& stiff : {batter::Rheology{1, 1, 1e5}, {1e-3, 0.1, 1e5}, {1e6, 1.5, 1e5}}) {
        CAPTURE(stiff.consistency_pa_sn);
        const auto map =
            engine.map(box, stiff, {{4, 50, {{20, 34}, {20, 8}, {26, 8}, {26, 34}}}}, coarse, progress);
        CHECK(map->report().most_iterations <= SplitControl{}.most_iterations);
        for (const Vec2 p : lattice(box, 1)) {
            const Vec2 q = map->origin_mm(p);
            REQUIRE(std::isfinite(q.x + q.y));
            REQUIRE((q.x >= 0 && q.x <= 40 && q.y >= 0 && q.y <= 30));
        }
        const auto instant = map->at_fraction(0.25);
        CHECK(std::isfinite(length(instant->force_on_wire_n_per_m())));
        CHECK(std::isfinite(length(instant->velocity_mm_per_s({3, 3}))));
        if (stiff.flow_index <= 1) CHECK(length(map->origin_mm({1.5, 3}) - Vec2{1.5, 3}) < 0.5);
    }
}

TEST_CASE("Ten thousand short passes are a long run that stops when asked") {
    const Stroke stroke = many_passes(10000, 14, 15);
    int advanced = 0;
    Progress* self = nullptr;
    Progress progress([&](const Progress& p) {
        advanced += p.done() > 0;
        if (p.done() == 1) self->request_stop();
    });
    self = &progress;
    WorkerPool pool;
    FlowEngine engine(pool);
    CHECK_THROWS_AS(engine.map(box, newtonian, {stroke}, coarse, progress), Stopped);
    CHECK(advanced >= 1);
    CHECK(advanced <= 2 * static_cast<int>(pool.threads()));
}

TEST_CASE(
    "Wires of 1 to 12 mm in a mould of 65 mm: the grid follows the wire up to its bound, results are sane") {
    const Box mould{65, 70};
    double last = 0;
    for (const double diameter : {1.0, 2.0, 4.0, 8.0, 12.0}) {
        CAPTURE(diameter);
        WorkerPool pool;
        FlowEngine engine(pool);
        Progress progress;
        const auto map =
            engine.map(mould, newtonian, {{diameter, 50, {{32, 50}, {32, 30}}}}, {96, 4, 0.3}, progress);
        const double force = length(map->at_fraction(0.5)->force_on_wire_n_per_m());
        CHECK(force > last);  // a thicker wire drags more
        last = force;
        // Batter beside the line goes down by less than the wire does, and comes back up near the wall.
        CHECK(map->origin_mm({32 + 0.6 * diameter, 40}).y > 40);
        CHECK(map->origin_mm({3, 40}).y < 40.05);
        for (const Vec2 p : lattice(mould, 5)) REQUIRE(std::isfinite(length(map->origin_mm(p))));
    }
}
