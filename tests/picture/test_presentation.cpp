#include <doctest/doctest.h>

#include "picture/bar.h"
#include "picture/face.h"
#include "picture/sample.h"
#include "picture/sheet.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

struct Made {
    design::Design design = sample_design();
    picture::FaceRequest request;
    picture::Face face;

    explicit Made(double px_per_mm, int bar = 2) {
        request.px_per_mm = px_per_mm;
        request.bar = bar;
        request.stage = picture::Stage::poured;
        WorkerPool pool(2);
        Progress progress;
        face = picture::FaceMaker(pool, library()).make(design, request, progress);
    }
};

}  // namespace

TEST_CASE("the bar's surface keeps the face's colours over any 2 mm") {
    for (double scale : {4.0, 8.0, 16.0}) {
        const Made made(scale);
        const auto bar = picture::bar_picture(made.design, made.face, made.request);
        const int margin = picture::bar_margin_px(scale);
        CHECK(bar.width_px == made.face.image.width_px + 2 * margin);
        CHECK(bar.height_px == made.face.image.height_px + 2 * margin);
        const auto inside = cropped(bar, margin, margin, made.face.image.width_px, made.face.image.height_px);
        double worst = 0;
        const double mean = mean_difference(inside, made.face.image, static_cast<int>(2 * scale), &worst);
        CHECK(mean < 0.3);
        CHECK(worst < 1.0);
        CHECK(inside.rgba != made.face.image.rgba);  // and yet it is not the bare face
    }
}

TEST_CASE("the bar has corners cut off, an uneven top and a shadow on nothing") {
    const Made made(8);
    const auto bar = picture::bar_picture(made.design, made.face, made.request);
    const int margin = picture::bar_margin_px(8), height = made.face.image.height_px;
    const auto alpha = [&](int x, int y) {
        return bar.rgba[4 * static_cast<std::size_t>(y * bar.width_px + x) + 3];
    };
    CHECK(alpha(0, 0) < 8);
    CHECK(alpha(margin + 200, margin + 100) == 255);
    CHECK(alpha(margin, margin + height - 1) < 200);       // rounded lower corner
    CHECK(alpha(margin + 200, margin + height + 6) > 20);  // shadow below
    CHECK(alpha(margin + 200, margin + height + 6) < 250);
    int least = 1000, most = 0;
    for (int x = margin + 30; x < margin + 450; ++x) {
        int y = 0;
        while (alpha(x, y) < 250) ++y;
        least = std::min(least, y);
        most = std::max(most, y);
    }
    CHECK(most - least >= 2);
    CHECK(most - least <= 14);  // within +-0.8 mm
    CHECK(std::abs(0.5 * (least + most) - margin) <= 8);
}

TEST_CASE("a plate holds the bar at its scale, and the same request gives the same plate") {
    const Made made(8);
    const auto a = picture::presented(made.design, made.face, made.request);
    const auto b = picture::presented(made.design, made.face, made.request);
    CHECK(a.rgba == b.rgba);
    CHECK(a.width_px > made.face.image.width_px + 200);
    CHECK(a.height_px > made.face.image.height_px + 100);
    for (std::size_t i = 3; i < a.rgba.size(); i += 4) REQUIRE(a.rgba[i] == 255);
}

TEST_CASE("plates of extreme sizes and long names can be made") {
    for (double scale : {0.5, 3.0, 20.0}) {
        Made made(scale);
        made.design.name = std::string(200, 'W');
        made.design.portions[0].name = std::string(150, 'M');
        const auto plate = picture::presented(made.design, made.face, made.request);
        CHECK(plate.width_px < 3000);
        CHECK(plate.height_px < 3000);
    }
}

TEST_CASE("bars of one loaf differ on the plate") {
    const Made second(4, 2), third(4, 3);
    CHECK(second.face.image.rgba != third.face.image.rgba);
}

TEST_CASE("a contact sheet holds every entry") {
    const Made made(3);
    const auto bar = picture::bar_picture(made.design, made.face, made.request);
    const picture::SheetEntry entry{bar, "One", "light trace"};
    const auto one = picture::contact_sheet("Heading", "note", {entry});
    const auto six = picture::contact_sheet("Heading", "note", {entry, entry, entry, entry, entry, entry});
    CHECK(six.width_px > 2 * bar.width_px);
    CHECK(six.height_px > one.height_px);
    CHECK(picture::contact_sheet("Heading", "note", {}).width_px > 0);
}
