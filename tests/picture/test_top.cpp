// The worked top: maps keep areas, surfaces and walls; faces keep every portion's area; same seed, same top.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <numeric>

#include "foundation/random.h"
#include "picture/face.h"
#include "picture/sample.h"
#include "picture/top.h"
#include "picture/top_shapes.h"

using namespace foreslice;
using namespace foreslice::testing;
using namespace foreslice::picture;
using design::TopMotion;
using design::TopStroke;
using design::TopTool;

namespace {

constexpr double width_mm = 60;

double dice(std::uint64_t index, double least, double most) {
    return least + (most - least) * 0.5 * (1 + seeded_uniform(7, index));
}

TopStroke stroke_of(TopTool tool, TopMotion motion) {
    TopStroke stroke{tool, motion};
    stroke.height_mm = motion == TopMotion::to_crest ? 12 : 5;
    stroke.spacing_mm = tool == TopTool::fork ? 5 : 16;
    return stroke;
}

std::vector<TopStep> all_kinds() {
    std::vector<TopStep> steps;
    for (const TopTool tool : {TopTool::spatula, TopTool::fork})
        for (int motion = 0; motion < 4; ++motion) {
            const TopStroke stroke = stroke_of(tool, static_cast<TopMotion>(motion));
            const Profile before = worked_mm(stroke_of(TopTool::spatula, TopMotion::across), width_mm, 3, 60);
            steps.emplace_back(before.about_mean(0.5) + Profile::flat(width_mm, 40),
                               worked_mm(stroke, width_mm, 11, 35), 0.45 * stroke.spacing_mm);
        }
    return steps;
}

design::Design topped_design() {
    design::Design design = sample_design();
    design.top.spooned = {{"ink", 20, 40, 30, 28}, {"white", 15, {}, 34, 24}};
    design.top.strokes = {stroke_of(TopTool::spatula, TopMotion::to_crest),
                          stroke_of(TopTool::fork, TopMotion::along)};
    design.top.strokes[1].height_mm = 1.5;
    design.top.glitter = {{"mica-gold", 8, 0.4}};
    design.top.firmed_yield_stress_pa = 150;
    return design;
}

FaceRequest request_of(double px_per_mm) {
    FaceRequest request;
    request.px_per_mm = px_per_mm;
    request.resolution.cells_across = 48;
    return request;
}

Face face_of(const design::Design& design, double px_per_mm) {
    Progress progress;
    return shared_maker().make(design, request_of(px_per_mm), progress);
}

Face face_on(unsigned threads, const design::Design& design, double px_per_mm) {
    WorkerPool pool(threads);
    FaceMaker maker(pool, library());
    Progress progress;
    return maker.make(design, request_of(px_per_mm), progress);
}

double area_mm2(const design::Design& design) {
    return design.mould.width_mm * design.mould.fill_mm;
}

}  // namespace

TEST_CASE("a step of the top keeps areas everywhere: its gradient's determinant is 1") {
    for (const TopStep& step : all_kinds())
        for (std::uint64_t i = 0; i < 300; ++i) {
            const double x = dice(3 * i, 0.1, width_mm - 0.1);
            const Vec2 at{x, step.after().at(x) - dice(3 * i + 1, 0.02, 1.2) * step.felt_mm()};
            const double h = 1e-5;
            const Vec2 across = step.back(at + Vec2{h, 0}) - step.back(at - Vec2{h, 0});
            const Vec2 up = step.back(at + Vec2{0, h}) - step.back(at - Vec2{0, h});
            // Profiles are straight between columns: a difference over a kink mixes the gradients on its two
            // sides, each of which has determinant 1.
            const double column = x / step.before().x_of(1), from = step.back(at).x / step.before().x_of(1);
            if (std::abs(column - std::round(column)) < 1e-3 || std::abs(from - std::round(from)) < 1e-3)
                continue;
            CHECK((across.x * up.y - across.y * up.x) / (4 * h * h) == doctest::Approx(1).epsilon(1e-4));
        }
}

TEST_CASE("a step of the top carries the surface onto the surface and leaves walls and depths alone") {
    for (const TopStep& step : all_kinds())
        for (std::uint64_t i = 0; i < 100; ++i) {
            const double x = dice(i, 0, width_mm);
            const Vec2 from = step.back({x, step.after().at(x)});
            CHECK(from.y == doctest::Approx(step.before().at(from.x)).epsilon(1e-9));
            const double deep = step.before().at(x) - step.felt_mm() - 0.01;
            CHECK(step.back({x, deep}) == Vec2{x, deep});
            CHECK(step.back({0, deep + 3}).x == 0);
            CHECK(step.back({width_mm, deep + 3}).x == doctest::Approx(width_mm).epsilon(1e-12));
        }
}

