#include <doctest/doctest.h>

#include <filesystem>

#include "design/design_file.h"
#include "design/validation.h"
#include "foundation/worker_pool.h"
#include "picture/face.h"
#include "picture/sample.h"
#include "picture/so_far.h"

using namespace foreslice;
using foreslice::testing::library;
using foreslice::testing::sample_design;

namespace {

constexpr flow::Resolution coarse{24, 8, 0.5};

double way_mm(const std::vector<flow::Stroke>& strokes) {
    double sum = 0;
    for (const auto& stroke : strokes)
        for (std::size_t i = 1; i < stroke.path_mm.size(); ++i)
            sum += length(stroke.path_mm[i] - stroke.path_mm[i - 1]);
    return sum;
}

}  // namespace

TEST_CASE("strokes so far are as long as their share") {
    auto design = sample_design();
    design.strokes.push_back(design.strokes.front());
    const auto all = design::flow_strokes_of(design);
    for (const double share : {0.1, 0.35, 0.5, 0.75, 0.99})
        CHECK(way_mm(picture::strokes_so_far(all, share)) ==
              doctest::Approx(share * way_mm(all)).epsilon(0.01));
    CHECK(picture::strokes_so_far(all, 1) == all);
    CHECK(picture::strokes_so_far(all, 0).empty());
    CHECK(picture::strokes_so_far(all, 0.3).size() == 1);
}

TEST_CASE("a design so far is one of its own, with the layers as deep as they were") {
    const auto design = sample_design();
    const auto whole = design::pour_areas_mm2(design);
    for (std::size_t pours = 1; pours <= design.pours.size(); ++pours) {
        const auto so_far = picture::design_so_far(design, pours);
        CHECK_NOTHROW(design::validate(so_far));
        REQUIRE(so_far.pours.size() == pours);
        const auto areas = design::pour_areas_mm2(so_far);
        for (std::size_t i = 0; i < pours; ++i) CHECK(areas[i] == doctest::Approx(whole[i]).epsilon(1e-6));
        CHECK(so_far.mould.fill_mm == doctest::Approx(design::level_after_mm(design, pours)));
    }
    CHECK(picture::design_so_far(design, 99) == design);
}

TEST_CASE("every design of the collection is one of its own after each pour, and can be drawn") {
    WorkerPool pool(1);
    picture::FaceMaker maker(pool, library());
    Progress progress;
    picture::FaceRequest request;
    request.px_per_mm = 1;
    request.resolution = coarse;
    int worked_tops = 0;
    for (const auto& file : std::filesystem::directory_iterator(FORESLICE_SOURCE "/palettes")) {
        if (file.path().string().find(".foreslice.json") == std::string::npos) continue;
        const auto design = design::load(file.path());
        CAPTURE(design.name);
        worked_tops += design.top.plain() ? 0 : 1;
        for (std::size_t pours = 1; pours <= design.pours.size(); ++pours) {
            if (design::end_of_group(design, pours - 1) != pours) continue;
            const auto so_far = picture::design_so_far(design, pours);
            CHECK_NOTHROW(design::validate(so_far));
            if (so_far.mould.fill_mm < 5 || pours + 1 < design.pours.size()) continue;
            CHECK_NOTHROW(maker.make(so_far, request, progress));
        }
    }
    CHECK(worked_tops >= 2);
}

TEST_CASE("a face part of the way lies between the poured and the drawn one, and each keeps its areas") {
    WorkerPool pool(1);
    picture::FaceMaker maker(pool, library());
    const auto design = sample_design();
    Progress progress;
    picture::FaceRequest request;
    request.px_per_mm = 3;
    request.resolution = coarse;
    const auto drawn = maker.make(design, request, progress);
    request.path_share = 0.4;
    const auto half = maker.make(design, request, progress);
    request.path_share = 0;
    const auto none = maker.make(design, request, progress);
    request.stage = picture::Stage::poured;
    const auto poured = maker.make(design, request, progress);
    CHECK(none.image.rgba == poured.image.rgba);
    CHECK(half.image.rgba != poured.image.rgba);
    CHECK(half.image.rgba != drawn.image.rgba);
    request.stage = picture::Stage::drawn;
    request.path_share = 1;
    CHECK(maker.make(design, request, progress).image.rgba == drawn.image.rgba);
}

TEST_CASE("whence says what the face shows, and where it lay") {
    WorkerPool pool(1);
    picture::FaceMaker maker(pool, library());
    const auto design = sample_design();
    Progress progress;
    picture::FaceRequest request;
    request.px_per_mm = 4;
    request.resolution = coarse;
    const auto face = maker.make(design, request, progress);
    const auto whence = maker.whence(design, request, progress);
    int asked = 0, agreed = 0;
    for (double x = 1; x < design.mould.width_mm - 1; x += 2.3)
        for (double y = 1; y < design.mould.fill_mm - 1; y += 2.3) {
            const auto column = static_cast<std::size_t>(x * 4);
            const auto row = static_cast<std::size_t>((design.mould.fill_mm - y) * 4);
            const auto portions = static_cast<std::size_t>(face.coverage->portions);
            const auto* share =
                &face.coverage
                     ->share[(row * static_cast<std::size_t>(face.coverage->width_px) + column) * portions];
            const auto from = whence({x, y});
            if (share[from.material] < 255 && share[from.material] > 0) continue;  // an edge runs through it
            ++asked;
            agreed += share[from.material] == 255 ? 1 : 0;
            CHECK(from.before_mm.x >= 0);
            CHECK(from.before_mm.x <= design.mould.width_mm);
            CHECK(design.pours[static_cast<std::size_t>(from.pour)].portion ==
                  design.portions[static_cast<std::size_t>(from.material)].id);
        }
    CHECK(asked > 200);
    CHECK(agreed > 0.98 * asked);
}
