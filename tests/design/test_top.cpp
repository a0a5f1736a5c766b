// What is kept back for the top and what lies in the soap: areas, levels, shapes and warnings.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "design/design_file.h"
#include "design/samples.h"
#include "design/validation.h"

using namespace foreslice;
using namespace foreslice::design;

namespace {

Embed embed_of(EmbedShape shape) {
    Embed embed;
    embed.shape = shape;
    embed.width_mm = 14;
    embed.height_mm = 5;
    embed.points_mm = {{0, 0}, {8, 6}, {20, 2}, {26, 10}};
    return embed;
}

bool warns_at(const Design& design, const std::string& place) {
    const auto found = warnings(design, samples::library());
    return std::any_of(found.begin(), found.end(), [&](const Warning& one) { return one.place == place; });
}

}  // namespace

TEST_CASE("top: what is spooned on comes out of its portion and lowers the level of the rest") {
    Design design = samples::plain();
    const double whole = design.mould.width_mm * design.mould.fill_mm;
    design.top.spooned = {{"salt", 25}, {"ink", 10}};
    CHECK_NOTHROW(validate(design, samples::library()));
    const auto heaps = spooned_areas_mm2(design);
    CHECK(heaps[0] == doctest::Approx(0.40 * 0.25 * whole));
    CHECK(heaps[1] == doctest::Approx(0.60 * 0.10 * whole));
    const auto pours = pour_areas_mm2(design);
    CHECK(pours[1] == doctest::Approx(0.40 * 0.75 * whole));
    CHECK(pours[0] + pours[2] == doctest::Approx(0.60 * 0.90 * whole));
    CHECK(box_of(design).height_mm == doctest::Approx(design.mould.fill_mm * (1 - 0.10 - 0.06)));
    CHECK(level_after_mm(design, 1) == doctest::Approx(pours[0] / design.mould.width_mm));
    CHECK(shows_top(design));
}

TEST_CASE("top: a plain one changes nothing, and the file does not mention it") {
    const Design design = samples::plain();
    CHECK(design.top.plain());
    CHECK_FALSE(shows_top(design));
    CHECK(box_of(design).height_mm == design.mould.fill_mm);
    CHECK(to_json(design).find("top\"") == std::string::npos);
    CHECK(to_json(design).find("inclusions") == std::string::npos);
}

TEST_CASE("top: what the batter does not hold is warned of, and a wait mends it") {
    Design design = samples::plain();
    design.batter.trace = batter::Trace::light;
    design.top.strokes = {{TopTool::spatula, TopMotion::along, 12, 20, 0.5, {}}};
    design.top.spooned = {{"salt", 15, {}, 30, 28}};
    CHECK(warns_at(design, "/top/strokes/0/height_mm"));
    CHECK(warns_at(design, "/top/spooned/0/width_mm"));
    design.top.firmed_yield_stress_pa = 400;
    CHECK_FALSE(warns_at(design, "/top/strokes/0/height_mm"));
    CHECK_FALSE(warns_at(design, "/top/spooned/0/width_mm"));
}

TEST_CASE("inclusions: only an embed in the wire's way is warned of") {
    Design design = samples::plain();
    Passes passes;
    passes.count = 2;
    passes.margin_mm = 12;
    design.strokes = {Stroke{}};
    design.strokes[0].path = passes;  // down at 12 mm and up at 53 mm, across near the floor
    Embed embed = embed_of(EmbedShape::disc);
    embed.at_mm = {32.5, 45};
    design.inclusions.embeds = {embed};
    CHECK_FALSE(warns_at(design, "/inclusions/embeds/0/at_mm"));
    design.inclusions.embeds[0].width_mm = 37;  // the wire of 6 mm leaves 35 mm between its passes
    CHECK(warns_at(design, "/inclusions/embeds/0/at_mm"));
    design.inclusions.embeds[0].laid = EmbedLaid::after_drawing;
    CHECK_FALSE(warns_at(design, "/inclusions/embeds/0/at_mm"));
}

TEST_CASE("inclusions: distances from the outlines of embeds") {
    const Embed disc = embed_of(EmbedShape::disc), bar = embed_of(EmbedShape::bar);
    CHECK(outside_mm(disc, {10, 0}) == doctest::Approx(3));
    CHECK(outside_mm(disc, {0, 0}) == doctest::Approx(-7));
    CHECK(outside_mm(bar, {10, 0}) == doctest::Approx(3));
    CHECK(outside_mm(bar, {0, 1}) == doctest::Approx(-1.5));
    CHECK(outside_mm(bar, {10, 6.5}) == doctest::Approx(5));  // 3 and 4 off the corner
    const Vec2 half = half_size_mm(bar, 90);
    CHECK(half.x == doctest::Approx(2.5));
    CHECK(half.y == doctest::Approx(7));
}

TEST_CASE("inclusions: a curve's line goes through its points and is centred on its middle") {
    const Embed curve = embed_of(EmbedShape::curve);
    const auto line = middle_line_mm(curve);
    for (const Vec2 point : curve.points_mm) {
        const Vec2 first = point - curve.points_mm[0] + line.front();
        CHECK(distance_to_line_mm(line, first) < 1e-9);
        CHECK(outside_mm(curve, first) == doctest::Approx(-2.5));
    }
    double low = 1e9, high = -1e9;
    for (const Vec2 point : line) {
        low = std::min(low, point.x);
        high = std::max(high, point.x);
    }
    CHECK(low == doctest::Approx(-high));
    const Vec2 half = half_size_mm(curve, 0);
    CHECK(half.x == doctest::Approx(high + 2.5));
}
