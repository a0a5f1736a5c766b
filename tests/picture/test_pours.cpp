#include <doctest/doctest.h>

#include <cmath>
#include <functional>

#include "batter/pouring.h"
#include "foundation/error.h"
#include "foundation/random.h"
#include "picture/caption.h"
#include "picture/drag.h"
#include "picture/face.h"
#include "picture/plunge.h"
#include "picture/sample.h"
#include "picture/section_coverage.h"
#include "picture/settling.h"

using namespace foreslice;
using design::PourManner;
using foreslice::testing::library;
using foreslice::testing::random_point;
using foreslice::testing::sample_design;
using picture::Surface;

namespace {

// Each manner of pouring, on the second and third of four pours.
struct Sample {
    std::string name;
    design::Design design;
};

std::vector<Sample> all_manners() {
    std::vector<Sample> samples;
    const auto add = [&](const char* name, const std::function<void(design::Design&)>& change) {
        auto design = sample_design();
        design.strokes.clear();
        change(design);
        samples.push_back({name, design});
    };
    const auto twice = [](PourManner manner) {
        return [manner](design::Design& d) { d.pours[1].manner = d.pours[2].manner = manner; };
    };
    add("free fall", twice(PourManner::free_fall));
    add("free fall at three places and a wall", [](design::Design& d) {
        d.pours[1].manner = d.pours[3].manner = PourManner::free_fall;
        d.pours[1].fall.at_mm = {10, 30, 50};
        d.pours[3].fall.at_mm = {0};
    });
    add("free fall to the floor", [](design::Design& d) {
        d.batter.trace = batter::Trace::thin;
        d.pours[1].manner = PourManner::free_fall;
    });
    add("free fall on thick batter", [](design::Design& d) {
        d.batter.trace = batter::Trace::thick;
        d.pours[1].manner = PourManner::free_fall;
    });
    add("down the wall", twice(PourManner::down_the_wall));
    add("tilted", [](design::Design& d) {
        d.pours[0].manner = d.pours[1].manner = PourManner::tilted;
        d.pours[0].tilt_deg = 20;
        d.pours[1].tilt_deg = -12;
        d.pours[0].firmed_yield_stress_pa = d.pours[1].firmed_yield_stress_pa = 40;
    });
    add("hills", [](design::Design& d) {
        d.batter.trace = batter::Trace::thick;
        d.pours[0].manner = d.pours[1].manner = PourManner::hills;
        d.pours[1].hills.heights_mm = {0, 6, 1, 4};
        d.pours[1].tapped_percent = 40;
    });
    add("side by side", [](design::Design& d) {
        d.pours[1].manner = d.pours[2].manner = PourManner::side_by_side;
        d.pours[2].with_previous = true;
    });
    add("side by side with unequal heights", [](design::Design& d) {
        d.pours[1].manner = d.pours[2].manner = PourManner::side_by_side;
        d.pours[2].with_previous = true;
        d.pours[2].beside.width_mm = 20;
    });
    add("marbled", [](design::Design& d) {
        d.pours[1].folds = 3;
        d.pours[2].with_previous = true;
    });
    add("marbled, falling freely", [](design::Design& d) {
        d.pours[1].manner = d.pours[2].manner = PourManner::free_fall;
        d.pours[2].with_previous = true;
    });
    add("sifted lines", [](design::Design& d) {
        d.pours[0].sifted_over = {"mica-gold", 0.3};
        d.pours[1].sifted_over = {"activated-charcoal", 0.1};
        d.pours[2].sifted_over = {"mica-gold", 0.05};
    });
    return samples;
}

}  // namespace

