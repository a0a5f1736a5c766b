#include <doctest/doctest.h>

#include "foundation/error.h"
#include "picture/face.h"
#include "picture/sample.h"

using namespace foreslice;
using namespace foreslice::testing;
using picture::FaceMaker;
using picture::FaceRequest;
using picture::Stage;

namespace {

FaceRequest request_for(Stage stage) {
    FaceRequest request;
    request.px_per_mm = 3;
    request.stage = stage;
    request.resolution.cells_across = 32;
    return request;
}

// Counts the stages of work that a call goes through.
struct Watch {
    std::vector<std::string> stages;
    Progress progress{[this](const Progress& p) {
        if (stages.empty() || stages.back() != p.stage()) stages.push_back(p.stage());
    }};
};

}  // namespace

TEST_CASE("areas of the drawn face are those poured, within 0.1 % of the face") {
    WorkerPool pool(2);
    FaceMaker maker(pool, library());
    Progress progress;
    auto request = request_for(Stage::drawn);
    request.px_per_mm = 6;
    request.resolution.cells_across = 96;
    const auto face = maker.make(sample_design(), request, progress);
    CHECK(face.solve.converged);
    CHECK(std::abs(face.coverage->area_percent[0] - 40) < 0.1);
    CHECK(std::abs(face.coverage->area_percent[1] - 50) < 0.1);
    CHECK(std::abs(face.coverage->area_percent[2] - 10) < 0.1);
}

TEST_CASE("a new dose only repaints; a new order of layers only lays them anew") {
    WorkerPool pool(2);
    FaceMaker maker(pool, library());
    auto design = sample_design();
    const auto request = request_for(Stage::drawn);
    Watch cold;
    const auto first = maker.make(design, request, cold.progress);
    CHECK(cold.stages.size() >= 2);

    Watch same;
    const auto again = maker.make(design, request, same.progress);
    CHECK(same.stages.empty());
    CHECK(again.image.rgba == first.image.rgba);

    design.portions[2].doses[0].g_per_kg_oils = 1;
    Watch dosed;
    const auto paler = maker.make(design, request, dosed.progress);
    CHECK(dosed.stages.empty());
    CHECK(paler.coverage == first.coverage);
    CHECK(paler.image.rgba != first.image.rgba);

    std::swap(design.pours[0], design.pours[2]);
    Watch ordered;
    const auto swapped = maker.make(design, request, ordered.progress);
    CHECK(ordered.stages.size() == 1);
    CHECK(swapped.coverage != first.coverage);

    std::swap(design.pours[0], design.pours[2]);
    Watch back;
    CHECK(maker.make(design, request, back.progress).coverage == first.coverage);
    CHECK(back.stages.empty());
}

TEST_CASE("what a face shows is the same from a cold start as from a warm one") {
    WorkerPool pool(2);
    auto design = sample_design();
    const auto request = request_for(Stage::drawn);
    FaceMaker warm(pool, library());
    Progress progress;
    warm.make(design, request, progress);
    design.portions[0].doses[0].g_per_kg_oils = 2;
    std::swap(design.pours[1], design.pours[2]);
    std::get<design::Passes>(design.strokes[0].path).count = 4;
    FaceMaker cold(pool, library());
    CHECK(warm.make(design, request, progress).image.rgba == cold.make(design, request, progress).image.rgba);
}

TEST_CASE("a design without strokes is drawn as it was poured") {
    WorkerPool pool(1);
    FaceMaker maker(pool, library());
    Progress progress;
    auto design = sample_design();
    design.strokes.clear();
    CHECK(maker.make(design, request_for(Stage::drawn), progress).image.rgba ==
          maker.make(design, request_for(Stage::poured), progress).image.rgba);
}

TEST_CASE("pixels of one portion have exactly that portion's colour") {
    WorkerPool pool(1);
    FaceMaker maker(pool, library());
    Progress progress;
    const auto face = maker.make(sample_design(), request_for(Stage::poured), progress);
    const std::size_t lowest = face.image.rgba.size() - 4;  // the floor is ink
    CHECK(face.image.rgba[lowest] == face.colours[0].srgb.r);
    CHECK(face.image.rgba[lowest + 1] == face.colours[0].srgb.g);
    CHECK(face.image.rgba[lowest + 2] == face.colours[0].srgb.b);
    CHECK(face.doses[0].size() == 1);
    CHECK(face.doses[1][0].colourant == "titanium dioxide");
}

TEST_CASE("bars and scales that cannot be are refused with what is allowed") {
    WorkerPool pool(1);
    FaceMaker maker(pool, library());
    Progress progress;
    const auto refused = [&](const design::Design& design, FaceRequest request, const char* word) {
        request.stage = Stage::poured;
        try {
            maker.make(design, request, progress);
            FAIL("accepted");
        } catch (const InputError& error) {
            CHECK_MESSAGE(std::string(error.what()).find(word) != std::string::npos, error.what());
        }
    };
    const auto design = sample_design();
    FaceRequest request;
    request.bar = 99;
    refused(design, request, "1 to 7");
    request.bar = 0;
    refused(design, request, "1 to 7");
    request = {};
    request.px_per_mm = 0.1;
    refused(design, request, "0.5 to 60");
    request.px_per_mm = std::nan("");
    refused(design, request, "0.5 to 60");
    auto slab = design;
    slab.mould = {500, 500, 500, 500};
    request.px_per_mm = 40;
    refused(slab, request, "20000 x 20000");
    auto unknown = design;
    unknown.portions[0].doses[0].colourant = "moon-dust";
    refused(unknown, {}, "moon-dust");
}

TEST_CASE("making a face stops when asked to, and works afterwards") {
    WorkerPool pool(2);
    FaceMaker maker(pool, library());
    Progress stopped, progress;
    stopped.request_stop();
    CHECK_THROWS_AS(maker.make(sample_design(), request_for(Stage::drawn), stopped), Stopped);
    CHECK(maker.make(sample_design(), request_for(Stage::drawn), progress).image.width_px == 180);
}

TEST_CASE("a thicker portion changes the face, keeps its area, and makes the flow follow the layers") {
    WorkerPool pool(2);
    FaceMaker maker(pool, library());
    Progress progress;
    const auto request = request_for(Stage::drawn);
    const auto plain = maker.make(sample_design(), request, progress);
    auto design = sample_design();
    design.portions[1].times_as_thick = 6;
    const auto thick = maker.make(design, request, progress);
    CHECK(mean_difference(plain.image, thick.image, 3) > 3);
    for (std::size_t k = 0; k < 3; ++k)
        CHECK(std::abs(thick.coverage->area_percent[k] - design.portions[k].share_percent) < 0.5);
    // All alike again, though each says so for itself: one flow for every order of layers.
    for (auto& portion : design.portions) portion.times_as_thick = 1;
    design.portions[1].trace = design.batter.trace;
    CHECK(maker.make(design, request, progress).image.rgba == plain.image.rgba);
}

TEST_CASE("a thick portion is felt by a stroke that is drawn before all pours are in (long)") {
    WorkerPool pool(2);
    FaceMaker maker(pool, library());
    Progress progress;
    const auto request = request_for(Stage::drawn);
    auto design = sample_design();
    design.strokes[0].after_pours = 3;
    const auto plain = maker.make(design, request, progress);
    design.portions[0].times_as_thick = 6;
    CHECK(mean_difference(plain.image, maker.make(design, request, progress).image, 3) > 1);
    Watch again;
    maker.make(design, request, again.progress);
    CHECK(again.stages.empty());
}
