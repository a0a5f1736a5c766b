#include <doctest/doctest.h>

#include <algorithm>

#include "studio/window/layout.h"

using namespace foreslice::studio;

namespace {

bool inside(const Area& inner, const Area& outer) {
    return inner.x >= outer.x - 1 && inner.y >= outer.y - 1 && inner.right() <= outer.right() + 1 &&
           inner.bottom() <= outer.bottom() + 1;
}

bool apart(const Area& a, const Area& b) {
    return a.right() <= b.x + 0.5F || b.right() <= a.x + 0.5F || a.bottom() <= b.y + 0.5F ||
           b.bottom() <= a.y + 0.5F;
}

}  // namespace

TEST_CASE("nothing overlaps or leaves the window from the smallest to the largest") {
    struct Case {
        float width, height, scale, notes;
    };
    for (const Case c : {Case{960, 600, 1, 400},
                         {1280, 720, 1, 0},
                         {1280, 720, 1.5F, 90},
                         {1920, 1080, 1, 120},
                         {3840, 2160, 2, 5000},
                         {3840, 2160, 1, 100}}) {
        const Layout l = window_layout(c.width, c.height, c.scale, c.notes);
        const Area window{0, 0, c.width, c.height};
        std::vector<Area> areas{l.title, l.ribbon, l.sheet, l.controls, l.status};
        if (c.notes > 0) areas.push_back(l.notes);
        for (std::size_t i = 0; i < areas.size(); ++i) {
            CHECK(inside(areas[i], window));
            CHECK(areas[i].width > 0);
            CHECK(areas[i].height > 0);
            for (std::size_t j = 0; j < i; ++j) CHECK(apart(areas[i], areas[j]));
        }
        CHECK(l.notes.height <= l.controls.height);
        CHECK(l.sheet.width > l.controls.width);
    }
}

TEST_CASE("both figures fit on the sheet for every mould, and the face is the larger one") {
    const Area sheet{20, 130, 830, 520};
    struct Mould {
        double width_mm, fill_mm;
    };
    for (const Mould m : {Mould{65, 80}, {90, 60}, {200, 40}, {500, 20}, {20, 200}, {80, 80}}) {
        const Figures f = sheet_figures(sheet, m.width_mm, m.fill_mm, 1);
        CHECK(inside(f.face, sheet));
        CHECK(inside(f.poured, sheet));
        CHECK(apart(f.face, f.poured));
        CHECK(apart(f.labels, f.poured));
        CHECK(f.poured_px_per_mm > 0);
        CHECK(f.px_per_mm >= f.poured_px_per_mm);
        // As large as the request's steps of 0.125 px per mm allow: the next but one would not fit.
        const double larger = f.px_per_mm + 0.25;
        const bool fits_beside =
            larger * m.fill_mm <= sheet.height && larger * m.width_mm * 1.5 + 34 + 158 <= sheet.width;
        const bool fits_above =
            larger * m.fill_mm * 1.5 + 74 <= sheet.height && larger * m.width_mm + 158 <= sheet.width;
        CHECK(!(fits_beside || fits_above));
    }
}

TEST_CASE("labels keep their order, do not overlap, and stay where they want to be when there is room") {
    const std::vector<float> free{180, 120, 40};
    CHECK(spread_labels(free, 20, 0, 200) == free);
    const auto crowded = spread_labels({100, 99, 98, 97}, 20, 0, 200);
    for (std::size_t i = 1; i < crowded.size(); ++i) CHECK(crowded[i - 1] - crowded[i] >= 20);
    const auto at_ends = spread_labels({199, 198, 2, 1}, 20, 0, 200);
    CHECK(at_ends.front() <= 190);
    CHECK(at_ends.back() >= 10);
    const auto too_many = spread_labels(std::vector<float>(50, 100.0F), 20, 0, 200);
    CHECK(std::is_sorted(too_many.rbegin(), too_many.rend()));
    CHECK(too_many.front() <= 200);
    CHECK(too_many.back() >= 0);
}
