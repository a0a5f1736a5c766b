#include <doctest/doctest.h>

#include <cmath>

#include "foundation/random.h"
#include "picture/face.h"
#include "picture/layers.h"
#include "picture/sample.h"
#include "picture/section_coverage.h"
#include "picture/surface.h"

using namespace foreslice;
using foreslice::testing::library;
using foreslice::testing::random_point;
using foreslice::testing::sample_design;
using picture::Surface;

namespace {

Surface hilly(double width) {
    std::vector<double> heights;
    for (std::size_t i = 0; i < Surface::columns_over(width); ++i)
        heights.push_back(20 + 9 * std::sin(0.21 * static_cast<double>(i)) +
                          3 * std::cos(0.5 * static_cast<double>(i)));
    return {width, heights};
}

}  // namespace

TEST_CASE("batter under an uneven surface and a box map one to one and keep areas") {
    const Surface surface = hilly(61.3);
    CHECK(surface.at(0) == surface.heights_mm().front());
    double worst = 0, worst_determinant = 0;
    for (std::uint64_t i = 0; i < 2000; ++i) {
        const Vec2 box = random_point(i, surface.width_mm(), surface.level_mm());
        const Vec2 there = surface.from_box(box);
        CHECK(there.y <= surface.at(there.x) + 1e-9);
        worst = std::max(worst, length(surface.to_box(there) - box));
        const double h = 1e-5;
        const Vec2 dx =
            (0.5 / h) * (surface.to_box({there.x + h, there.y}) - surface.to_box({there.x - h, there.y}));
        const Vec2 dy =
            (0.5 / h) * (surface.to_box({there.x, there.y + h}) - surface.to_box({there.x, there.y - h}));
        worst_determinant = std::max(worst_determinant, std::abs(dx.x * dy.y - dx.y * dy.x - 1));
    }
    CHECK(worst < 1e-9);
    CHECK(worst_determinant < 1e-4);  // central differences straddle the surface's corners
    const Vec2 corner = surface.to_box({61.3, surface.at(61.3)});
    CHECK(corner.x == doctest::Approx(61.3).epsilon(1e-12));
    CHECK(corner.y == doctest::Approx(surface.level_mm()).epsilon(1e-12));
}

TEST_CASE("laid pours give the same section, walked stage by stage or looked up in the stack") {
    const auto design = sample_design();
    const picture::LayerStack stack(design, 60);
    const auto section = picture::poured_section(design, 60, {});
    int differ = 0;
    for (std::uint64_t i = 0; i < 20000; ++i) {
        const Vec2 p = random_point(i, 60, 40);
        if (section.at(p).material != stack.portion_at(p)) ++differ;
    }
    CHECK(differ == 0);
    CHECK(section.at({-5, -5}).deposit == 0);
    CHECK(section.at({500, 500}).deposit == 3);
}

TEST_CASE("sampled coverage of level layers is the exact one") {
    WorkerPool pool(2);
    Progress progress;
    const auto design = sample_design();
    const auto exact = picture::poured_coverage(picture::LayerStack(design, 60), 3, 4, pool, progress);
    const auto sampled =
        picture::section_coverage(picture::poured_section(design, 60, {}), 3, 4, 4, pool, progress);
    REQUIRE(exact.share.size() == sampled.share.size());
    int most = 0;
    for (std::size_t i = 0; i < exact.share.size(); ++i)
        most = std::max(most, std::abs(exact.share[i] - sampled.share[i]));
    CHECK(most <= 20);  // of 255: samples look along slanted pieces
    for (std::size_t k = 0; k < 3; ++k)
        CHECK(std::abs(exact.area_percent[k] - sampled.area_percent[k]) < 0.01);
    WorkerPool one(1);
    CHECK(picture::section_coverage(picture::poured_section(design, 60, {}), 3, 4, 4, one, progress).share ==
          sampled.share);
}

TEST_CASE("a stroke between pours draws what is there and leaves what comes later alone") {
    WorkerPool pool(2);
    picture::FaceMaker maker(pool, library());
    Progress progress;
    auto design = sample_design();
    design.strokes[0].after_pours = 2;  // 22 of 40 mm: ink and half the white
    std::get<design::Passes>(design.strokes[0].path).top_clearance_mm = 2;
    picture::FaceRequest request;
    request.px_per_mm = 6;
    request.resolution.cells_across = 64;
    const auto face = maker.make(design, request, progress);
    CHECK(std::abs(face.coverage->area_percent[0] - 40) < 0.15);
    CHECK(std::abs(face.coverage->area_percent[1] - 50) < 0.15);
    CHECK(std::abs(face.coverage->area_percent[2] - 10) < 0.05);
    const auto section = maker.section(design, 1, request.resolution, progress);
    design.strokes.clear();
    const auto untouched = maker.section(design, 1, request.resolution, progress);
    int moved_below = 0, moved_above = 0;
    for (std::uint64_t i = 0; i < 5000; ++i) {
        const Vec2 p = random_point(i, 60, 40);
        const bool same = section->at(p) == untouched->at(p);
        if (!same) ++(untouched->at(p).deposit >= 2 ? moved_above : moved_below);
    }
    CHECK(moved_below > 300);
    CHECK(moved_above == 0);
}

TEST_CASE("strokes before and after the last pour follow each other (long)") {
    WorkerPool pool(2);
    picture::FaceMaker maker(pool, library());
    Progress progress;
    auto design = sample_design();
    design.strokes.push_back(design.strokes[0]);
    design.strokes[0].after_pours = 2;
    std::get<design::Passes>(design.strokes[0].path).top_clearance_mm = 2;
    picture::FaceRequest request;
    request.px_per_mm = 4;
    request.resolution.cells_across = 48;
    const auto face = maker.make(design, request, progress);
    CHECK(std::abs(face.coverage->area_percent[0] - 40) < 0.3);
    request.stage = picture::Stage::poured;
    const auto before = maker.make(design, request, progress);
    CHECK(before.image.rgba != face.image.rgba);
    request.stage = picture::Stage::drawn;
    WorkerPool one(1);
    picture::FaceMaker other(one, library());
    CHECK(other.make(design, request, progress).image.rgba == face.image.rgba);
}
