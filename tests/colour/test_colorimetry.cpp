#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>

#include "colour/colorimetry.h"
#include "colour/upsampling.h"

using namespace foreslice::colour;

namespace {

void check_close(const Lab& lab, double l, double a, double b, double tolerance) {
    CHECK(std::abs(lab.l - l) < tolerance);
    CHECK(std::abs(lab.a - a) < tolerance);
    CHECK(std::abs(lab.b - b) < tolerance);
}

double oklab_hue(const LinearSrgb& rgb) {
    const OkLab lab = oklab_of(rgb);
    return std::atan2(lab.b, lab.a);
}

}  // namespace

TEST_CASE("a perfect white is neutral and #ffffff under every illuminant") {
    Spectrum perfect{};
    perfect.fill(1);
    for (Illuminant light : {Illuminant::d65, Illuminant::d50, Illuminant::a, Illuminant::led_b3}) {
        CAPTURE(name_of(light));
        const Xyz white = white_of(light);
        check_close(lab_of(xyz_of(perfect, light), white), 100, 0, 0, 1e-10);
        const LinearSrgb rgb = linear_srgb_of(white, white);
        CHECK(std::abs(rgb.r - 1) < 1e-9);
        CHECK(std::abs(rgb.g - 1) < 1e-9);
        CHECK(std::abs(rgb.b - 1) < 1e-9);
        CHECK(encoded(rgb) == EncodedSrgb{255, 255, 255});
        Spectrum grey{};
        grey.fill(0.2);
        const EncodedSrgb c = encoded(linear_srgb_of(xyz_of(grey, light), white));
        CHECK(c.r == c.g);
        CHECK(c.g == c.b);
    }
}

TEST_CASE("Lab of the sRGB primaries (computed from the primaries and white of IEC 61966-2-1)") {
    const Xyz white = white_of(Illuminant::d65);
    check_close(lab_of(xyz_of(LinearSrgb{1, 0, 0}), white), 53.2408, 80.0925, 67.2032, 1e-3);
    check_close(lab_of(xyz_of(LinearSrgb{0, 1, 0}), white), 87.7347, -86.1827, 83.1793, 1e-3);
    check_close(lab_of(xyz_of(LinearSrgb{0, 0, 1}), white), 32.2970, 79.1875, -107.8602, 1e-3);
    CHECK(lab_of(xyz_of(decoded({128, 128, 128})), white).l == doctest::Approx(53.5850).epsilon(1e-5));
}

TEST_CASE("round trips: Lab, sRGB, OKLab, adaptation") {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> unit(0, 1);
    const Xyz d65 = white_of(Illuminant::d65), a = white_of(Illuminant::a);
    for (int i = 0; i < 300; ++i) {
        const LinearSrgb rgb{unit(random), unit(random), unit(random)};
        const Xyz xyz = xyz_of(rgb);
        const LinearSrgb back = linear_srgb_of(xyz, d65), through_ok = linear_srgb_of(oklab_of(rgb));
        CHECK(std::abs(back.r - rgb.r) + std::abs(back.g - rgb.g) + std::abs(back.b - rgb.b) < 1e-9);
        CHECK(std::abs(through_ok.r - rgb.r) + std::abs(through_ok.b - rgb.b) < 1e-9);
        const Xyz same = xyz_of(lab_of(xyz, d65), d65), there = adapted(adapted(xyz, d65, a), a, d65);
        CHECK(std::abs(same.x - xyz.x) + std::abs(same.z - xyz.z) < 1e-9);
        CHECK(std::abs(there.x - xyz.x) + std::abs(there.z - xyz.z) < 1e-9);
    }
}

TEST_CASE("Bradford: the matrix D65 to D50, computed at 30 digits from the cone matrix (Lam 1985)") {
    const Xyz d65{95.047, 100, 108.883}, d50{96.422, 100, 82.521};
    const double expected[3][3] = {{1.0478112, 0.0228866, -0.0501270},
                                   {0.0295424, 0.9904844, -0.0170491},
                                   {-0.0092345, 0.0150436, 0.7521316}};
    for (int column = 0; column < 3; ++column) {
        const Xyz out =
            adapted({column == 0 ? 1.0 : 0, column == 1 ? 1.0 : 0, column == 2 ? 1.0 : 0}, d65, d50);
        CHECK(std::abs(out.x - expected[0][column]) < 2e-7);
        CHECK(std::abs(out.y - expected[1][column]) < 2e-7);
        CHECK(std::abs(out.z - expected[2][column]) < 2e-7);
    }
}

