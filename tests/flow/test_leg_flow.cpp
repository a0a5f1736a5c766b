// Tracing along the wire's path: what must hold whatever the grid.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "flow/dense_kernels.h"
#include "flow/flow_samples.h"
#include "flow/run_map.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

constexpr double pi = 3.14159265358979323846;
const Box box{52, 45};
const batter::Rheology newtonian{1, 1, 0};
const batter::Rheology light{1.2, 0.75, 3};

Run run_along(const std::vector<Vec2>& path, const batter::Rheology& rheology, int cells = 52) {
    const auto solver = std::make_shared<BoxSolver>(Grid(box, cells));
    const CreepingFlow flow(solver, rheology);
    Run run;
    SplitState state;
    Progress progress;
    for (std::size_t k = 1; k < path.size(); ++k)
        run.legs.emplace_back(flow, box, path[k - 1], path[k], 3.0, 50.0, 2.0, SplitControl{}, state,
                              progress);
    return run;
}

std::vector<Vec2> traced_back(const Run& run, std::vector<Vec2> points) {
    for (std::size_t k = 0; k < points.size(); k += FieldBatch::most)
        run.trace_back(points.data() + k,
                       static_cast<int>(std::min<std::size_t>(FieldBatch::most, points.size() - k)));
    return points;
}

struct Missed {
    double worst = 0, mean = 0;
};

Missed missed(const std::vector<Vec2>& a, const std::vector<Vec2>& b) {
    Missed out;
    for (std::size_t k = 0; k < a.size(); ++k) {
        const double error = length(a[k] - b[k]);
        out.worst = std::max(out.worst, error);
        out.mean += error / static_cast<double>(a.size());
    }
    return out;
}

}  // namespace

TEST_CASE("Drawn back along its own path, the wire undoes what it did") {
    const auto points = lattice(box, 1);
    for (const auto& rheology : {newtonian, light}) {
        CAPTURE(rheology.yield_stress_pa);
        const Run once = run_along({{19, 49}, {19, 9}}, rheology);
        const Run there_and_back = run_along({{19, 49}, {19, 9}, {19, 49}}, rheology);
        const Missed moved = missed(traced_back(once, points), points);
        const Missed left = missed(traced_back(there_and_back, points), points);
        MESSAGE("moved " << moved.worst << " mean " << moved.mean << ", left " << left.worst << " mean "
                         << left.mean);
        CHECK(moved.worst > 15);
        CHECK(left.mean < 0.1);
        // A radius off the path and below the surface that the wire leaves through, every point is back.
        std::vector<Vec2> clear;
        for (const Vec2 p : points)
            if (std::abs(p.x - 19) > 3 && p.y < box.height_mm - 3) clear.push_back(p);
        CHECK(missed(traced_back(there_and_back, clear), clear).worst < 0.3);
    }
}

TEST_CASE("Traced forwards and back, a point returns") {
    const LegFlow leg = newtonian_leg(box, 52, {19, 38}, {30, 12}, 3);
    double worst = 0;
    for (const Vec2 p : lattice(box, 2)) {
        if (length(p - Vec2{19, 38}) < 3.5) continue;
        const Vec2 there = leg.trace(p, 0, leg.length_mm());
        worst = std::max(worst, length(leg.trace(there, leg.length_mm(), 0) - p));
    }
    MESSAGE("worst return " << worst);
    CHECK(worst < 0.06);
}

TEST_CASE("Batter stays in the box, and what lies on a wall or the floor stays on it") {
    for (const auto& rheology : {newtonian, light}) {
        const Run run = run_along({{8, 49}, {8, 4.5}, {30, 4.5}, {44, 30}}, rheology);
        const auto points = lattice(box, 0.5);
        const auto origins = traced_back(run, points);
        for (std::size_t k = 0; k < points.size(); ++k) {
            const Vec2 p = points[k], o = origins[k];
            REQUIRE(std::isfinite(o.x + o.y));
            REQUIRE(o.x >= 0);
            REQUIRE(o.x <= box.width_mm);
            REQUIRE(o.y >= 0);
            if (p.x == 0 || p.x == box.width_mm) REQUIRE(std::abs(o.x - p.x) < 1e-4);
            if (p.y == 0) REQUIRE(o.y < 1e-4);
        }
    }
}

