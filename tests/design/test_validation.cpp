// Faults of a document in memory: the same rules as for files, and how fields fit together.
#include <doctest/doctest.h>

#include <functional>
#include <limits>

#include "design/limits.h"
#include "design/samples.h"
#include "design/validation.h"
#include "flow/path_plan.h"
#include "foundation/error.h"

using namespace foreslice;
using namespace foreslice::design;

namespace {

// The place named when the plain design with `change` is refused, "" when it is accepted.
std::string fault(const std::function<void(Design&)>& change) {
    Design design = samples::plain();
    change(design);
    try {
        validate(design, "it.json");
        return "";
    } catch (const InputError& error) {
        CHECK(error.file() == "it.json");
        CHECK_FALSE(error.allowed().empty());
        return error.place();
    }
}

Passes& passes_of(Design& design) {
    return std::get<Passes>(design.strokes[0].path);
}

}  // namespace

TEST_CASE("validation: the plain design is good") {
    CHECK(fault([](Design&) {}) == "");
    CHECK_NOTHROW(validate(samples::plain(), samples::library()));
}

TEST_CASE("validation: no number may be NaN or infinite, wherever it stands") {
    const double bad[] = {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                          -std::numeric_limits<double>::infinity(), 1e308};
    for (const double x : bad) {
        CHECK(fault([x](Design& d) { d.mould.width_mm = x; }) == "/mould/width_mm");
        CHECK(fault([x](Design& d) { d.mould.height_mm = x; }) == "/mould/height_mm");
        CHECK(fault([x](Design& d) { d.mould.length_mm = x; }) == "/mould/length_mm");
        CHECK(fault([x](Design& d) { d.mould.fill_mm = x; }) == "/mould/fill_mm");
        CHECK(fault([x](Design& d) { d.batter.density_kg_per_m3 = x; }) == "/batter/density_kg_per_m3");
        CHECK(fault([x](Design& d) {
                  d.batter = {std::nullopt, {x, 1, 0}, 1016};
              }) == "/batter/consistency_pa_sn");
        CHECK(fault([x](Design& d) { d.batter = {std::nullopt, {1, x, 0}, 1016}; }) == "/batter/flow_index");
        CHECK(fault([x](Design& d) {
                  d.batter = {std::nullopt, {1, 1, x}, 1016};
              }) == "/batter/yield_stress_pa");
        CHECK(fault([x](Design& d) { d.portions[1].share_percent = x; }) == "/portions/1/share_percent");
        CHECK(fault([x](Design& d) { d.portions[0].doses[0].g_per_kg_oils = x; }) ==
              "/portions/0/doses/0/g_per_kg_oils");
        CHECK(fault([x](Design& d) { d.portions[1].white.g_per_kg_oils = x; }) ==
              "/portions/1/white/g_per_kg_oils");
        CHECK(fault([x](Design& d) { d.pours[0].part_percent = x; }) == "/pours/0/part_percent");
        CHECK(fault([x](Design& d) { d.pours[2].unevenness_mm = x; }) == "/pours/2/unevenness_mm");
        CHECK(fault([x](Design& d) { d.strokes[0].wire_diameter_mm = x; }) == "/strokes/0/wire_diameter_mm");
        CHECK(fault([x](Design& d) { d.strokes[0].speed_mm_per_s = x; }) == "/strokes/0/speed_mm_per_s");
        CHECK(fault([x](Design& d) { passes_of(d).spacing_mm = x; }) == "/strokes/0/passes/spacing_mm");
        CHECK(fault([x](Design& d) { passes_of(d).margin_mm = x; }) == "/strokes/0/passes/margin_mm");
        CHECK(fault([x](Design& d) { passes_of(d).floor_clearance_mm = x; }) ==
              "/strokes/0/passes/floor_clearance_mm");
        CHECK(fault([x](Design& d) { passes_of(d).top_clearance_mm = x; }) ==
              "/strokes/0/passes/top_clearance_mm");
        CHECK(fault([x](Design& d) {
                  d.strokes[0].path = Waypoints{{{10, 10}, {x, 10}}};
              }) == "/strokes/0/waypoints_mm/1/0");
        CHECK(fault([x](Design& d) {
                  d.strokes[0].path = Waypoints{{{10, x}, {10, 10}}};
              }) == "/strokes/0/waypoints_mm/0/1");
        CHECK(fault([x](Design& d) { d.cut.bar_thickness_mm = x; }) == "/cut/bar_thickness_mm");
        CHECK(fault([x](Design& d) { d.cut.trim_mm = x; }) == "/cut/trim_mm");
    }
}

TEST_CASE("validation: shares must add up to 100 within half a per cent") {
    CHECK(fault([](Design& d) { d.portions[0].share_percent = 60.5; }) == "");
    CHECK(fault([](Design& d) { d.portions[0].share_percent = 59.5; }) == "");
    CHECK(fault([](Design& d) { d.portions[0].share_percent = 60.6; }) == "/portions");
    CHECK(fault([](Design& d) { d.portions[0].share_percent = 59.4; }) == "/portions");
}

