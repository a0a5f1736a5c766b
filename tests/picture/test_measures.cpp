#include "picture/measures.h"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "picture/face.h"
#include "picture/sample.h"

using namespace foreslice;
using namespace foreslice::picture;

namespace {

// A picture of 48 x 40 mm given by the portion at every point; two portions unless said otherwise.
constexpr flow::Box box{48, 40};
using Paint = std::function<int(double x_mm, double y_mm)>;

PortionLattice lattice(const Paint& paint, int portions = 2, int side = points_a_pixel) {
    WorkerPool pool(1);
    return poured_lattice(
        box, measuring_px_per_mm, side, portions, [&](Vec2 p) { return paint(p.x, p.y); }, pool);
}

const colour::Lab black{20, 0, 0}, white{90, 0, 0}, grey{55, 0, 0};

FaceMeasures measures(const Paint& face, const Paint& poured, int portions = 2, unsigned threads = 1) {
    WorkerPool pool(threads);
    const std::vector<colour::Lab> labs{black, white, grey};
    return measured(lattice(face, portions), lattice(poured, portions, 1),
                    std::vector<double>(static_cast<std::size_t>(portions), 100.0 / portions), labs, pool);
}

int parity(double value) {
    return static_cast<int>(std::floor(value)) & 1;
}

// Straight stripes of a thickness, their normal at an angle to x.
Paint stripes(double thickness_mm, double degrees) {
    const double c = std::cos(degrees * std::numbers::pi / 180),
                 s = std::sin(degrees * std::numbers::pi / 180);
    return [=](double x, double y) { return parity((c * x + s * y) / thickness_mm); };
}

Paint halves() {
    return [](double, double y) { return y < 20 ? 0 : 1; };
}

}  // namespace

TEST_CASE("stripes have their thickness whatever way they run") {
    for (const double degrees : {0.0, 17.0, 45.0, 63.0, 90.0}) {
        const auto m = measures(stripes(2, degrees), halves());
        CAPTURE(degrees);
        CHECK(m.median_thickness_mm == doctest::Approx(2).epsilon(0.03));
        // Only bands cut short by the face's corners are thinner.
        CHECK(m.fine_thickness_mm > 1.5);
        CHECK(m.muddy_percent < 0.5);
        CHECK(m.portions[0].face_percent == doctest::Approx(50).epsilon(0.05));
    }
}

TEST_CASE("the tenth percentile and the muddy share see fine bands where they are") {
    // A fifth of the face in stripes of 0.125 mm, the rest in stripes of 4 mm.
    const auto fine = stripes(0.125, 0), wide = stripes(4, 0);
    const auto m = measures([&](double x, double y) { return (y < 8 ? fine : wide)(x, y); }, halves());
    CHECK(m.muddy_percent == doctest::Approx(20).epsilon(0.01));
    CHECK(m.fine_thickness_mm == doctest::Approx(0.125).epsilon(0.05));
    // Bands of 4 mm that are 32 mm high count as 4 * 32 / sqrt(4^2 + 32^2) = 3.97 mm.
    CHECK(m.median_thickness_mm == doctest::Approx(3.97).epsilon(0.01));
    // What cannot be resolved is no boundary either: eleven of 32 mm, one of up to 48 mm along the fine ones.
    REQUIRE(m.boundaries.size() == 1);
    CHECK(m.boundaries[0].length_mm == doctest::Approx(11 * 32).epsilon(0.06));
}

TEST_CASE("just resolved is not muddy") {
    CHECK(measures(stripes(0.1875, 0), halves()).muddy_percent == 0);
    CHECK(measures(stripes(0.15625, 0), halves()).muddy_percent == doctest::Approx(100).epsilon(0.02));
}

TEST_CASE("chequers: thickness, share, symmetry, boundary") {
    const Paint chequers = [](double x, double y) { return parity(x / 4) ^ parity(y / 4); };
    const auto m = measures(chequers, halves());
    CHECK(m.median_thickness_mm == doctest::Approx(4 / std::sqrt(2.0)).epsilon(0.01));
    CHECK(m.fine_thickness_mm == m.median_thickness_mm);
    CHECK(m.portions[0].face_percent == doctest::Approx(50));
    CHECK(m.symmetry == doctest::Approx(0));  // twelve columns: every square faces one of the other colour
    REQUIRE(m.boundaries.size() == 1);
    CHECK(m.boundaries[0].length_mm == doctest::Approx(11 * 40 + 9 * 48).epsilon(0.06));
}

TEST_CASE("symmetry is 1 for a mirrored picture, the matching share otherwise") {
    const auto slanted = stripes(3, 30);
    CHECK(measures([&](double x, double y) { return slanted(std::abs(x - 24), y); }, halves()).symmetry == 1);
    CHECK(measures(halves(), halves()).symmetry == 1);
    CHECK(measures([](double x, double) { return x < 24 ? 0 : 1; }, halves()).symmetry == 0);
    // A block of a quarter of the width at the left edge has no partner at the right.
    CHECK(measures([](double x, double) { return x < 12 ? 1 : 0; }, halves()).symmetry ==
          doctest::Approx(0.5));
}

