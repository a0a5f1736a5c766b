// The colour room against Little CMS 2 (Debian liblcms2), an independent library: Lab, XYZ, sRGB,
// differences.
#include <doctest/doctest.h>
#include <lcms2.h>

#include <array>
#include <cmath>
#include <random>

#include "colour/colorimetry.h"
#include "published/report.h"

using namespace foreslice::colour;
using namespace foreslice::testing;

namespace {

const cmsCIEXYZ lcms_d50{0.9642, 1.0, 0.8249};
const Xyz d50_of_icc{96.42, 100, 82.49};

cmsCIELab as_lcms(const Lab& lab) {
    return {lab.l, lab.a, lab.b};
}

}  // namespace

TEST_CASE("lcms2: Lab to XYZ and back under D50 and D65") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> l(0, 100), ab(-90, 90);
    const Xyz d65 = white_of(Illuminant::d65);
    const std::array<Xyz, 2> whites{d50_of_icc, d65};
    for (const Xyz& white : whites) {
        const cmsCIEXYZ lcms_white{white.x / 100, white.y / 100, white.z / 100};
        for (int i = 0; i < 500; ++i) {
            const Lab lab{l(random), ab(random), ab(random)};
            const cmsCIELab in = as_lcms(lab);
            cmsCIEXYZ xyz;
            cmsLab2XYZ(&lcms_white, &xyz, &in);
            const Xyz ours = xyz_of(lab, white);
            // lcms2 cuts negative tristimulus values at its own linear branch; ours is the CIE's inverse.
            if (xyz.X < 0.001 || xyz.Y < 0.001 || xyz.Z < 0.001) continue;
            CHECK(std::abs(ours.x - 100 * xyz.X) < 1e-6);
            CHECK(std::abs(ours.y - 100 * xyz.Y) < 1e-6);
            CHECK(std::abs(ours.z - 100 * xyz.Z) < 1e-6);
            cmsCIELab back;
            cmsXYZ2Lab(&lcms_white, &back, &xyz);
            const Lab ours_back = lab_of(ours, white);
            CHECK(std::abs(ours_back.l - back.L) < 1e-6);
            CHECK(std::abs(ours_back.a - back.a) < 1e-6);
            CHECK(std::abs(ours_back.b - back.b) < 1e-6);
        }
    }
}

TEST_CASE("lcms2: CIEDE2000 on a thousand pairs, near and far") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> l(0, 100), ab(-100, 100), near(-3, 3);
    double worst = 0;
    for (int i = 0; i < 1000; ++i) {
        const Lab a{l(random), ab(random), ab(random)};
        const Lab b = i % 2 == 0 ? Lab{l(random), ab(random), ab(random)}
                                 : Lab{a.l + near(random), a.a + near(random), a.b + near(random)};
        const cmsCIELab la = as_lcms(a), lb = as_lcms(b);
        worst = std::max(worst, std::abs(ciede2000(a, b) - cmsCIE2000DeltaE(&la, &lb, 1, 1, 1)));
    }
    compare_worst(
        {"Little CMS 2, reference library", "CIEDE2000 of random pairs, near and far", 1000, "dE00"}, worst,
        1e-6);
}

TEST_CASE("lcms2: Bradford adaptation") {
    const Xyz d65{95.047, 100, 108.883};
    const cmsCIEXYZ lcms_d65{0.95047, 1.0, 1.08883};
    for (const Xyz& colour :
         {Xyz{41.24564, 21.26729, 1.93339}, Xyz{35.75761, 71.51522, 11.9192}, Xyz{18, 7, 95}}) {
        const cmsCIEXYZ in{colour.x / 100, colour.y / 100, colour.z / 100};
        cmsCIEXYZ out;
        REQUIRE(cmsAdaptToIlluminant(&out, &lcms_d65, &lcms_d50, &in));
        const Xyz ours = adapted(colour, d65, d50_of_icc);
        CHECK(std::abs(ours.x - 100 * out.X) < 1e-4);
        CHECK(std::abs(ours.y - 100 * out.Y) < 1e-4);
        CHECK(std::abs(ours.z - 100 * out.Z) < 1e-4);
    }
}

TEST_CASE("lcms2: sRGB to Lab (D50 connection space) over the whole cube") {
    cmsHPROFILE srgb = cmsCreate_sRGBProfile();
    cmsHPROFILE lab = cmsCreateLab4Profile(nullptr);
    cmsHTRANSFORM transform =
        cmsCreateTransform(srgb, TYPE_RGB_DBL, lab, TYPE_Lab_DBL, INTENT_RELATIVE_COLORIMETRIC,
                           cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
    REQUIRE(transform != nullptr);
    double greatest = 0;
    for (int r = 0; r <= 255; r += 17)
        for (int g = 0; g <= 255; g += 17)
            for (int b = 0; b <= 255; b += 17) {
                const std::array<double, 3> in{r / 255.0, g / 255.0, b / 255.0};
                cmsCIELab out;
                cmsDoTransform(transform, in.data(), &out, 1);
                const Xyz xyz =
                    xyz_of(LinearSrgb{decode_srgb(in[0]), decode_srgb(in[1]), decode_srgb(in[2])});
                const Lab ours = lab_of(adapted(xyz, white_of(Illuminant::d65), d50_of_icc), d50_of_icc);
                greatest = std::max(greatest, ciede2000(ours, {out.L, out.a, out.b}));
            }
    MESSAGE("greatest dE00 " << greatest);
    CHECK(greatest <
          0.05);  // its white is (0.3127, 0.3290), ours the D65 table's; its profile has 16-bit numbers
    cmsDeleteTransform(transform);
    cmsCloseProfile(lab);
    cmsCloseProfile(srgb);
}
