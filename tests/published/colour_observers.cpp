// The 10-degree observer, the fluorescent lamp and colour-vision deficiencies against published figures.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "colour/colorimetry.h"
#include "colour/csv.h"
#include "colour/pigment.h"
#include "colour/viewing.h"
#include "published/report.h"

using namespace foreslice::colour;
using namespace foreslice::testing;
using foreslice::testing::Csv;
using foreslice::testing::reflectance_column;

namespace {

const std::filesystem::path data = std::filesystem::path(FORESLICE_TEST_DATA) / "colour";

}  // namespace

TEST_CASE("white points: ASTM E308 tristimulus values, 10-degree observer and FL11 (from memory)") {
    struct Row {
        Illuminant illuminant;
        Observer observer;
        const char* name;
        double x, z;
    };
    for (const Row& row :
         {Row{Illuminant::d65, Observer::cie1964_10deg, "D65, 10 degrees", 94.811, 107.304},
          Row{Illuminant::d50, Observer::cie1964_10deg, "D50, 10 degrees", 96.720, 81.427},
          Row{Illuminant::a, Observer::cie1964_10deg, "A, 10 degrees", 111.144, 35.200},
          Row{Illuminant::fl11, Observer::cie1931_2deg, "FL11, 2 degrees", 100.962, 64.350},
          Row{Illuminant::fl11, Observer::cie1964_10deg, "FL11, 10 degrees", 103.863, 65.607}}) {
        const Xyz white = white_of(row.illuminant, row.observer);
        CAPTURE(row.x);
        const std::string name = std::string("white point of ") + row.name;
        compare({"ASTM E308 (from memory)", name + ", X", row.x}, white.x, 0.015);  // it rests on 5 nm sums
        CHECK(std::abs(white.y - 100) < 1e-4);
        compare({"ASTM E308 (from memory)", name + ", Z", row.z}, white.z, 0.015);
    }
}

TEST_CASE("FL11: chromaticity printed in CIE 15:2004, x 0.3805, y 0.3769 (from memory)") {
    const Xyz white = white_of(Illuminant::fl11);
    const double sum = white.x + white.y + white.z;
    CHECK(std::abs(white.x / sum - 0.3805) < 1e-4);
    CHECK(std::abs(white.y / sum - 0.3769) < 1e-4);
}

TEST_CASE("10-degree observer: plain 10 nm sums of a second copy of the CIE 1964 table") {
    // CIE table as in python3-colormath; light: D65 and A of the CIE 5 nm tables. Our weights come from 1 nm.
    const Csv eye(data / "cie1964_10deg_cmf_10nm.csv"), light(data / "cie_illuminants_A_D50_D65_5nm.csv");
    for (const auto& [illuminant, name] :
         {std::pair{Illuminant::d65, "D65"}, std::pair{Illuminant::a, "A"}}) {
        for (const double slope : {0.0, 0.002, -0.002}) {
            Xyz sum;
            Spectrum r{};
            for (std::size_t i = 0; i < band_count; ++i) r[i] = 0.5 + slope * (lambda_nm(i) - 555);
            double norm = 0;
            for (std::size_t row = 0; row < eye.rows(); ++row) {
                const int nm = static_cast<int>(eye.number(row, "wavelength_nm"));
                if (nm < 380 || nm > 730) continue;
                const double power = light.number(static_cast<std::size_t>((nm - 300) / 5), name);
                const double here = power * r[static_cast<std::size_t>((nm - 380) / 10)];
                sum.x += here * eye.number(row, "xbar");
                sum.y += here * eye.number(row, "ybar");
                sum.z += here * eye.number(row, "zbar");
                norm += power * eye.number(row, "ybar");
            }
            const Xyz ours = xyz_of(r, illuminant, Observer::cie1964_10deg);
            CHECK(std::abs(ours.x - 100 * sum.x / norm) < 0.15);
            CHECK(std::abs(ours.y - 100 * sum.y / norm) < 0.05);
            CHECK(std::abs(ours.z - 100 * sum.z / norm) < 0.2);
        }
    }
}

TEST_CASE("10-degree observer: Lab printed with 19 measured drawdowns (a paint maker's shared sheet, D65)") {
    const Csv sheet(data / "pigment_drawdowns_acrylic_400_700.csv");
    double sum = 0, greatest = 0;
    for (std::size_t row = 0; row < sheet.rows(); ++row) {
        Spectrum r{};
        for (std::size_t i = 0; i < band_count; ++i)
            r[i] = sheet.number(row, reflectance_column(std::clamp(lambda_nm(i), 400, 700)));
        const Lab ours = lab_of(xyz_of(r, Illuminant::d65, Observer::cie1964_10deg),
                                white_of(Illuminant::d65, Observer::cie1964_10deg));
        const double de =
            std::hypot(ours.l - sheet.number(row, "pub_L_D65_10deg"), ours.a - sheet.number(row, "pub_a"),
                       ours.b - sheet.number(row, "pub_b"));
        sum += de;
        greatest = std::max(greatest, de);
    }
    MESSAGE("mean dE76 " << sum / static_cast<double>(sheet.rows()) << ", greatest " << greatest);
    CHECK(sum / static_cast<double>(sheet.rows()) < 0.1);
    compare_worst({"a paint maker's shared sheet of drawdowns, D65, 10 degrees", "Lab of measured drawdowns",
                   static_cast<int>(sheet.rows()), "dE76"},
                  greatest, 0.4);
}

