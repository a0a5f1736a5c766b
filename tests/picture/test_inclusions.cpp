// Seeds, flecks and embeds: rigid, carried as the map says, inside the soap, as many as asked.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "foundation/random.h"
#include "picture/draw.h"
#include "picture/face.h"
#include "picture/inclusions.h"
#include "picture/sample.h"

using namespace foreslice;
using namespace foreslice::testing;
using namespace foreslice::picture;
using design::Embed;
using design::EmbedLaid;
using design::EmbedShape;
using design::Scattered;

namespace {

/// Turns everything within 20 mm of the middle by an angle, and nothing beyond; the rest is rigid in between.
class Turned final : public flow::FlowMap {
  public:
    Turned(Vec2 middle, double angle_rad) : middle_(middle), angle_(angle_rad) {}
    Vec2 origin_mm(Vec2 point_mm) const override {
        const Vec2 off = point_mm - middle_;
        if (length(off) > 20) return point_mm;
        const double c = std::cos(-angle_), s = std::sin(-angle_);
        return middle_ + Vec2{c * off.x - s * off.y, s * off.x + c * off.y};
    }
    double path_length_mm() const override { return 0; }
    std::unique_ptr<flow::Instant> at_fraction(double) const override { return nullptr; }
    const flow::SolveReport& report() const override { return report_; }

  private:
    Vec2 middle_;
    double angle_;
    flow::SolveReport report_;
};

BitGround ground_of(const design::Design& design, std::shared_ptr<const flow::FlowMap> map) {
    return {design::box_of(design), [](Vec2 point) { return point.y < 20 ? 0 : 1; }, std::move(map), nullptr,
            0};
}

Embed disc_at(Vec2 at_mm, double width_mm) {
    Embed disc;
    disc.at_mm = at_mm;
    disc.width_mm = width_mm;
    return disc;
}

Scattered seeds_of(const std::string& portion, double per_cm2) {
    Scattered seeds;
    seeds.portion = portion;
    seeds.per_cm2 = per_cm2;
    return seeds;
}

Face face_by(FaceMaker& maker, const design::Design& design) {
    Progress progress;
    FaceRequest request;
    request.px_per_mm = 6;
    request.resolution.cells_across = 48;
    return maker.make(design, request, progress);
}

Face face_of(const design::Design& design) {
    return face_by(shared_maker(), design);
}

Face face_on(unsigned threads, const design::Design& design) {
    WorkerPool pool(threads);
    FaceMaker maker(pool, library());
    return face_by(maker, design);
}

}  // namespace

TEST_CASE("inclusions: an embed goes where the map takes it and turns as it turns") {
    design::Design design = sample_design();  // 60 x 40 mm
    Embed bar;
    bar.shape = EmbedShape::bar;
    bar.width_mm = 12;
    bar.height_mm = 4;
    bar.angle_deg = 10;
    bar.at_mm = {36, 20};
    design.inclusions.embeds = {bar};
    const double turn = 50 * std::numbers::pi / 180;
    const auto bits =
        bits_on_face(design, ground_of(design, std::make_shared<Turned>(Vec2{30, 20}, turn)), true);
    REQUIRE(bits.size() == 1);
    CHECK(bits[0].middle_mm.x == doctest::Approx(30 + 6 * std::cos(turn)).epsilon(0.002));
    CHECK(bits[0].middle_mm.y == doctest::Approx(20 + 6 * std::sin(turn)).epsilon(0.002));
    CHECK(bits[0].angle_rad == doctest::Approx(turn + 10 * std::numbers::pi / 180).epsilon(0.01));
    const auto before = bits_on_face(design, ground_of(design, nullptr), false);
    CHECK(before[0].middle_mm == Vec2{36, 20});
}

TEST_CASE("inclusions: what is laid in after the drawing stays; walls push in") {
    design::Design design = sample_design();
    design.inclusions.embeds = {disc_at({30, 24}, 8), disc_at({0, 0}, 14), disc_at({60, 60}, 10)};
    design.inclusions.embeds[0].laid = EmbedLaid::after_drawing;
    const auto map = std::make_shared<Turned>(Vec2{30, 20}, 1.0);
    const auto bits = bits_on_face(design, ground_of(design, map), true);
    CHECK(bits[0].middle_mm == Vec2{30, 24});
    CHECK(length(bits[1].middle_mm - Vec2{7, 7}) < 0.05);
    CHECK(length(bits[2].middle_mm - Vec2{55, 35}) < 0.05);
    CHECK(bits_on_face(design, ground_of(design, map), false).size() == 2);
}

TEST_CASE(
    "inclusions: as many seeds as asked, in their portion, apart from each other, turned with the map") {
    design::Design design = sample_design();
    design.pours.resize(2);
    design.inclusions.scattered = {seeds_of("white", 30)};
    const auto rest = bits_on_face(design, ground_of(design, nullptr), true);
    const double expected = 0.30 * 60 * 20;  // 30 a cm^2 on the upper half
    CHECK(std::abs(static_cast<double>(rest.size()) - expected) < 4 * std::sqrt(expected));
    for (const PlacedBit& bit : rest) {
        CHECK(bit.middle_mm.y >= 20 - bit.length_mm);
        CHECK(bit.middle_mm.x >= bit.width_mm / 2);
        CHECK(bit.length_mm >= 0.8);
        CHECK(bit.length_mm <= 1.4);
        for (const PlacedBit& other : rest)
            if (&other != &bit)
                CHECK(length(other.middle_mm - bit.middle_mm) > 0.3 * (other.length_mm + bit.length_mm));
    }
    const auto carried =
        bits_on_face(design, ground_of(design, std::make_shared<Turned>(Vec2{30, 20}, 0.7)), true);
    REQUIRE(carried.size() == rest.size());
    int turned = 0;
    for (std::size_t i = 0; i < rest.size(); ++i) {
        const Vec2 off = rest[i].middle_mm - Vec2{30, 20};
        if (length(off) > 17) continue;
        const Vec2 to{30 + std::cos(0.7) * off.x - std::sin(0.7) * off.y,
                      20 + std::sin(0.7) * off.x + std::cos(0.7) * off.y};
        CHECK(length(carried[i].middle_mm - to) < 0.06);
        CHECK(carried[i].angle_rad - rest[i].angle_rad == doctest::Approx(0.7).epsilon(0.02));
        ++turned;
    }
    CHECK(turned > 30);
}