TEST_CASE("forth undoes back") {
    for (const TopStep& step : all_kinds())
        for (std::uint64_t i = 0; i < 200; ++i) {
            const double x = dice(2 * i, 0, width_mm);
            const Vec2 at{x, step.after().at(x) - dice(2 * i + 1, 0, 1.2) * step.felt_mm()};
            CHECK(length(step.forth(step.back(at)) - at) < 1e-6);
        }
    const FinishedTop top(topped_design(), 55);
    for (std::uint64_t i = 0; i < 200; ++i) {
        const Vec2 at{dice(2 * i, 0, 60), dice(2 * i + 1, 20, top.rest_mm())};
        CHECK(length(top.back(top.forth(at)) - at) < 1e-6);
    }
}

TEST_CASE("the mirror image of a rise makes the mirror image of the map") {
    const Profile rise = worked_mm(stroke_of(TopTool::spatula, TopMotion::along), width_mm, 5, 10);
    std::vector<double> mirrored(rise.heights_mm().rbegin(), rise.heights_mm().rend());
    const Profile flat = Profile::flat(width_mm, 40);
    const TopStep one(flat, rise, 8), other(flat, Profile(width_mm, mirrored), 8);
    for (std::uint64_t i = 0; i < 200; ++i) {
        const double x = dice(2 * i, 0, width_mm);
        const Vec2 at{x, one.after().at(x) - dice(2 * i + 1, 0, 9)};
        const Vec2 a = one.back(at), b = other.back({width_mm - at.x, at.y});
        CHECK(a.x == doctest::Approx(width_mm - b.x).epsilon(1e-9));
        CHECK(a.y == doctest::Approx(b.y).epsilon(1e-9));
    }
}

TEST_CASE("heaps hold the area that was kept back, at every place along the loaf") {
    const design::Spooned even{"a", 10, {}, 30, 0}, lumps{"a", 10, 5, 30, 26};
    for (const auto& spooned : {even, lumps})
        for (const double z : {0.0, 13.0, 71.5, 160.0}) {
            const Profile heap = heap_mm(spooned, width_mm, 123, 9, z);
            CHECK(heap.integral_mm2(width_mm) == doctest::Approx(123));
            CHECK(heap.lowest_mm() >= 0);
        }
}

TEST_CASE("soap on a face with a top: all of it, and every portion what was poured and spooned") {
    const auto design = topped_design();
    const Face face = face_of(design, 8);
    REQUIRE(face.coverage->above_px > 0);
    double soap_px = 0;
    for (const std::uint8_t solid : face.coverage->solid) soap_px += solid / 255.0;
    const double pixel_mm2 =
        (60.0 / face.image.width_px) *
        (design::box_of(design).height_mm / (face.image.height_px - face.coverage->above_px));
    CHECK(soap_px * pixel_mm2 == doctest::Approx(area_mm2(design)).epsilon(2e-4));
    CHECK(std::abs(face.coverage->area_percent[0] - 40) < 0.1);
    CHECK(std::abs(face.coverage->area_percent[1] - 50) < 0.1);
    CHECK(std::abs(face.coverage->area_percent[2] - 10) < 0.1);
}

TEST_CASE("measures of a face with a top count what was spooned on") {
    const auto design = topped_design();
    Progress progress;
    const auto measures = shared_maker().measure(design, request_of(8), progress);
    CHECK(std::abs(measures.portions[0].face_percent - 40) < 0.2);
    CHECK(std::abs(measures.portions[1].face_percent - 50) < 0.2);
    CHECK(std::abs(measures.portions[2].face_percent - 10) < 0.2);
}

TEST_CASE("the same face, bar and flakes on one thread and on two; another seed gives another top") {
    auto design = topped_design();
    const Face one = face_on(1, design, 4), two = face_on(2, design, 4);
    CHECK(one.image.rgba == two.image.rgba);
    CHECK(bar_picture(design, one, request_of(4)).rgba == bar_picture(design, two, request_of(4)).rgba);
    design.seed = 6;
    const FinishedTop other(design, 30), first(topped_design(), 30), again(topped_design(), 30);
    CHECK(first.surface().heights_mm() == again.surface().heights_mm());
    CHECK(first.surface().heights_mm() != other.surface().heights_mm());
}

TEST_CASE("a worked top leaves what lies deep below it as it was") {
    auto design = sample_design();
    const Face level = face_of(design, 4);
    design.top.strokes = {stroke_of(TopTool::fork, TopMotion::along)};
    design.top.firmed_yield_stress_pa = 100;
    const Face worked = face_of(design, 4);
    CHECK(worked.image.width_px == level.image.width_px);
    CHECK(worked.image.height_px - worked.coverage->above_px == level.image.height_px);
    const double felt_mm = FinishedTop(design, design::bar_face_z_mm(design, 1)).felt_from_mm();
    CHECK(felt_mm > 30);
    const int rows = static_cast<int>(felt_mm * 4) - 4;  // settled films exchange over a few pixels
    const std::size_t bytes =
        static_cast<std::size_t>(rows) * static_cast<std::size_t>(level.image.width_px) * 4;
    int differ = 0;
    for (std::size_t i = 1; i <= bytes; ++i)
        differ +=
            level.image.rgba[level.image.rgba.size() - i] != worked.image.rgba[worked.image.rgba.size() - i];
    CHECK(differ == 0);
}