TEST_CASE("whatever the manner, each material keeps its area") {
    WorkerPool pool(2);
    Progress progress;
    for (const Sample& sample : all_manners()) {
        CAPTURE(sample.name);
        const auto& design = sample.design;
        const int kinds = static_cast<int>(picture::materials_of(design).size());
        const auto areas = design::pour_areas_mm2(design);
        std::vector<double> percent(static_cast<std::size_t>(kinds));
        for (std::size_t i = 0; i < design.pours.size(); ++i) {
            for (std::size_t k = 0; k < 3; ++k)
                if (design.portions[k].id == design.pours[i].portion) percent[k] += areas[i] / 24;
            if (const auto& line = design.pours[i].sifted_over)
                percent[static_cast<std::size_t>(picture::line_material(design, line->colourant))] +=
                    design::line_area_mm2(design, design.pours[i]) / 24;
        }
        const auto coverage =
            picture::section_coverage(picture::poured_section(design, 60, {}), kinds, 10, 4, pool, progress);
        for (std::size_t k = 0; k < percent.size(); ++k) {
            CAPTURE(k);
            CHECK(std::abs(coverage.area_percent[k] - percent[k]) < 0.1);
        }
    }
}

TEST_CASE("whatever the manner, a seed makes one loaf, and a thread more makes no difference") {
    for (const Sample& sample : all_manners()) {
        CAPTURE(sample.name);
        WorkerPool one(1), two(2);
        Progress progress;
        const auto cover = [&](const design::Design& design, double z_mm, WorkerPool& pool) {
            const int kinds = static_cast<int>(picture::materials_of(design).size());
            return picture::section_coverage(picture::poured_section(design, z_mm, {}), kinds, 2, 3, pool,
                                             progress)
                .share;
        };
        const auto first = cover(sample.design, 60, one);
        CHECK(first == cover(sample.design, 60, two));
        auto other = sample.design;
        other.seed += 1;
        CHECK(first != cover(other, 60, two));
        CHECK(first != cover(sample.design, 75, two));
    }
}

TEST_CASE("plumes make room exactly: areas, walls, floor and an even rise") {
    const std::vector<picture::Plume> plumes{{5, 150, {0, 1, -1, 2}}, {31, 120, {}}, {58, 200, {0, 3}}};
    const picture::Inserted inserted(60, 30, 8, plumes, picture::Deposit(picture::Bit{7, 7}));
    const double top = 30 + 470.0 / 60;
    double worst = 0;
    int inside = 0;
    constexpr int tries = 40000;
    for (std::uint64_t i = 0; i < tries; ++i) {
        const Vec2 p = random_point(i, 60, top);
        Vec2 q = p;
        if (inserted.back(q)) {
            ++inside;
            continue;
        }
        CHECK(q.x >= -1e-9);
        CHECK(q.x <= 60 + 1e-9);
        CHECK(q.y >= -1e-9);
        CHECK(q.y <= 30 + 1e-9);
        const double h = 1e-6;
        Vec2 right{p.x + h, p.y}, left{p.x - h, p.y}, up{p.x, p.y + h}, down{p.x, p.y - h};
        if (inserted.back(right) || inserted.back(left) || inserted.back(up) || inserted.back(down)) continue;
        const Vec2 dx = (0.5 / h) * (right - left), dy = (0.5 / h) * (up - down);
        worst = std::max(worst, std::abs(dx.x * dy.y - dx.y * dy.x - 1));
    }
    CHECK(worst < 1e-3);  // differences across a corner of the outline
    CHECK(60 * top * inside / tries == doctest::Approx(470).epsilon(0.03));
    Vec2 surface{20, top};
    CHECK_FALSE(inserted.back(surface));
    CHECK(surface.y == doctest::Approx(30).epsilon(1e-12));
    Vec2 floor{33, 0};
    CHECK_FALSE(inserted.back(floor));
    CHECK(floor == Vec2{33, 0});
}