TEST_CASE("OKLab of the sRGB primaries by the direct matrix (Ottosson 2020; figures computed at 7 digits)") {
    const auto check = [](LinearSrgb rgb, double l, double a, double b) {
        const OkLab lab = oklab_of(rgb);
        CHECK(std::abs(lab.l - l) < 1e-6);
        CHECK(std::abs(lab.a - a) < 1e-6);
        CHECK(std::abs(lab.b - b) < 1e-6);
    };
    check({1, 0, 0}, 0.6279554, 0.2248631, 0.1258463);
    check({0, 1, 0}, 0.8664396, -0.2338876, 0.1794985);
    check({0, 0, 1}, 0.4520137, -0.0324570, -0.3115281);
}

TEST_CASE("sRGB decoding at single steps (computed from IEC 61966-2-1)") {
    CHECK(decoded({1, 10, 11}).r == doctest::Approx(0.0003035270).epsilon(1e-6));
    CHECK(decoded({1, 10, 11}).g == doctest::Approx(0.0030352698).epsilon(1e-7));
    CHECK(decoded({1, 10, 11}).b == doctest::Approx(0.0033465358).epsilon(1e-7));
    CHECK(decoded({50, 128, 254}).r == doctest::Approx(0.0318960331).epsilon(1e-8));
    CHECK(decoded({50, 128, 254}).g == doctest::Approx(0.2158605001).epsilon(1e-8));
    CHECK(decoded({50, 128, 254}).b == doctest::Approx(0.9911020971).epsilon(1e-8));
}

TEST_CASE("8-bit encoding clamps, rounds, and survives what is not a number") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(encoded({-0.5, 2.0, nan}) == EncodedSrgb{0, 255, 0});
    for (int v = 0; v < 256; ++v) {
        const auto byte = static_cast<std::uint8_t>(v);
        CHECK(encoded(decoded({byte, byte, byte})) == EncodedSrgb{byte, byte, byte});
    }
}

TEST_CASE("gamut mapping keeps hue and lightness, leaves what fits alone, and ends inside") {
    const LinearSrgb inside{0.2, 0.5, 0.9};
    CHECK(gamut_mapped(inside).b == inside.b);
    for (const LinearSrgb& out :
         {LinearSrgb{-0.1, 0.4, 0.6}, {0.9, -0.05, 0.02}, {0.1, 0.2, 1.3}, {1.2, 0.9, 0.1}}) {
        CHECK_FALSE(in_gamut(out));
        const LinearSrgb mapped = gamut_mapped(out);
        CHECK(in_gamut(mapped, 0));
        CHECK(std::abs(oklab_hue(mapped) - oklab_hue(out)) < 1e-6);
        CHECK(std::abs(oklab_of(mapped).l - oklab_of(out).l) < 1e-6);
    }
    CHECK(gamut_mapped({2, 2, 2.1}).g == 1);
    CHECK(gamut_mapped({-1, -1, -1}).g == 0);
}

TEST_CASE("hex colours") {
    CHECK(hex_of({0x3f, 0x6f, 0x7c}) == "#3f6f7c");
    CHECK(encoded_from_hex("#3F6f7C") == EncodedSrgb{0x3f, 0x6f, 0x7c});
    for (const char* bad : {"", "#", "3f6f7c", "#3f6f7", "#3f6f7g", "#3f6f7c0", "#-1-1-1"})
        CHECK_FALSE(encoded_from_hex(bad).has_value());
}

TEST_CASE("CIEDE2000: a metric's first duties") {
    const Lab a{52, 10, -30}, b{52.5, 9, -31};
    CHECK(ciede2000(a, a) == 0);
    CHECK(ciede2000(a, b) == ciede2000(b, a));
    CHECK(ciede2000({0, 0, 0}, {100, 0, 0}) == doctest::Approx(100));
    CHECK(ciede2000({50, 0, 0}, {50, 0, 0}) == 0);
}

TEST_CASE("a reflectance made from sRGB has that colour, stays inside 0 to 1, over the whole cube") {
    const Xyz white = white_of(Illuminant::d65);
    for (int r = 0; r <= 255; r += 51)
        for (int g = 0; g <= 255; g += 51)
            for (int b = 0; b <= 255; b += 51) {
                const auto byte = [](int v) { return static_cast<std::uint8_t>(v); };
                const LinearSrgb rgb = decoded({byte(r), byte(g), byte(b)});
                const Spectrum reflectance = reflectance_from(rgb);
                for (double v : reflectance) {
                    REQUIRE(v > 0);
                    REQUIRE(v < 1);
                }
                const LinearSrgb back = linear_srgb_of(xyz_of(reflectance, Illuminant::d65), white);
                CAPTURE(hex_of({byte(r), byte(g), byte(b)}));
                CHECK(std::abs(back.r - rgb.r) < 1.01e-4);  // the ends are drawn in by 1e-4
                CHECK(std::abs(back.g - rgb.g) < 1.01e-4);
                CHECK(std::abs(back.b - rgb.b) < 1.01e-4);
            }
}
