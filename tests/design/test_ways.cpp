// Zigzags, loops, slanted passes and tools that are more than a wire; ways that would cut into the mould.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "design/design_file.h"
#include "design/samples.h"
#include "design/validation.h"
#include "flow/path_plan.h"
#include "flow/tool.h"

using namespace foreslice;
using namespace foreslice::design;

namespace {

Design with(const Stroke& stroke) {
    Design design = samples::plain();
    design.strokes = {stroke};
    return design;
}

flow::Tool comb(int wires, double spacing) {
    flow::Tool tool;
    tool.kind = flow::Tool::Kind::comb;
    tool.wires = wires;
    tool.spacing_mm = spacing;
    return tool;
}

flow::Tool strip(double width, double angle) {
    flow::Tool tool;
    tool.kind = flow::Tool::Kind::strip;
    tool.width_mm = width;
    tool.angle_deg = angle;
    return tool;
}

Stroke along(decltype(Stroke::path) path, flow::Tool tool = {}) {
    Stroke stroke;
    stroke.path = std::move(path);
    stroke.tool = tool;
    return stroke;
}

// In and out through the top, wholly in air at both ends, and taken by the flow room.
void check_way(const Design& design) {
    REQUIRE_NOTHROW(validate(design));
    const Stroke& stroke = design.strokes[0];
    const auto path = path_of(stroke, design);
    REQUIRE(path.size() > 2);
    CHECK(path.front().y >= height_in_air_mm(stroke, design));
    CHECK(path.back().y >= height_in_air_mm(stroke, design));
    CHECK_NOTHROW(flow::plan_runs(box_of(design), flow_strokes_of(design)));
}

std::string sentence_at(const Design& design, const std::string& place) {
    for (const Warning& warning : warnings(design, samples::library()))
        if (warning.place == place) return warning.sentence;
    return "";
}

}  // namespace

TEST_CASE("ways: a zigzag goes from side to side, higher every time") {
    const Design design = with(along(Zigzag{.count = 5, .margin_mm = 10, .start = Side::right}));
    check_way(design);
    const auto path = path_of(design.strokes[0], design);
    REQUIRE(path.size() == 8);
    for (std::size_t k = 1; k + 1 < path.size(); ++k) {
        CHECK(path[k].x == doctest::Approx(k % 2 == 1 ? 55 : 10));
        if (k > 1) CHECK(path[k].y > path[k - 1].y);
    }
    CHECK(path[1].y == doctest::Approx(7));
    CHECK(path[6].y == doctest::Approx(design.mould.fill_mm - 8 - 3));
}

TEST_CASE("ways: loops and figure-eights keep their row and turn as they should") {
    for (const LoopShape shape : {LoopShape::loop, LoopShape::figure_eight}) {
        const Design design = with(along(Loops{.count = 3, .shape = shape, .width_mm = {}, .margin_mm = 8}));
        check_way(design);
        const auto path = path_of(design.strokes[0], design);
        double area = 0, least = 1e9, most = -1e9;  // signed area swept, by the shoelace rule
        for (std::size_t k = 1; k + 2 < path.size(); ++k) {
            area += 0.5 * (path[k].x * path[k + 1].y - path[k + 1].x * path[k].y);
            least = std::min(least, path[k].x);
            most = std::max(most, path[k].x);
        }
        CHECK(least == doctest::Approx(8).epsilon(1e-6));
        CHECK(most == doctest::Approx(57).epsilon(1e-6));
        const double first = path[1].x, last = path[path.size() - 2].x, top = path[1].y;
        area += 0.5 * (last * top - first * top);  // closed along the tops
        const double loops = 3 * 3.14159265 * (49.0 / 6) * (0.5 * (top - 7));
        if (shape == LoopShape::loop)
            CHECK(std::abs(area) == doctest::Approx(loops).epsilon(0.01));
        else
            CHECK(std::abs(area) < 0.01 * loops);  // its two halves turn opposite ways
    }
}