TEST_CASE("No batter enters the wire: none that ends outside it began inside") {
    const Run run = run_along({{19, 36}, {19, 9}}, newtonian);
    for (double angle = 0; angle < 2 * pi; angle += 0.02)
        for (const double away : {0.01, 0.03, 0.1, 0.5}) {
            Vec2 p = Vec2{19, 9} + (3 + away) * Vec2{std::cos(angle), std::sin(angle)};
            run.trace_back(&p, 1);
            CHECK(length(p - Vec2{19, 36}) > 3 - 1e-3);
        }
}

TEST_CASE("A level line crossed once by the whole wire ends pi a^2 / W lower on average") {
    // Conservation of area: the wire lay below the line and lies above it afterwards.
    const double line = 22;
    for (const auto& rheology : {newtonian, light}) {
        const Run run = run_along({{24, 12}, {24, 33}}, rheology);
        const double pitch = 0.2;
        std::vector<Vec2> points;
        for (double y = pitch / 2; y < box.height_mm; y += pitch)
            for (double x = pitch / 2; x < box.width_mm; x += pitch)
                if (length(Vec2{x, y} - Vec2{24, 33}) > 3) points.push_back({x, y});
        double below = 0;
        for (const Vec2 origin : traced_back(run, points)) below += origin.y < line ? pitch * pitch : 0;
        const double lowered = line - below / box.width_mm;
        MESSAGE("lowered by " << lowered << " of " << pi * 9 / box.width_mm);
        CHECK(lowered == doctest::Approx(pi * 9 / box.width_mm).epsilon(0.02));
    }
}

TEST_CASE("Records stand closer where the wire is near a side") {
    const auto records = record_positions(box, {20, 49}, {20, 4}, 3, 2, 0.5);
    REQUIRE(records.size() > 20);
    CHECK(records.front() == 0);
    CHECK(records.back() == 45);
    for (std::size_t k = 1; k < records.size(); ++k) {
        CHECK(records[k] > records[k - 1]);
        CHECK(records[k] - records[k - 1] <= 2 + 1e-12);
    }
    CHECK(records.back() - records[records.size() - 2] < 0.8);  // 1 mm above the floor
    const auto middle = std::lower_bound(records.begin(), records.end(), 22.0);
    CHECK(*middle - *(middle - 1) == doctest::Approx(2));
}

TEST_CASE("The tabulated map gives what tracing gives") {
    WorkerPool pool;
    Progress progress;
    const auto run = std::make_shared<Run>(run_along({{8, 49}, {8, 7}, {30, 7}}, newtonian));
    const RunMap map(run, box, 0.03, pool, progress);
    std::vector<Vec2> points;
    const auto places = scattered(8000, 3);
    for (std::size_t k = 0; k < 4000; ++k)
        points.push_back({26 + 26 * places[2 * k], 22.5 + 22.5 * places[2 * k + 1]});
    const auto traced = traced_back(*run, points);
    std::vector<double> errors;
    for (std::size_t k = 0; k < points.size(); ++k) {
        if (length(points[k] - Vec2{30, 7}) < 3.3) continue;  // the wire and its rim
        errors.push_back(length(map.before(points[k]) - traced[k]));
    }
    std::sort(errors.begin(), errors.end());
    MESSAGE("median " << errors[errors.size() / 2] << " 95 % " << errors[errors.size() * 95 / 100] << " 99 % "
                      << errors[errors.size() * 99 / 100] << " worst " << errors.back());
    CHECK(errors[errors.size() / 2] < 0.015);
    CHECK(errors[errors.size() * 95 / 100] < 0.09);  // places stretched threefold may err three times as much
    CHECK(errors[errors.size() * 99 / 100] < 0.15);
}