TEST_CASE(
    "Machado, Oliveira & Fernandes 2009: every matrix row keeps white (its sum is one to six decimals)") {
    // Their matrices for severity 1.0: a primary goes to a column of the matrix.
    const LinearSrgb red = seen_with(Vision::deuteranopia, {1, 0, 0});
    CHECK(red.r == doctest::Approx(0.367322));
    CHECK(red.g == doctest::Approx(0.280085));
    CHECK(red.b == 0);  // -0.011820, outside sRGB
    const LinearSrgb green = seen_with(Vision::protanopia, {0, 0.5, 0});
    CHECK(green.r == doctest::Approx(0.5 * 1.052583));
    CHECK(green.g == doctest::Approx(0.5 * 0.786281));
    const LinearSrgb blue = seen_with(Vision::tritanopia, {0, 0, 1});
    CHECK(blue.g == doctest::Approx(0.147602));
    CHECK(blue.b == doctest::Approx(0.303900));
}

TEST_CASE(
    "hiding power: contrast ratio 0.98 over white (0.80) and black (ASTM D2805's convention, from memory)") {
    // Closed form for a layer that does not absorb: R0 = SX / (1 + SX), R = (Rg + SX (1 - Rg)) / (1 + SX (1 -
    // Rg)).
    const auto contrast = [](double sx) {
        return reflectance_finite(0, sx, 1, 0) / reflectance_finite(0, sx, 1, 0.8);
    };
    for (const double sx : {0.5, 2.0, 20.0}) {
        const double r0 = sx / (1 + sx), r = (0.8 + 0.2 * sx) / (1 + 0.2 * sx);
        CHECK(contrast(sx) == doctest::Approx(r0 / r).scale(0).epsilon(1e-12));
    }
    double low = 1, high = 1000;  // C = SX (1 + 0.2 SX) / ((1 + SX)(0.8 + 0.2 SX)) = 0.98, a quadratic in SX
    for (int i = 0; i < 100; ++i) (contrast((low + high) / 2) < 0.98 ? low : high) = (low + high) / 2;
    const double a = 0.2 * 0.02, b = 1 - 0.98, c = -0.98 * 0.8;
    CHECK(low == doctest::Approx((-b + std::sqrt(b * b - 4 * a * c)) / (2 * a)).scale(0).epsilon(1e-9));
}

TEST_CASE("Bradford: D65 to D50, the matrix of B. Lindbloom's tables (from memory, seven decimals)") {
    const Xyz d65{95.047, 100, 108.883}, d50{96.422, 100, 82.521};
    const double published[3][3] = {{1.0478112, 0.0228866, -0.0501270},
                                    {0.0295424, 0.9904844, -0.0170491},
                                    {-0.0092345, 0.0150436, 0.7521316}};
    for (int column = 0; column < 3; ++column) {
        const Xyz out =
            adapted({column == 0 ? 1.0 : 0, column == 1 ? 1.0 : 0, column == 2 ? 1.0 : 0}, d65, d50);
        CHECK(std::abs(out.x - published[0][column]) < 2e-6);
        CHECK(std::abs(out.y - published[1][column]) < 2e-6);
        CHECK(std::abs(out.z - published[2][column]) < 2e-6);
    }
}

TEST_CASE("two sources: the CIE tables of our weights against a second copy (python3-colormath)") {
    const Csv second(data / "cie_second_source_10nm.csv"), eye(data / "cie1931_2deg_cmf_1nm.csv"),
        light(data / "cie_illuminants_A_D50_D65_5nm.csv"), lamp(data / "cie_illuminant_FL11_5nm.csv");
    double exact = 0, older = 0;
    for (std::size_t row = 0; row < second.rows(); ++row) {
        const double nm = second.number(row, "wavelength_nm");
        const auto at = [&](double first, double step) {
            return static_cast<std::size_t>((nm - first) / step);
        };
        for (const char* column : {"xbar", "ybar", "zbar"})
            exact = std::max(exact, std::abs(second.number(row, column) - eye.number(at(360, 1), column)));
        exact = std::max(exact, std::abs(second.number(row, "FL11") - lamp.number(at(380, 5), "FL11")));
        for (const char* column : {"A", "D65"})
            older = std::max(older, std::abs(second.number(row, column) - light.number(at(300, 5), column)));
    }
    CHECK(exact < 1e-9);
    // Its A and D65 are of an older printing, rounded and with another radiation constant.
    CHECK(older < 0.11);
}