TEST_CASE("validation: a portion without a share need not be poured, one with a share must") {
    const Portion extra{"spare", "spare", 0, {}, {"titanium-dioxide", 0}};
    CHECK(fault([&](Design& d) { d.portions.push_back(extra); }) == "");
    CHECK(fault([](Design& d) { d.pours = {{"ink", {}, PourManner::laid, 0}}; }) == "/portions/1");
}

TEST_CASE("validation: parts of a portion") {
    CHECK(fault([](Design& d) { d.pours[2].part_percent = 50; }) == "");
    CHECK(fault([](Design& d) { d.pours[2].part_percent = 50.6; }) == "/pours/2/part_percent");
    CHECK(fault([](Design& d) { d.pours[2].part_percent = 49; }) == "/pours/2/part_percent");
    CHECK(fault([](Design& d) { d.pours[0].part_percent = 100; }) == "/pours/2/part_percent");
}

TEST_CASE("validation: the wire is at most half the mould's width and thinner than the fill, and moves") {
    const auto wire = [](double diameter, double width, double fill) {
        return fault([=](Design& d) {
            d.mould.width_mm = width;
            d.mould.fill_mm = fill;
            d.strokes = {{diameter, 50, Waypoints{{{width / 2, 200}, {width / 2, 300}}}}};
        });
    };
    CHECK(wire(15, 30, 80) == "");
    CHECK(wire(15.1, 30, 80) == "/strokes/0/wire_diameter_mm");
    CHECK(wire(9, 65, 10) == "");
    CHECK(wire(10, 65, 10) == "/strokes/0/wire_diameter_mm");
    CHECK(fault([](Design& d) { d.strokes[0].path = Waypoints{{{30, 90}, {30, 90.5}}}; }) == "/strokes/0");
}

TEST_CASE("validation: a row of passes must fit between the walls") {
    const auto row = [](int count, double spacing) {
        return fault([=](Design& d) {
            d.strokes[0].path = Passes{.count = count, .spacing_mm = spacing, .margin_mm = 8};
        });
    };
    CHECK(row(6, 10.65) == "");  // the last at 61.25
    CHECK(row(6, 12) == "");     // the last would stand in the wall and is moved
    CHECK(row(6, 30) == "/strokes/0");
    CHECK(row(1, 106.5) == "");  // lifted half a spacing on, at 61.25
    CHECK(row(1, 300) == "/strokes/0");
    CHECK(fault([](Design& d) {
              d.strokes[0].path = Passes{.count = 100, .spacing_mm = {}, .margin_mm = 8};
          }) == "/strokes/0/passes/count");
}

TEST_CASE("validation: what passes it, the flow room takes") {
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
        CAPTURE(seed);
        const Design design = samples::random(seed);
        REQUIRE_NOTHROW(validate(design));
        CHECK_NOTHROW(flow::plan_runs(box_of(design), flow_strokes_of(design)));
        CHECK_NOTHROW(flow::check_rheology(design.batter.rheology()));
    }
    Design nearest = samples::plain();  // at the limits themselves
    nearest.strokes = {
        {6, 50, Passes{.count = 5, .spacing_mm = {}, .margin_mm = 3.75, .floor_clearance_mm = 0.75}},
        {32.5, 50, Waypoints{{{30, 200}, {31, 201}}}}};
    nearest.strokes[1].wire_diameter_mm = 30;
    REQUIRE_NOTHROW(validate(nearest));
    CHECK_NOTHROW(flow::plan_runs(box_of(nearest), flow_strokes_of(nearest)));
}

TEST_CASE("validation: lists in memory may not be longer than a file's") {
    CHECK(fault([](Design& d) { d.strokes.assign(limits::strokes + 1, Stroke{}); }) == "/strokes");
    CHECK(fault([](Design& d) { d.strokes[0].path = Waypoints{{{10, 10}}}; }) == "/strokes/0/waypoints_mm");
    CHECK(fault([](Design& d) { d.pours.clear(); }) == "/pours");
    CHECK(fault([](Design& d) { d.portions.clear(); }) == "/portions");
    CHECK(fault([](Design& d) { d.portions[0].id = "two words"; }) == "/portions/0/id");
    CHECK(fault([](Design& d) { d.seed = ~std::uint64_t{0}; }) == "/seed");
    CHECK(fault([](Design& d) { passes_of(d).count = -1; }) == "/strokes/0/passes/count");
}

TEST_CASE("validation: colourants the library lacks, but only when they are used") {
    Design design = samples::plain();
    design.portions[0].white = {"chalk", 0};
    CHECK_NOTHROW(validate(design, samples::library()));
    design.portions[0].white.g_per_kg_oils = 1;
    CHECK_NOTHROW(validate(design));
    CHECK_THROWS_WITH_AS(validate(design, samples::library(), "it.json"),
                         doctest::Contains("it.json: /portions/0/white/colourant"), InputError);
}