TEST_CASE("feathers are counted one by one") {
    // Tongues of portion 0, 2 mm wide, rise from the lower half at 6, 14, 22 ... mm: each 10 mm high.
    const auto tongues = [](int count, double height_mm) {
        return [=](double x, double y) {
            const int k = static_cast<int>(std::floor((x - 5) / 8));
            const bool inside = k >= 0 && k < count && x - 5 - 8 * k < 2;
            return y < 20 || (inside && y < 20 + height_mm) ? 0 : 1;
        };
    };
    for (const int count : {0, 1, 3, 5}) {
        CHECK(measures(tongues(count, 10), halves()).feathers == count);
        CHECK(measures(tongues(count, 3), halves()).feathers == 0);  // mere bumps
    }
    CHECK(measures(tongues(3, 10), tongues(3, 10)).feathers == 0);  // poured so: nothing was drawn
    const auto m = measures(tongues(2, 10), halves());
    CHECK(m.portions[0].feathers == 2);
    CHECK(m.portions[1].feathers == 0);
    // A break of a fifth of a millimetre does not make two of one; one of 2 mm does.
    const auto broken = [&](double gap_mm) {
        return [=, whole = tongues(1, 14)](double x, double y) {
            return y > 25 && y < 25 + gap_mm ? 1 : whole(x, y);
        };
    };
    CHECK(measures(broken(0.2), halves()).feathers == 1);
    CHECK(measures(broken(2), halves()).feathers == 2);
    // Dust is no feather.
    CHECK(measures([](double x, double y) { return y < 20 || (y > 30 && y < 30.5 && x < 0.5) ? 0 : 1; },
                   halves())
              .feathers == 0);
}

TEST_CASE("boundaries carry length and contrast; short ones do not count for the least") {
    // Black below, white above, and a grey square of 1 mm in the white.
    const Paint face = [](double x, double y) {
        if (x > 10 && x < 11 && y > 30 && y < 31) return 2;
        return y < 20 ? 0 : 1;
    };
    const auto m = measures(face, face, 3);
    REQUIRE(m.boundaries.size() == 2);
    const double strong = colour::ciede2000(black, white), weak = colour::ciede2000(white, grey);
    CHECK(m.boundaries[0].one == 0);
    CHECK(m.boundaries[0].other == 1);
    CHECK(m.boundaries[0].length_mm == doctest::Approx(48).epsilon(0.06));
    CHECK(m.boundaries[0].de00 == doctest::Approx(strong));
    CHECK(m.boundaries[1].length_mm == doctest::Approx(4).epsilon(0.1));
    CHECK(m.least_contrast_de00 == doctest::Approx(strong));
    CHECK(m.mean_contrast_de00 == doctest::Approx((48 * strong + 4 * weak) / 52).epsilon(0.01));
}

TEST_CASE("a circle's boundary is as long as a circle's") {
    const auto m =
        measures([](double x, double y) { return std::hypot(x - 24, y - 20) < 15 ? 0 : 1; }, halves());
    CHECK(m.boundaries[0].length_mm == doctest::Approx(2 * std::numbers::pi * 15).epsilon(0.02));
}

TEST_CASE("measures of a drawn face: the same on any number of threads, shares as poured") {
    const auto design = testing::sample_design();
    FaceRequest request;
    request.resolution.cells_across = 64;
    Progress progress;
    std::vector<FaceMeasures> both;
    for (const unsigned threads : {1U, 3U}) {
        WorkerPool pool(threads);
        FaceMaker maker(pool, testing::library());
        both.push_back(maker.measure(design, request, progress));
        request.px_per_mm = 3;  // the picture's scale does not matter
    }
    CHECK(both[0].median_thickness_mm == both[1].median_thickness_mm);
    CHECK(both[0].mean_contrast_de00 == both[1].mean_contrast_de00);
    CHECK(both[0].symmetry == both[1].symmetry);
    CHECK(both[0].feathers == both[1].feathers);
    CHECK(both[0].feathers > 0);
    double sum = 0;
    for (const auto& portion : both[0].portions) {
        CHECK(portion.face_percent == doctest::Approx(portion.poured_percent).epsilon(0.01));
        sum += portion.face_percent;
    }
    CHECK(sum == doctest::Approx(100));
    request.stage = Stage::poured;
    WorkerPool pool(1);
    FaceMaker maker(pool, testing::library());
    const auto poured = maker.measure(design, request, progress);
    CHECK(poured.feathers == 0);
    CHECK(poured.muddy_percent < both[0].muddy_percent);
    CHECK(poured.symmetry > both[0].symmetry);
    request.bar = 99;
    CHECK_THROWS(maker.measure(design, request, progress));
}