TEST_CASE("ways: a slant leans every pass alike and nothing else") {
    Passes passes{.count = 4, .spacing_mm = {}, .margin_mm = 20};
    const Design upright = with(along(passes));
    passes.slant_deg = 15;
    const Design slanted = with(along(passes));
    check_way(slanted);
    const auto path = path_of(slanted.strokes[0], slanted);
    int leaning = 0;
    for (std::size_t k = 1; k < path.size(); ++k) {
        const Vec2 step = path[k] - path[k - 1];
        if (step.y == 0 || step.x == 0) continue;
        CHECK(step.x / -step.y == doctest::Approx(std::tan(15 * 3.14159265358979 / 180)));
        ++leaning;
    }
    CHECK(leaning == 4);
    CHECK(path_of(upright.strokes[0], upright).size() == 8);
}

TEST_CASE("ways: a comb's outermost wires keep the margin; a strip enters from clear air") {
    const Design design = with(along(Passes{.count = 2, .spacing_mm = {}, .margin_mm = 8}, comb(3, 12)));
    check_way(design);
    CHECK(path_of(design.strokes[0], design).front().x == doctest::Approx(8 + 12));
    const Design leaning = with(along(Passes{.count = 2, .spacing_mm = {}, .margin_mm = 8}, strip(20, 90)));
    check_way(leaning);
    CHECK(height_in_air_mm(leaning.strokes[0], leaning) == doctest::Approx(leaning.mould.fill_mm + 10 + 1));
}

TEST_CASE("ways: what would cut into wall or floor is moved, and a sentence says so") {
    const Stroke stroke = along(Waypoints{{{30, 95}, {63, 40}, {30, 1}, {30, 95}}});
    const Design design = with(stroke);
    check_way(design);
    const auto path = path_of(stroke, design);
    CHECK(path[1].x == doctest::Approx(65 - 3.75));
    CHECK(path[1].y == 40);
    CHECK(path[2].y == doctest::Approx(3.75));
    const PathCorrection moved = correction_of(stroke, design);
    CHECK(moved.points == 2);
    CHECK(moved.most_mm == doctest::Approx(2.75));
    CHECK(moved.from_wall);
    CHECK(moved.from_floor);
    const std::string sentence = sentence_at(design, "/strokes/0");
    CHECK(sentence.find("2 points") != std::string::npos);
    CHECK(sentence.find("wall and floor") != std::string::npos);
    CHECK(sentence.find("2.8 mm") != std::string::npos);
    // Margins and clearances too; at the limit itself nothing moves.
    const Design narrow = with(along(Passes{.count = 3, .spacing_mm = {}, .margin_mm = 2}));
    check_way(narrow);
    CHECK(correction_of(narrow.strokes[0], narrow).points > 0);
    const Design fitting =
        with(along(Passes{.count = 3, .spacing_mm = {}, .margin_mm = 3.75, .floor_clearance_mm = 0.75}));
    CHECK(correction_of(fitting.strokes[0], fitting).points == 0);
    CHECK(path_of(fitting.strokes[0], fitting) == wanted_path_of(fitting.strokes[0], fitting));
}

TEST_CASE("ways: saved and read back, and left out where they say nothing") {
    for (const Stroke& stroke :
         {along(Zigzag{.count = 4, .margin_mm = 9, .start = Side::right}),
          along(Loops{.count = 2, .shape = LoopShape::loop, .width_mm = {}}, comb(4, 10)),
          along(Loops{.count = 1, .shape = LoopShape::figure_eight, .width_mm = 30}, strip(18, -30)),
          along(Passes{.count = 3, .spacing_mm = {}, .slant_deg = 12})}) {
        const Design design = with(stroke);
        CHECK(parse(to_json(design), "again").strokes == design.strokes);
    }
    const std::string plain = to_json(samples::plain());
    for (const char* field : {"slant_deg", "comb", "strip", "zigzag", "loops"})
        CHECK(plain.find(field) == std::string::npos);
}
