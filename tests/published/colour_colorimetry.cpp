// Colorimetry against published figures. Each case names its source.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <functional>
#include <vector>

#include "colour/colorimetry.h"
#include "colour/csv.h"
#include "colour/upsampling.h"
#include "published/report.h"

using namespace foreslice::colour;
using namespace foreslice::testing;
using foreslice::testing::Csv;
using foreslice::testing::reflectance_column;

namespace {

const std::filesystem::path data = std::filesystem::path(FORESLICE_TEST_DATA) / "colour";

/// Relative power of an illuminant at a whole nanometre: A by its defining formula (CIE 15: 100 (560/l)^5
/// (exp(1.435e7/(2848*560)) - 1) / (exp(1.435e7/(2848 l)) - 1)), the others linearly in their 5 nm tables.
double relative_power(const Csv& spd, const std::string& illuminant, double nm) {
    if (illuminant == "A") {
        const auto planck = [](double l) { return std::exp(1.435e7 / (2848 * l)) - 1; };
        return 100 * std::pow(560 / nm, 5) * planck(560) / planck(nm);
    }
    const auto left = std::min<std::size_t>(static_cast<std::size_t>((nm - 300) / 5), spd.rows() - 2);
    const double part = (nm - spd.number(left, "wavelength_nm")) / 5;
    return (1 - part) * spd.number(left, illuminant) + part * spd.number(left + 1, illuminant);
}

/// Integral of observer x illuminant x reflectance at 1 nm over 360-830 nm, Y = 100 for a perfect white: an
/// independent route without weights or a 10 nm grid.
Xyz integral_1nm(const std::string& illuminant, const std::function<double(double)>& reflectance) {
    const Csv observer(data / "cie1931_2deg_cmf_1nm.csv");
    const Csv spd(data / "cie_illuminants_A_D50_D65_5nm.csv");
    Xyz sum;
    double norm = 0;
    for (std::size_t row = 0; row < observer.rows(); ++row) {
        const double nm = observer.number(row, "wavelength_nm");
        const double power = relative_power(spd, illuminant, nm);
        const double light = power * reflectance(nm);
        sum.x += light * observer.number(row, "xbar");
        sum.y += light * observer.number(row, "ybar");
        sum.z += light * observer.number(row, "zbar");
        norm += power * observer.number(row, "ybar");
    }
    return {100 * sum.x / norm, 100 * sum.y / norm, 100 * sum.z / norm};
}

}  // namespace

TEST_CASE("white points: ASTM E308 / CIE 15 tristimulus values of D65, D50 and A, 2-degree observer") {
    // The reference values carry three decimals and rest on 5 nm sums in places; 0.01 is the step width's
    // share.
    struct Row {
        Illuminant illuminant;
        std::string column;
        double x, z;
    };
    for (const Row& row :
         {Row{Illuminant::d65, "D65", 95.047, 108.883}, Row{Illuminant::d50, "D50", 96.422, 82.521},
          Row{Illuminant::a, "A", 109.850, 35.585}}) {
        CAPTURE(row.column);
        const Xyz white = white_of(row.illuminant);
        const std::string source = "ASTM E308 / CIE 15, 2-degree observer",
                          name = "white point of " + row.column;
        compare({source, name + ", X", row.x}, white.x, 0.01);
        CHECK(std::abs(white.y - 100) < 1e-4);
        compare({source, name + ", Z", row.z}, white.z, 0.01);
        const Xyz fine = integral_1nm(row.column, [](double) { return 1.0; });
        CHECK(std::abs(fine.x - white.x) < 2e-4);
        CHECK(std::abs(fine.z - white.z) < 2e-4);
    }
}

TEST_CASE("LED-B3: chromaticity published in CIE 15:2018, x 0.3756, y 0.3723") {
    const Xyz white = white_of(Illuminant::led_b3);
    const double sum = white.x + white.y + white.z;
    compare({"CIE 15:2018", "chromaticity x of LED-B3", 0.3756}, white.x / sum, 1e-4);
    compare({"CIE 15:2018", "chromaticity y of LED-B3", 0.3723}, white.y / sum, 1e-4);
}

TEST_CASE("10 nm weights (ASTM E2022 method) against integration at 1 nm of the CIE tables") {
    const std::vector<std::function<double(double)>> curves{
        [](double nm) { return 0.5 + 0.4 * std::sin(nm / 40); },
        [](double nm) { return 0.05 + 0.9 / (1 + std::exp(-(nm - 560) / 12)); },
        [](double nm) { return 0.1 + 0.6 * std::exp(-(nm - 450) * (nm - 450) / 2000); }};
    for (std::size_t i = 0; i < curves.size(); ++i) {
        CAPTURE(i);
        Spectrum r{};
        for (std::size_t band = 0; band < band_count; ++band) r[band] = curves[i](lambda_nm(band));
        const Xyz white = white_of(Illuminant::d65);
        // Beyond the grid the weights hold the end values, so the integral must as well.
        const Xyz fine =
            integral_1nm("D65", [&](double nm) { return curves[i](std::clamp(nm, 380.0, 730.0)); });
        CHECK(ciede2000(lab_of(xyz_of(r, Illuminant::d65), white), lab_of(fine, white)) < 0.05);
    }
}