TEST_CASE("drag beside a stream keeps areas and stays between the walls") {
    const picture::Dragged dragged({60, 40}, {{8, 6, 9, 4, 40}, {40, 2.5, -5, 0, 40}});
    double worst = 0, furthest = 0, worst_wall = 0;
    for (std::uint64_t i = 0; i < 5000; ++i) {
        const Vec2 p = random_point(i, 60, 40);
        const double h = 1e-4;
        const auto moved = [&](double x, double y) {
            Vec2 q{x, y};
            dragged.back(q);
            return q;
        };
        const Vec2 dx = (0.5 / h) * (moved(p.x + h, p.y) - moved(p.x - h, p.y));
        const Vec2 dy = (0.5 / h) * (moved(p.x, p.y + h) - moved(p.x, p.y - h));
        if (p.x > 0.1 && p.x < 59.9 && p.y > 0.1 && p.y < 39.9)
            worst = std::max(worst, std::abs(dx.x * dy.y - dx.y * dy.x - 1));
        furthest = std::max(furthest, length(moved(p.x, p.y) - p));
        worst_wall = std::max(
            {worst_wall, moved(0, p.y).x, 60 - moved(60, p.y).x, moved(p.x, 0).y, 40 - moved(p.x, 40).y});
    }
    CHECK(worst < 0.05);  // of the interpolation, locally
    CHECK(furthest > 4);
    CHECK(worst_wall < 1e-9);
}

TEST_CASE("the table of a drag is the flow it stands for") {
    // A second, finer way: the same psi-flow by many small midpoint steps, at points off the lattice.
    const picture::DragLine line{25, 5, 8, 2, 38};
    const picture::Dragged dragged({60, 40}, {line});
    double worst = 0;
    for (std::uint64_t i = 0; i < 400; ++i) {
        Vec2 p = random_point(i, 60, 40);
        Vec2 tabulated = p;
        dragged.back(tabulated);
        const auto velocity = [&](Vec2 at) {
            const double s = (at.x - line.x_mm) / line.reach_mm, bell = std::exp(-s * s / 2);
            const double length = line.high_mm - line.low_mm, share = (at.y - line.low_mm) / length;
            if (share <= 0 || share >= 1) return Vec2{};
            const double pi = 3.14159265358979323846, sine = std::sin(pi * share);
            return Vec2{line.down_mm * line.reach_mm * s * bell * pi / length * std::sin(2 * pi * share),
                        -line.down_mm * (1 - s * s) * bell * sine * sine};
        };
        constexpr int steps = 2000;
        for (int k = 0; k < steps; ++k) {
            const Vec2 middle = p + (-0.5 / steps) * velocity(p);
            p += (-1.0 / steps) * velocity(middle);
        }
        worst = std::max(worst, length(p - tabulated));
    }
    CHECK(worst < 0.04);  // mm
}

TEST_CASE("surfaces settle to what yield stress holds, and keep their area") {
    std::vector<double> ramp, ripple;
    for (std::size_t i = 0; i < Surface::columns_over(60); ++i) {
        const double x = 0.5 * static_cast<double>(i);
        ramp.push_back(20 + 0.4 * x);
        ripple.push_back(40 + 5 * std::cos(0.6 * x));
    }
    const Surface tilted(60, ramp), rippled(60, ripple);
    CHECK(picture::settled(tilted, 0).is_flat());
    for (const double yield_mm : {0.3, 1.0, 3.0}) {
        const Surface rest = picture::settled(tilted, yield_mm);
        CHECK(rest.area_mm2() == doctest::Approx(tilted.area_mm2()).epsilon(1e-9));
        // h^2 falls by no more than 2 tau_y / (rho g) a mm, on average over the mould (Liu & Mei 1989), plus
        // what stands on it as a ripple of e tau_y / (rho g)
        const double high = rest.at(60), low = rest.at(0);
        CHECK(high - low <= 2 * yield_mm * 60 / (high + low) + 2 * std::exp(1.0) * yield_mm + 1e-6);
        CHECK(high > low);
    }
    const Surface held = picture::settled(rippled, 5 / std::exp(1.0) + 0.01);
    CHECK(held.highest_mm() == doctest::Approx(45).epsilon(0.01));
    const Surface sunk = picture::settled(rippled, 1 / std::exp(1.0));
    CHECK(sunk.highest_mm() - sunk.level_mm() < 1.7);
    CHECK(sunk.highest_mm() - sunk.level_mm() > 0.7);
}

