#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numeric>

#include "foundation/error.h"
#include "foundation/random.h"
#include "picture/coverage.h"
#include "picture/films.h"
#include "picture/origin_band.h"
#include "picture/sample.h"

using namespace foreslice;
using foreslice::testing::sample_design;
using picture::Coverage;
using picture::LayerStack;

namespace {

constexpr double pi = 3.14159265358979323846;

// A closed-form map that keeps areas and carries the box onto itself: vertical and horizontal shears whose
// strength fades at the walls, each the flow of a stream function.
Vec2 sheared(Vec2 p, double width, double height) {
    // psi = a sin^2(pi x / W) sin^2(pi y / H), integrated by many small symplectic midpoint steps
    const int steps = 40;
    const double strength = 900;
    for (int i = 0; i < steps; ++i) {
        const auto velocity = [&](Vec2 q) {
            const double sx = std::sin(pi * q.x / width), sy = std::sin(pi * q.y / height);
            return Vec2{strength * pi / height * sx * sx * std::sin(2 * pi * q.y / height),
                        -strength * pi / width * std::sin(2 * pi * q.x / width) * sy * sy};
        };
        Vec2 middle = p;
        for (int k = 0; k < 6; ++k) middle = p + (0.5 / steps) * velocity(middle);
        p += (1.0 / steps) * velocity(middle);
    }
    return p;
}

flow::OriginRaster raster_of(double width, double height, double px_per_mm, int across, bool moved) {
    flow::OriginRaster out;
    out.width_px = picture::pixels_over(width, px_per_mm);
    out.height_px = picture::pixels_over(height, px_per_mm);
    out.px_per_mm = px_per_mm;
    for (int row = 0; row < out.height_px; ++row)
        for (int column = 0; column < out.width_px; ++column) {
            out.first.push_back(static_cast<std::uint32_t>(out.x_mm.size()));
            for (int i = 0; i < across * across; ++i) {
                Vec2 p{(column + (i % across + 0.5) / across) / px_per_mm,
                       height - (row + (i / across + 0.5) / across) / px_per_mm};
                if (moved) p = sheared(p, width, height);
                out.x_mm.push_back(static_cast<float>(p.x));
                out.y_mm.push_back(static_cast<float>(p.y));
            }
        }
    out.first.push_back(static_cast<std::uint32_t>(out.x_mm.size()));
    return out;
}

void check_sums(const Coverage& coverage) {
    const auto kinds = static_cast<std::size_t>(coverage.portions);
    int wrong = 0;
    for (std::size_t at = 0; at < coverage.share.size(); at += kinds) {
        int sum = 0;
        for (std::size_t k = 0; k < kinds; ++k) sum += coverage.share[at + k];
        if (sum != 255) ++wrong;
    }
    CHECK(wrong == 0);
    CHECK(std::accumulate(coverage.area_percent.begin(), coverage.area_percent.end(), 0.0) ==
          doctest::Approx(100).epsilon(1e-9));
}

}  // namespace

TEST_CASE("poured coverage: shares add up, areas are those poured") {
    WorkerPool pool(2);
    Progress progress;
    for (double scale : {0.5, 2.0, 8.0}) {
        const auto coverage =
            picture::poured_coverage(LayerStack(sample_design(), 60), 3, scale, pool, progress);
        CHECK(coverage.width_px == std::lround(60 * scale));
        CHECK(coverage.height_px == std::lround(40 * scale));
        check_sums(coverage);
        CHECK(coverage.area_percent[0] == doctest::Approx(40).epsilon(0.002));
        CHECK(coverage.area_percent[1] == doctest::Approx(50).epsilon(0.002));
        CHECK(coverage.area_percent[2] == doctest::Approx(10).epsilon(0.01));
    }
}

TEST_CASE("carried by nothing, the layers stay where they were poured") {
    WorkerPool pool(2);
    Progress progress;
    const LayerStack stack(sample_design(), 60);
    const auto poured = picture::poured_coverage(stack, 3, 4, pool, progress);
    const auto carried = picture::carried_coverage(stack, 3, raster_of(60, 40, 4, 2, false), pool, progress);
    REQUIRE(poured.share.size() == carried.share.size());
    int most = 0;
    for (std::size_t i = 0; i < poured.share.size(); ++i)
        most = std::max(most, std::abs(poured.share[i] - carried.share[i]));
    CHECK(most <= 12);  // of 255: two columns a pixel against four
}

TEST_CASE("a map that keeps areas keeps the areas of the portions (long)") {
    WorkerPool pool(2);
    Progress progress;
    const auto coverage = picture::carried_coverage(LayerStack(sample_design(), 60), 3,
                                                    raster_of(60, 40, 6, 2, true), pool, progress);
    check_sums(coverage);
    CHECK(std::abs(coverage.area_percent[0] - 40) < 0.1);
    CHECK(std::abs(coverage.area_percent[1] - 50) < 0.1);
    CHECK(std::abs(coverage.area_percent[2] - 10) < 0.1);
}

namespace {

// The closed-form map as the flow room would hand it over.
class ShearedMap : public flow::FlowMap {
  public:
    Vec2 origin_mm(Vec2 p) const override { return sheared(p, 60, 40); }
    double path_length_mm() const override { return 0; }
    std::unique_ptr<flow::Instant> at_fraction(double) const override { return nullptr; }
    const flow::SolveReport& report() const override { return report_; }

  private:
    flow::SolveReport report_;
};

}  // namespace