TEST_CASE("batter without a yield stress comes to rest level, heaps and all") {
    auto design = topped_design();
    design.top.firmed_yield_stress_pa = 0;
    const FinishedTop top(design, 80);
    CHECK(top.surface().highest_mm() - top.surface().lowest_mm() < 1e-6);
    CHECK(top.surface().mean_mm() == doctest::Approx(design.mould.fill_mm));
}

TEST_CASE("ridges that the batter cannot hold sink to what it holds") {
    auto design = sample_design();
    design.top.strokes = {stroke_of(TopTool::fork, TopMotion::along)};
    design.top.firmed_yield_stress_pa = 5;
    // A ripple of amplitude A holds when tau_y >= rho g A / e (settling.h).
    const double holds_mm = 1e3 * std::numbers::e * 5 / (design.batter.density_kg_per_m3 * 9.80665);
    const FinishedTop top(design, 80);
    // A fork's tips are finer than the columns that the shape settles on.
    CHECK(top.surface().highest_mm() - 40 < 1.2 * holds_mm);
    CHECK(40 - top.surface().lowest_mm() < 1.2 * holds_mm);
    CHECK(top.surface().highest_mm() - 40 > 0.3 * holds_mm);
}

TEST_CASE("glitter covers what is said, lies within the mould and goes on from bar to bar") {
    auto design = topped_design();
    for (const double size : {0.15, 0.5, 1.2})
        for (const double cover : {1.0, 10.0, 45.0}) {
            design.top.glitter = {{"mica-gold", cover, size}};
            const auto flakes = flakes_over(design, 0, 200, 0);
            double area = 0;
            for (const Flake& flake : flakes) {
                area += std::numbers::pi * flake.radius_mm * flake.radius_mm;
                REQUIRE(flake.x_mm >= 0);
                REQUIRE(flake.x_mm <= 60);
            }
            CHECK(100 * area / (60 * 200) == doctest::Approx(cover).epsilon(0.15));
        }
    design.top.glitter = {{"mica-gold", 10, 0.5}};
    const auto near = flakes_over(design, 100, 110, 100), all = flakes_over(design, 90, 130, 90);
    for (const Flake& flake : near) {
        bool found = false;
        for (const Flake& other : all)
            found =
                found || (other.x_mm == flake.x_mm && std::abs(other.depth_mm - flake.depth_mm - 10) < 1e-9);
        CHECK(found);
    }
}

TEST_CASE("glitter alone leaves the face's shape and colours below the edge as they are") {
    auto design = sample_design();
    const Face plain = face_of(design, 4);
    design.top.glitter = {{"mica-gold", 20, 0.5}};
    const Face strewn = face_of(design, 4);
    REQUIRE(strewn.image.rgba.size() == plain.image.rgba.size());
    const std::size_t top = 4 * 4 * static_cast<std::size_t>(plain.image.width_px);
    int differ = 0;
    for (std::size_t i = 0; i < plain.image.rgba.size(); ++i)
        if (plain.image.rgba[i] != strewn.image.rgba[i]) differ += i < top ? 0 : 1;
    CHECK(differ == 0);
    CHECK(plain.image.rgba != strewn.image.rgba);
}

TEST_CASE("a mica in a portion shows its lustre on the top of the bar only") {
    auto design = topped_design();
    design.top.glitter.clear();
    auto with_mica = design;
    with_mica.portions[1].doses.push_back({"mica-pearl", 6});
    Face dull = face_of(design, 4), bright = face_of(with_mica, 4);
    CHECK(dull.sparkle[1] == 0);
    CHECK(bright.sparkle[1] > 0.2);
    bright.colours = dull.colours;  // the base reflection aside
    bright.image = dull.image;
    const Image a = bar_picture(design, dull, request_of(4)), b = bar_picture(design, bright, request_of(4));
    CHECK(a.rgba != b.rgba);
    const int face_from = 4 * 9 + static_cast<int>((bright.image.height_px / 4.0 - 30) * 4);
    int differ = 0;
    for (int y = face_from; y < a.height_px; ++y)
        for (int x = 0; x < 4 * a.width_px; ++x) {
            const auto at = static_cast<std::size_t>(y) * static_cast<std::size_t>(a.width_px) * 4 +
                            static_cast<std::size_t>(x);
            differ += a.rgba[at] != b.rgba[at];
        }
    CHECK(differ == 0);
}