TEST_CASE("a stream's depth shows in the face") {
    auto design = sample_design();
    design.pours[2].manner = PourManner::free_fall;
    const auto lowest_amber = [&](double height_mm) {
        design.pours[2].fall.height_mm = height_mm;
        const auto section = picture::poured_section(design, 60, {});
        double lowest = 40;
        for (std::uint64_t i = 0; i < 40000; ++i) {
            const Vec2 p = random_point(i, 60, 40);
            if (section.at(p).material == 2) lowest = std::min(lowest, p.y);
        }
        return lowest;
    };
    const double before = design::level_after_mm(design, 2);
    for (const double height_mm : {20.0, 60.0}) {
        const double depth =
            batter::plunge_of(design.batter.rheology(), design.batter.density_kg_per_m3, height_mm, 30)
                .depth_mm;
        REQUIRE(depth > 5);
        const double tip = std::max(0.0, before - depth);
        // the drag of the stream carries the tip on by less than half of its depth
        CHECK(lowest_amber(height_mm) < tip + 2);
        CHECK(lowest_amber(height_mm) >= std::max(0.0, tip - 0.5 * depth));
    }
}

TEST_CASE("a sifted line is as thick as it says and lies where it was sifted") {
    auto design = sample_design();
    design.strokes.clear();
    design.pours[0].unevenness_mm = 0;
    design.pours[0].sifted_over = {"mica-gold", 0.3};
    const auto section = picture::poured_section(design, 60, {});
    const double level = design::pour_areas_mm2(design)[0] / 60;
    CHECK(section.at({30, level + 0.15}).material == 3);
    CHECK(section.at({30, level - 0.01}).material == 0);
    CHECK(section.at({30, level + 0.31}).material == 1);
    WorkerPool pool(1);
    picture::FaceMaker maker(pool, library());
    Progress progress;
    picture::FaceRequest request;
    request.px_per_mm = 1;  // a line of a third of a pixel fades, everywhere alike
    const auto face = maker.make(design, request, progress);
    REQUIRE(face.colours.size() == 4);
    double least = 255, most = 0;
    for (int x = 0; x < 60; ++x) {
        double sum = 0;
        for (int y = 0; y < 40; ++y)
            sum += face.coverage->share[static_cast<std::size_t>(4 * (y * 60 + x) + 3)];
        least = std::min(least, sum);
        most = std::max(most, sum);
    }
    CHECK(least > 0.8 * 0.3 * 255);
    CHECK(most < 1.2 * 0.3 * 255);
}

TEST_CASE("captions say what there is besides level layers") {
    auto design = sample_design();
    CHECK(picture::pour_words(design).empty());
    design.pours[1].manner = PourManner::free_fall;
    design.pours[2].sifted_over = {"mica-gold", 0.2};
    design.pours[3].with_previous = true;
    CHECK(picture::pour_words(design) == "free fall, marbled in the jug, sifted lines");
    const auto lines = picture::line_notes(design, *library());
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].most_mm == 0.2);
    CHECK(lines[0].colourant != "mica-gold");  // the name for people
}

TEST_CASE("filling the mould stops when asked to") {
    Progress progress;
    progress.request_stop();
    CHECK_THROWS_AS(picture::poured_section(sample_design(), 60, {}, progress), Stopped);
}

TEST_CASE("drawn through, poured in any manner, areas hold") {
    WorkerPool pool(2);
    picture::FaceMaker maker(pool, library());
    Progress progress;
    auto design = sample_design();
    design.pours[1].manner = PourManner::free_fall;
    design.pours[2].sifted_over = {"mica-gold", 0.2};
    picture::FaceRequest request;
    request.px_per_mm = 8;
    const auto face = maker.make(design, request, progress);
    const auto areas = design::pour_areas_mm2(design);
    CHECK(std::abs(face.coverage->area_percent[0] - areas[0] / 24) < 0.1);
    CHECK(std::abs(face.coverage->area_percent[1] - (areas[1] + areas[3]) / 24) < 0.1);
    CHECK(std::abs(face.coverage->area_percent[2] - areas[2] / 24) < 0.1);
    CHECK(std::abs(face.coverage->area_percent[3] - 0.5) < 0.05);
}