TEST_CASE("bands straight from the map give the face that the raster gives (long)") {
    WorkerPool pool(2);
    Progress progress;
    const LayerStack stack(sample_design(), 60);
    const auto raster = picture::carried_coverage(stack, 3, raster_of(60, 40, 4, 3, true), pool, progress);
    const auto bands = picture::carried_coverage(stack, 3, ShearedMap(), 4, 3, pool, progress);
    REQUIRE(raster.share.size() == bands.share.size());
    check_sums(bands);
    double sum = 0;
    for (std::size_t i = 0; i < raster.share.size(); ++i) sum += std::abs(raster.share[i] - bands.share[i]);
    CHECK(sum / static_cast<double>(raster.share.size()) < 0.5);  // of 255: interpolation inside a pixel
}

TEST_CASE("a smooth edge is smooth: four samples give more than five greys") {
    WorkerPool pool(1);
    Progress progress;
    auto design = sample_design();
    design.pours[0].unevenness_mm = 2;
    const auto coverage =
        picture::carried_coverage(LayerStack(design, 60), 3, raster_of(60, 40, 3, 2, false), pool, progress);
    std::vector<bool> seen(256);
    for (std::size_t at = 0; at < coverage.share.size(); at += 3) seen[coverage.share[at]] = true;
    CHECK(std::count(seen.begin(), seen.end(), true) > 40);
}

TEST_CASE("coverage does not depend on the number of threads") {
    Progress progress;
    const LayerStack stack(sample_design(), 60);
    const auto raster = raster_of(60, 40, 3, 3, true);
    WorkerPool one(1), three(3);
    CHECK(picture::carried_coverage(stack, 3, raster, one, progress).share ==
          picture::carried_coverage(stack, 3, raster, three, progress).share);
    CHECK(picture::poured_coverage(stack, 3, 3, one, progress).share ==
          picture::poured_coverage(stack, 3, 3, three, progress).share);
}

TEST_CASE("a film far thinner than a pixel fades to its share and is not lost") {
    WorkerPool pool(1);
    Progress progress;
    auto design = sample_design();
    design.pours = {{"ink", {}, design::PourManner::laid, 0},
                    {"amber", {}, design::PourManner::laid, 0},
                    {"white", {}, design::PourManner::laid, 0}};
    design.portions[0].share_percent = 49.5;
    design.portions[1].share_percent = 50;
    design.portions[2].share_percent = 0.5;  // 0.2 mm of 40 mm; a pixel is 2 mm
    const auto coverage = picture::carried_coverage(LayerStack(design, 60), 3,
                                                    raster_of(60, 40, 0.5, 2, false), pool, progress);
    CHECK(coverage.area_percent[2] == doctest::Approx(0.5).epsilon(0.05));
}

TEST_CASE("unresolved films are evened out along themselves; areas and sharp edges stay") {
    WorkerPool pool(2);
    // Left half ink, right half white, and between them a film one pixel wide that alternates at random.
    Coverage coverage;
    coverage.width_px = 41;
    coverage.height_px = 200;
    coverage.portions = 2;
    coverage.px_per_mm = 8;
    std::vector<std::uint8_t> lottery(41 * 200);
    for (std::size_t y = 0; y < 200; ++y)
        for (std::size_t x = 0; x < 41; ++x) {
            const bool film = x == 20;
            const bool ink = film ? mixed_bits(y) % 2 == 0 : x < 20;
            coverage.share.push_back(ink ? 255 : 0);
            coverage.share.push_back(ink ? 0 : 255);
            if (film) lottery[y * 41 + x] = 1;
        }
    const Coverage before = coverage;
    const auto total = [](const Coverage& c) {
        std::size_t sum = 0;
        for (std::size_t at = 0; at < c.share.size(); at += 2) sum += c.share[at];
        return static_cast<double>(sum);
    };
    picture::settle_films(coverage, lottery, pool);
    CHECK(std::abs(total(coverage) - total(before)) < 100);  // of 255 * 200 in the film
    int extremes = 0, changed_elsewhere = 0;
    for (std::size_t at = 0; at < coverage.share.size() / 2; ++at) {
        REQUIRE(coverage.share[2 * at] + coverage.share[2 * at + 1] == 255);
        if (at % 41 != 20 && coverage.share[2 * at] != before.share[2 * at]) ++changed_elsewhere;
        if (at % 41 == 20 && (coverage.share[2 * at] < 30 || coverage.share[2 * at] > 225)) ++extremes;
    }
    CHECK(changed_elsewhere == 0);
    CHECK(extremes < 10);
}

TEST_CASE("a pixel of a film whose samples agree by chance is taken in; a feather through it is not") {
    WorkerPool pool(1);
    // White all over, with a film one pixel wide; in it one stray pixel of ink, or a line of it across.
    for (const bool feather : {false, true}) {
        Coverage coverage;
        coverage.width_px = 21;
        coverage.height_px = 60;
        coverage.portions = 2;
        std::vector<std::uint8_t> lottery(21 * 60);
        for (std::size_t y = 0; y < 60; ++y)
            for (std::size_t x = 0; x < 21; ++x) {
                const bool ink = y == 30 && (feather || x == 10);
                coverage.share.push_back(ink ? 255 : 0);
                coverage.share.push_back(ink ? 0 : 255);
                if (x == 10 && !ink) lottery[y * 21 + x] = 1;
            }
        picture::settle_films(coverage, lottery, pool);
        const int at_30 = coverage.share[2 * (30 * 21 + 10)];
        CHECK((feather ? at_30 == 255 : at_30 < 100));
    }
}

TEST_CASE("work on a coverage stops when asked to") {
    WorkerPool pool(1);
    Progress progress;
    progress.request_stop();
    CHECK_THROWS_AS(picture::poured_coverage(LayerStack(sample_design(), 60), 3, 4, pool, progress), Stopped);
}
