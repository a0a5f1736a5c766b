// Risks: each is given when it should be, at the right place, and not otherwise.
#include <doctest/doctest.h>

#include <functional>

#include "design/design_file.h"
#include "design/samples.h"
#include "design/validation.h"

using namespace foreslice;
using namespace foreslice::design;
using samples::warned;
using samples::warnings_after;

TEST_CASE("warnings: none for the plain design") {
    for (const Warning& warning : warnings_after([](Design&) {}))
        FAIL_CHECK(warning.place << ": " << warning.sentence);
}

TEST_CASE("warnings: fields that are not understood") {
    const auto all = warnings(load(samples::data("v2/unknown-fields.json")), samples::library());
    CHECK(warned(all, "/mould/liner", "not known"));
    CHECK(warned(all, "/pours/2/minute", "not known"));
    CHECK(warned(all, "/strokes/0/passes/rhythm", "not known"));
    CHECK(warned(all, "/studio", "not known"));
}

TEST_CASE("warnings: fill near the mould's edge") {
    CHECK(warned(warnings_after([](Design& d) { d.mould.fill_mm = 88; }), "/mould/fill_mm", "2 mm are free"));
    CHECK_FALSE(warned(warnings_after([](Design& d) { d.mould.fill_mm = 87; }), "/mould/fill_mm", "free"));
}

TEST_CASE("warnings: batter too thin for layers, unless there is only one") {
    CHECK(warned(warnings_after([](Design& d) { d.batter.trace = batter::Trace::emulsion; }), "/batter",
                 "does not hold"));
    CHECK(warned(warnings_after([](Design& d) { d.batter.trace = batter::Trace::thin; }), "/batter",
                 "does not hold"));
    CHECK_FALSE(warned(warnings_after([](Design& d) {
                           d.batter.trace = batter::Trace::emulsion;
                           d.portions = {{"all", "all", 100, {}, {"titanium-dioxide", 0}}};
                           d.pours = {{"all", {}, PourManner::laid, 0}};
                       }),
                       "/batter", "does not hold"));
}

TEST_CASE("warnings: doses above the usual most") {
    const double most = samples::library().find("ultramarine-blue")->usual_most_g_per_kg_oils;
    const auto dosed = [](double g) {
        return warnings_after([g](Design& d) { d.portions[0].doses[0].g_per_kg_oils = g; });
    };
    const std::string place = "/portions/0/doses/0/g_per_kg_oils";
    CHECK_FALSE(warned(dosed(most), place, "usual most"));
    CHECK(warned(dosed(most + 0.1), place, "usual most"));
    CHECK(warned(warnings_after([](Design& d) { d.portions[1].white.g_per_kg_oils = 60; }),
                 "/portions/1/white/g_per_kg_oils", "titanium dioxide"));
}

TEST_CASE("warnings: rivers when most of the batter is heavily whitened") {
    CHECK(warned(warnings_after([](Design& d) { d.portions[0].white.g_per_kg_oils = 6; }), "/portions",
                 "100 % of the batter"));
    CHECK_FALSE(warned(warnings_after([](Design& d) { d.portions[0].white.g_per_kg_oils = 4; }), "/portions",
                       "rivers"));
}

TEST_CASE("warnings: thin layers") {
    const auto with_stripe = [](double percent) {
        return warnings_after([percent](Design& d) {
            d.portions[0].share_percent = 100 - percent;
            d.portions[1].share_percent = percent;
        });
    };
    CHECK(warned(with_stripe(6), "/pours/1", "4.8 mm deep"));  // 6 % of 80 mm
    CHECK_FALSE(warned(with_stripe(6.5), "/pours/1", "deep"));
}

TEST_CASE("warnings: a whitened layer too heavy for the batter under it") {
    // 10 g of titanium dioxide (4230 kg/m3) per kg of oils in batter of 70 % oils: 7 g a kg, which adds
    // 1016 * 0.007 * (1 - 1016/4230) = 5.4 kg/m3; over a 32 mm layer 5.4 * 9.81 * 0.032 = 1.7 Pa.
    const auto with_yield = [](double pa) {
        return warnings_after([pa](Design& d) {
            d.batter = {std::nullopt, {1, 0.8, pa}, 1016};
            d.portions[1].white.g_per_kg_oils = 10;
        });
    };
    CHECK(warned(with_yield(1.6), "/pours/1", "5.4 kg per cubic metre heavier"));
    CHECK_FALSE(warned(with_yield(1.8), "/pours/1", "heavier"));
}

TEST_CASE("warnings: neighbours that look alike") {
    const auto alike = warnings_after([](Design& d) {
        d.portions[1].white.g_per_kg_oils = 0.5;
        d.portions[1].doses = {{"ultramarine-blue", 6}};
    });
    CHECK(warned(alike, "/pours/1", "CIEDE2000"));
    CHECK(warned(alike, "/pours/2", "CIEDE2000"));
}

TEST_CASE("warnings: wire too fast for creeping flow, with a speed that is slow enough") {
    const auto fast = [](double speed) {
        return warnings_after([speed](Design& d) {
            d.batter = {std::nullopt, {0.2, 1, 2}, 1016};
            d.strokes[0].speed_mm_per_s = speed;
        });
    };
    CHECK(warned(fast(200), "/strokes/0/speed_mm_per_s", "Reynolds number"));
    CHECK_FALSE(warned(fast(20), "/strokes/0/speed_mm_per_s", "Reynolds number"));
}

TEST_CASE("warnings: paths that start or end inside, scrape, or crowd") {
    const auto path = [](std::vector<Vec2> points) {
        return warnings_after([points](Design& d) { d.strokes[0].path = Waypoints{points}; });
    };
    CHECK(warned(path({{10, 40}, {30, 90}}), "/strokes/0/waypoints_mm/0", "starts inside"));
    CHECK(warned(path({{10, 90}, {30, 20}, {40, 40}}), "/strokes/0/waypoints_mm/2", "ends inside"));
    CHECK(path({{10, 90}, {30, 20}, {40, 90}}).empty());
    CHECK(warned(warnings_after([](Design& d) {
                     d.strokes = {{2, 50, Waypoints{{{10, 90}, {10, 1.3}, {40, 90}}}}};
                 }),
                 "/strokes/0", "scrapes"));
    CHECK(warned(warnings_after([](Design& d) { d.strokes[0].path = Passes{.count = 12, .spacing_mm = {}}; }),
                 "/strokes/0/passes", "muddy"));
}

TEST_CASE("warnings: nothing moves, and no bar") {
    CHECK(warned(warnings_after([](Design& d) { d.strokes.clear(); }), "/strokes", "No wire"));
    CHECK(warned(warnings_after([](Design& d) {
                     d.strokes[0].path = Waypoints{{{10, 90}, {40, 90}}};
                 }),
                 "/strokes", "No wire"));
    CHECK(warned(warnings_after([](Design& d) { d.cut.trim_mm = 130; }), "/cut", "no whole bar"));
}
