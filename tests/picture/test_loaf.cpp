#include "picture/loaf.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "foundation/error.h"
#include "picture/lengthwise.h"
#include "picture/sample.h"

using namespace foreslice;
using namespace foreslice::picture;

namespace {

design::Design steady() {
    auto design = testing::sample_design();
    design.mould.length_mm = 112;
    design.cut = {25, 4};
    std::get<design::Passes>(design.strokes[0].path).count = 1;
    return design;
}

LoafRequest coarse() {
    LoafRequest request;
    request.px_per_mm = 2;
    request.resolution = {24, 8, 0.5};
    return request;
}

Loaf drawn(const design::Design& design, unsigned threads = 2) {
    WorkerPool pool(threads);
    FaceMaker maker(pool, testing::library());
    Progress progress;
    return loaf_picture(maker, design, coarse(), progress);
}

}  // namespace

TEST_CASE("slices: ends, bars in order, what is left over goes to the last end") {
    const auto slices = slices_of(steady());
    REQUIRE(slices.size() == 6);
    CHECK(slices[0].kind == Slice::Kind::first_end);
    CHECK(slices[0].face_z_mm() == 4);
    CHECK(slices[0].near_arms);
    CHECK(slices[1].bar == 1);
    CHECK(slices[1].from_mm == 4);
    CHECK(slices[1].near_arms);
    CHECK_FALSE(slices[2].near_arms);
    CHECK(slices[4].to_mm == 104);
    CHECK(slices[5].kind == Slice::Kind::last_end);
    CHECK(slices[5].thickness_mm() == doctest::Approx(8));
    double sum_mm = 0;
    for (const Slice& slice : slices) sum_mm += slice.thickness_mm();
    CHECK(sum_mm == doctest::Approx(112));
    auto whole = steady();
    whole.mould.length_mm = 100;
    whole.cut.trim_mm = 0;
    CHECK(slices_of(whole).size() == 4);  // no ends to draw
}

TEST_CASE("loaf: the same seed gives the same loaf on any number of threads, another seed another one") {
    auto design = steady();
    design.hand = {1, 2};
    const auto once = drawn(design, 1);
    CHECK(once.picture.rgba == drawn(design, 3).picture.rgba);
    CHECK(once.solve.converged);
    design.seed = 6;
    CHECK(once.picture.rgba != drawn(design).picture.rgba);
}

TEST_CASE("bars differ by the hand, and by nothing when everything is even") {
    auto design = steady();
    for (auto& pour : design.pours) pour.unevenness_mm = 0;
    WorkerPool pool(2);
    FaceMaker maker(pool, testing::library());
    Progress progress;
    FaceRequest request;
    request.px_per_mm = 3;
    request.resolution = coarse().resolution;
    const auto face = [&](int bar) {
        request.bar = bar;
        return maker.make(design, request, progress).image.rgba;
    };
    CHECK(face(1) == face(3));
    design.hand.wander_mm = 1;
    CHECK(face(1) != face(3));
    design.hand = {0, 4};
    CHECK(face(1) != face(3));
    request.z_mm = design::bar_face_z_mm(design, 3);
    const auto there = face(1);
    request.z_mm.reset();
    CHECK(there == face(3));
}

TEST_CASE("wander and sag keep the portions' shares") {
    auto design = steady();
    std::get<design::Passes>(design.strokes[0].path).count = 3;
    design.hand = {1.5, 2};
    WorkerPool pool(2);
    FaceMaker maker(pool, testing::library());
    Progress progress;
    FaceRequest request;
    request.bar = 2;
    request.resolution.cells_across = 64;
    const auto face = maker.make(design, request, progress);
    for (std::size_t i = 0; i < design.portions.size(); ++i)
        CHECK(face.coverage->area_percent[i] ==
              doctest::Approx(design.portions[i].share_percent).epsilon(0.01));
}

TEST_CASE("cut lengthwise, the loaf shows at every bar what the bar's face shows there") {
    auto design = steady();
    design.strokes.clear();
    WorkerPool pool(2);
    FaceMaker maker(pool, testing::library());
    Progress progress;
    constexpr double scale = 4;
    const auto length = lengthwise_coverage(maker, design, 30, scale, {}, progress);
    FaceRequest request;
    request.px_per_mm = scale;
    request.bar = 3;
    const auto face = maker.make(design, request, progress);
    const int z = static_cast<int>(design::bar_face_z_mm(design, 3) * scale), x = 30 * 4;
    int alike = 0;
    for (int row = 0; row < length.height_px; ++row) {
        const auto of = [&](const Coverage& coverage, int column) {
            const auto at = (static_cast<std::size_t>(row) * static_cast<std::size_t>(coverage.width_px) +
                             static_cast<std::size_t>(column)) *
                            3;
            return std::max_element(&coverage.share[at], &coverage.share[at] + 3) - &coverage.share[at];
        };
        if (of(length, z) == of(*face.coverage, x)) ++alike;
    }
    CHECK(alike >= length.height_px - 3);  // an edge may fall to either side of a pixel
}

TEST_CASE("a loaf that cannot be drawn is refused with what is allowed") {
    WorkerPool pool(1);
    FaceMaker maker(pool, testing::library());
    Progress progress;
    auto design = steady();
    LoafRequest request;
    request.px_per_mm = 40;
    CHECK_THROWS_AS(loaf_picture(maker, design, request, progress), InputError);
    request.px_per_mm = 2;
    design.cut = {200, 0};
    CHECK_THROWS_AS(loaf_picture(maker, design, request, progress), InputError);
    design.cut = {5, 0};
    design.mould = {500, 500, 3000, 500};
    request.px_per_mm = 12;
    CHECK_THROWS_AS(loaf_picture(maker, design, request, progress), InputError);
}