TEST_CASE("CIEDE2000: the 34 pairs of Sharma, Wu & Dalal 2005, Table 1") {
    const Csv pairs(data / "ciede2000_sharma2005.csv");
    REQUIRE(pairs.rows() == 34);
    double worst = 0;
    for (std::size_t row = 0; row < pairs.rows(); ++row) {
        CAPTURE(row + 1);
        const Lab first{pairs.number(row, "L1"), pairs.number(row, "a1"), pairs.number(row, "b1")};
        const Lab second{pairs.number(row, "L2"), pairs.number(row, "a2"), pairs.number(row, "b2")};
        const double published = pairs.number(row, "dE00");
        CHECK(std::abs(ciede2000(first, second) - published) < 1e-4);
        CHECK(std::abs(ciede2000(second, first) - published) < 1e-4);
        worst = std::max(worst, std::abs(ciede2000(first, second) - published));
    }
    compare_worst({"Sharma, Wu & Dalal 2005, table 1", "CIEDE2000 of pairs of colours", 34, "dE00"}, worst,
                  1e-4);
}

TEST_CASE("24-patch chart: mean spectra of 30 charts against the xyY published with them (D. Pascale, D50)") {
    const Csv chart(data / "chart24_average30_reflectance_10nm.csv");
    REQUIRE(chart.rows() == 24);
    const Xyz white = white_of(Illuminant::d50);
    double sum = 0, greatest = 0, greatest_step = 0;
    for (std::size_t row = 0; row < chart.rows(); ++row) {
        Spectrum r{};
        for (std::size_t i = 0; i < band_count; ++i)
            r[i] = chart.number(row, reflectance_column(lambda_nm(i)));
        const double x = chart.number(row, "pub_x_D50"), y = chart.number(row, "pub_y_D50");
        const double big_y = 100 * chart.number(row, "pub_Y_D50");
        const Xyz published{x / y * big_y, big_y, (1 - x - y) / y * big_y}, ours = xyz_of(r, Illuminant::d50);
        greatest_step = std::max({greatest_step, std::abs(ours.x - published.x),
                                  std::abs(ours.y - published.y), std::abs(ours.z - published.z)});
        const double de = ciede2000(lab_of(ours, white), lab_of(published, white));
        sum += de;
        greatest = std::max(greatest, de);
    }
    CHECK(greatest_step < 0.03);  // the published values have four decimals
    CHECK(sum / 24 < 0.05);
    compare_worst(
        {"D. Pascale, 24-patch chart, xyY under D50", "colours from mean spectra of 30 charts", 24, "dE00"},
        greatest, 0.2);  // the black patch
}

TEST_CASE("sRGB transfer function: IEC 61966-2-1 constants (from memory)") {
    CHECK(decode_srgb(0.04045) == doctest::Approx(0.04045 / 12.92).scale(0).epsilon(1e-12));
    CHECK(decode_srgb(0.5) == doctest::Approx(std::pow(0.555 / 1.055, 2.4)).scale(0).epsilon(1e-12));
    CHECK(encode_srgb(0.0031308) == doctest::Approx(0.0031308 * 12.92).scale(0).epsilon(1e-12));
    for (int v = 0; v < 256; ++v) CHECK(encode_srgb(decode_srgb(v / 255.0)) == doctest::Approx(v / 255.0));
    // The two branches meet at the break to within the rounding of the standard's constants.
    CHECK(std::abs(1.055 * std::pow(0.0031308, 1 / 2.4) - 0.055 - 12.92 * 0.0031308) < 1e-7);
}

TEST_CASE("sRGB matrix: the four-decimal inverse printed in IEC 61966-2-1 (from memory)") {
    const Xyz white{95.047, 100, 108.883};
    const double printed[3][3] = {
        {3.2406, -1.5372, -0.4986}, {-0.9689, 1.8758, 0.0415}, {0.0557, -0.2040, 1.0570}};
    for (int column = 0; column < 3; ++column) {
        const LinearSrgb rgb = linear_srgb_of(
            Xyz{column == 0 ? 100.0 : 0, column == 1 ? 100.0 : 0, column == 2 ? 100.0 : 0}, white);
        CHECK(std::abs(rgb.r - printed[0][column]) < 4e-4);
        CHECK(std::abs(rgb.g - printed[1][column]) < 4e-4);
        CHECK(std::abs(rgb.b - printed[2][column]) < 4e-4);
    }
}

TEST_CASE("OKLab: the XYZ table of B. Ottosson 2020, three decimals (from memory)") {
    // We go through his direct linear-sRGB matrix, which differs from XYZ through his M1 by a few 1e-4 in
    // LMS.
    struct Row {
        Xyz xyz;
        OkLab lab;
    };
    const Xyz white{95.047, 100, 108.883};
    for (const Row& row :
         {Row{{95.0, 100, 108.9}, {1.000, 0.000, 0.000}}, Row{{100, 0, 0}, {0.450, 1.236, -0.019}},
          Row{{0, 100, 0}, {0.922, -0.671, 0.263}}, Row{{0, 0, 100}, {0.153, -1.415, -0.449}}}) {
        const OkLab lab = oklab_of(linear_srgb_of(row.xyz, white));
        CHECK(std::abs(lab.l - row.lab.l) < 2e-3);
        CHECK(std::abs(lab.a - row.lab.a) < 5e-3);
        CHECK(std::abs(lab.b - row.lab.b) < 5e-3);
    }
}

TEST_CASE("LHTSS: Burns 2017 (arXiv:1710.05732), reflectances from an independent implementation") {
    const Csv check(data / "upsampling_check_LSS_LHTSS.csv");
    int compared = 0;
    for (std::size_t row = 0; row < check.rows(); ++row) {
        if (check.text(row, "method") != "LHTSS") continue;
        const auto rgb = encoded_from_hex("#" + check.text(row, "srgb_hex"));
        REQUIRE(rgb.has_value());
        const Spectrum r = reflectance_from(decoded(*rgb));
        CAPTURE(check.text(row, "srgb_hex"));
        for (std::size_t i = 0; i < band_count; ++i)
            CHECK(std::abs(r[i] - check.number(row, reflectance_column(lambda_nm(i)))) < 2e-6);
        ++compared;
    }
    CHECK(compared >= 10);
}
