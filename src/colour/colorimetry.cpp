#include "colour/colorimetry.h"

#include <cmath>
#include <numbers>

#include "colour/matrix3.h"
#include "colour/weights_table.h"

namespace foreslice::colour {
namespace {

const std::array<Weights, band_count>& weights_of(Illuminant illuminant, Observer observer) {
    const bool large = observer == Observer::cie1964_10deg;
    switch (illuminant) {
        case Illuminant::d50:
            return large ? weights_d50_10deg : weights_d50;
        case Illuminant::a:
            return large ? weights_a_10deg : weights_a;
        case Illuminant::led_b3:
            return large ? weights_led_b3_10deg : weights_led_b3;
        case Illuminant::fl11:
            return large ? weights_fl11_10deg : weights_fl11;
        case Illuminant::d65:
            break;
    }
    return large ? weights_d65_10deg : weights_d65;
}

// CIE 15:2004 in exact form: epsilon = (6/29)^3 = 216/24389, kappa = (29/3)^3 = 24389/27.
constexpr double epsilon = 216.0 / 24389.0;
constexpr double kappa = 24389.0 / 27.0;

double lab_f(double t) {
    return t > epsilon ? std::cbrt(t) : (kappa * t + 16) / 116;
}

double lab_f_inverse(double f) {
    const double cube = f * f * f;
    return cube > epsilon ? cube : (116 * f - 16) / kappa;
}

// Bradford cone matrix: Lam 1985, as used by CIECAM97s and ICC.1.
constexpr Matrix3 bradford{{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}};
constexpr Matrix3 bradford_inverse = inverse(bradford);

}  // namespace

std::string_view name_of(Illuminant illuminant) {
    switch (illuminant) {
        case Illuminant::d50:
            return "D50";
        case Illuminant::a:
            return "A";
        case Illuminant::led_b3:
            return "LED-B3";
        case Illuminant::fl11:
            return "FL11";
        case Illuminant::d65:
            break;
    }
    return "D65";
}

Xyz white_of(Illuminant illuminant, Observer observer) {
    Spectrum perfect{};
    perfect.fill(1);
    return xyz_of(perfect, illuminant, observer);
}

Xyz xyz_of(const Spectrum& reflectance, Illuminant illuminant, Observer observer) {
    const auto& weights = weights_of(illuminant, observer);
    Xyz sum;
    for (std::size_t i = 0; i < band_count; ++i) {
        sum.x += weights[i].x * reflectance[i];
        sum.y += weights[i].y * reflectance[i];
        sum.z += weights[i].z * reflectance[i];
    }
    return sum;
}

Lab lab_of(const Xyz& xyz, const Xyz& white) {
    const double fx = lab_f(xyz.x / white.x), fy = lab_f(xyz.y / white.y), fz = lab_f(xyz.z / white.z);
    return {116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)};
}

Xyz xyz_of(const Lab& lab, const Xyz& white) {
    const double fy = (lab.l + 16) / 116;
    return {white.x * lab_f_inverse(fy + lab.a / 500), white.y * lab_f_inverse(fy),
            white.z * lab_f_inverse(fy - lab.b / 200)};
}

Xyz adapted(const Xyz& xyz, const Xyz& from_white, const Xyz& to_white) {
    Vector3 cones = bradford * Vector3{xyz.x, xyz.y, xyz.z};
    const Vector3 from = bradford * Vector3{from_white.x, from_white.y, from_white.z};
    const Vector3 to = bradford * Vector3{to_white.x, to_white.y, to_white.z};
    for (std::size_t i = 0; i < 3; ++i) cones[i] *= to[i] / from[i];
    const Vector3 out = bradford_inverse * cones;
    return {out[0], out[1], out[2]};
}

namespace {

constexpr double degree = std::numbers::pi / 180;

/// Hue angle in degrees, 0 <= h < 360; 0 for a neutral.
double hue_degrees(double a, double b) {
    if (a == 0 && b == 0) return 0;
    const double h = std::atan2(b, a) / degree;
    return h < 0 ? h + 360 : h;
}

double seventh_power_share(double chroma) {
    const double c7 = std::pow(chroma, 7);
    return std::sqrt(c7 / (c7 + 6103515625.0));  // 25^7
}

struct HuePair {
    double difference_deg, mean_deg;
};

// Sharma, Wu & Dalal 2005, equations 10 and 14. Two hues exactly opposite leave the branch to the last bit of
// atan2, so the comparison has a hair of room: their pairs 10 and 14 need the first branch.
HuePair hue_pair(double h1, double h2, bool either_neutral) {
    constexpr double half_turn = 180 + 1e-9;
    const double raw = h2 - h1;
    if (either_neutral) return {0, h1 + h2};
    if (std::abs(raw) <= half_turn) return {raw, (h1 + h2) / 2};
    const double difference = raw > 0 ? raw - 360 : raw + 360;
    return {difference, (h1 + h2 + (h1 + h2 < 360 ? 360 : -360)) / 2};
}

}  // namespace

double ciede2000(const Lab& first, const Lab& second) {
    // G. Sharma, W. Wu, E. N. Dalal: The CIEDE2000 color-difference formula. Color Res. Appl. 30(1), 2005.
    const double mean_chroma = (std::hypot(first.a, first.b) + std::hypot(second.a, second.b)) / 2;
    const double stretch = 1 + 0.5 * (1 - seventh_power_share(mean_chroma));
    const double a1 = first.a * stretch, a2 = second.a * stretch;
    const double c1 = std::hypot(a1, first.b), c2 = std::hypot(a2, second.b);
    const HuePair hue = hue_pair(hue_degrees(a1, first.b), hue_degrees(a2, second.b), c1 * c2 == 0);

    const double dl = second.l - first.l, dc = c2 - c1;
    const double dh = 2 * std::sqrt(c1 * c2) * std::sin(hue.difference_deg / 2 * degree);
    const double l = (first.l + second.l) / 2, c = (c1 + c2) / 2, h = hue.mean_deg;

    const double t = 1 - 0.17 * std::cos((h - 30) * degree) + 0.24 * std::cos(2 * h * degree) +
                     0.32 * std::cos((3 * h + 6) * degree) - 0.20 * std::cos((4 * h - 63) * degree);
    const double from_middle = (l - 50) * (l - 50);
    const double sl = 1 + 0.015 * from_middle / std::sqrt(20 + from_middle);
    const double sc = 1 + 0.045 * c, sh = 1 + 0.015 * c * t;
    const double blue = (h - 275) / 25;
    const double rotation = -std::sin(60 * std::exp(-blue * blue) * degree) * 2 * seventh_power_share(c);
    const double ql = dl / sl, qc = dc / sc, qh = dh / sh;
    return std::sqrt(ql * ql + qc * qc + qh * qh + rotation * qc * qh);
}

}  // namespace foreslice::colour