TEST_CASE("inclusions: percent counts instead of a number; seeds of one pour stay in it") {
    design::Design design = sample_design();
    design.pours.resize(2);
    Scattered seeds = seeds_of("white", 1);
    seeds.percent = 6;
    design.inclusions.scattered = {seeds};
    double area = 0;
    for (const PlacedBit& bit : bits_on_face(design, ground_of(design, nullptr), true))
        area += std::numbers::pi / 4 * bit.length_mm * bit.width_mm;
    CHECK(100 * area / (60 * 20) == doctest::Approx(6).epsilon(0.15));
    design.inclusions.scattered[0].pour = 1;
    for (const PlacedBit& bit : bits_on_face(design, ground_of(design, nullptr), true))
        CHECK(bit.middle_mm.y < 21);
}

TEST_CASE("inclusions: a search through the flow of a stroke finds the place again") {
    const auto design = sample_design();
    Progress progress;
    flow::Resolution resolution;
    resolution.cells_across = 48;
    const auto map = shared_maker().flow_map(design, resolution, progress);
    const Carried carried(design::box_of(design), map);
    int close = 0;
    const int tried = 1500;
    for (std::uint64_t i = 0; i < tried; ++i) {
        const Vec2 origin{30 + 29 * seeded_uniform(3, 2 * i), 20 + 19 * seeded_uniform(3, 2 * i + 1)};
        close += length(map->origin_mm(carried(origin)) - origin) < 0.3;
    }
    CHECK(close > 0.95 * tried);  // what is left lies in films that the search steps over
}

TEST_CASE("inclusions: embeds keep their shape on the face, and the share is theirs") {
    design::Design design = sample_design();
    design.inclusions.embeds = {disc_at({18, 12}, 9)};
    design.inclusions.embeds[0].colour = "#ff0000";
    const Face face = face_of(design);
    const double area = std::numbers::pi * 4.5 * 4.5;
    CHECK(face.inclusions_percent == doctest::Approx(100 * area / (60 * 40)).epsilon(0.01));
    double red = 0;
    for (std::size_t at = 0; at < face.image.rgba.size(); at += 4)
        red += face.image.rgba[at] == 255 && face.image.rgba[at + 1] == 0;
    CHECK(red / 36 == doctest::Approx(area).epsilon(0.08));
}

TEST_CASE("inclusions: what comes later lies over what came before") {
    design::Design design = sample_design();
    design.inclusions.embeds = {disc_at({30, 20}, 10), disc_at({30, 20}, 6)};
    for (Embed& embed : design.inclusions.embeds) embed.laid = EmbedLaid::after_drawing;
    design.inclusions.embeds[0].colour = "#00ff00";
    design.inclusions.embeds[1].colour = "#0000FF";
    const Face face = face_of(design);
    const auto at = [&](double x, double y) {
        return &face.image.rgba[4 * (static_cast<std::size_t>((40 - y) * 6) *
                                         static_cast<std::size_t>(face.image.width_px) +
                                     static_cast<std::size_t>(x * 6))];
    };
    CHECK(at(30, 20)[2] == 255);
    CHECK(at(30, 20)[1] == 0);
    CHECK(at(34, 20)[1] == 255);
    CHECK(face.inclusions_percent == doctest::Approx(100 * std::numbers::pi * 25 / 2400).epsilon(0.01));
}

TEST_CASE("inclusions: the same on one thread and on two; another bar has other seeds") {
    design::Design design = sample_design();
    design.inclusions.scattered = {seeds_of("white", 20)};
    design.inclusions.embeds = {disc_at({18, 12}, 9)};
    CHECK(face_on(1, design).image.rgba == face_on(2, design).image.rgba);
    auto here = ground_of(design, nullptr), there = here;
    there.z_mm = 25;
    design.pours.resize(2);
    CHECK(bits_on_face(design, here, true)[3].middle_mm == bits_on_face(design, here, true)[3].middle_mm);
    CHECK_FALSE(bits_on_face(design, here, true)[3].middle_mm ==
                bits_on_face(design, there, true)[3].middle_mm);
}

TEST_CASE("inclusions: embeds have a portion's colour when they ask for it") {
    design::Design design = sample_design();
    design.inclusions.embeds = {disc_at({30, 20}, 10)};
    design.inclusions.embeds[0].colour = "amber";
    const auto portions = portion_colours(design, *library());
    const auto colours = inclusion_colours(design, portions);
    CHECK(colours[0].r == portions[2].linear.r);
    design.inclusions.embeds[0].colour = "#ffFFff";
    CHECK(inclusion_colours(design, portions)[0].g == doctest::Approx(1));
}
