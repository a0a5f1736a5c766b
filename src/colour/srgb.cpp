// sRGB (IEC 61966-2-1:1999) and OKLab (B. Ottosson 2020, "A perceptual color space for image processing").
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "colour/colorimetry.h"
#include "colour/matrix3.h"

namespace foreslice::colour {
namespace {

// Linear sRGB to XYZ/100, derived from the standard's primaries and the white (0.95047, 1, 1.08883); its
// inverse is the familiar 3.2404542, -1.5371385 ... A reflectance of one gives exactly (1, 1, 1).
constexpr Matrix3 xyz_from_rgb{{{0.4124564, 0.3575761, 0.1804375},
                                {0.2126729, 0.7151522, 0.0721750},
                                {0.0193339, 0.1191920, 0.9503041}}};
constexpr Matrix3 rgb_from_xyz = inverse(xyz_from_rgb);
constexpr Vector3 unit_white = xyz_from_rgb * Vector3{1, 1, 1};
constexpr Xyz matrix_white{100 * unit_white[0], 100 * unit_white[1], 100 * unit_white[2]};

constexpr Matrix3 cones_from_rgb{{{0.4122214708, 0.5363325363, 0.0514459929},
                                  {0.2119034982, 0.6806995451, 0.1073969566},
                                  {0.0883024619, 0.2817188376, 0.6299787005}}};
constexpr Matrix3 rgb_from_cones = inverse(cones_from_rgb);
constexpr Matrix3 oklab_from_cones{{{0.2104542553, 0.7936177850, -0.0040720468},
                                    {1.9779984951, -2.4285922050, 0.4505937099},
                                    {0.0259040371, 0.7827717662, -0.8086757660}}};
constexpr Matrix3 cones_from_oklab = inverse(oklab_from_cones);

std::uint8_t to_byte(double linear) {
    if (!(linear > 0)) return 0;  // also what is not a number
    return static_cast<std::uint8_t>(std::lround(255 * encode_srgb(std::min(linear, 1.0))));
}

LinearSrgb clamped(const LinearSrgb& rgb) {
    return {std::clamp(rgb.r, 0.0, 1.0), std::clamp(rgb.g, 0.0, 1.0), std::clamp(rgb.b, 0.0, 1.0)};
}

}  // namespace

LinearSrgb linear_srgb_of(const Xyz& xyz, const Xyz& white) {
    const Xyz at_d65 = adapted(xyz, white, matrix_white);
    const Vector3 rgb = rgb_from_xyz * Vector3{at_d65.x / 100, at_d65.y / 100, at_d65.z / 100};
    return {rgb[0], rgb[1], rgb[2]};
}

Xyz xyz_of(const LinearSrgb& rgb) {
    const Vector3 v = xyz_from_rgb * Vector3{rgb.r, rgb.g, rgb.b};
    return adapted({100 * v[0], 100 * v[1], 100 * v[2]}, matrix_white, white_of(Illuminant::d65));
}

double encode_srgb(double linear) {
    return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}

double decode_srgb(double encoded_value) {
    return encoded_value <= 0.04045 ? encoded_value / 12.92 : std::pow((encoded_value + 0.055) / 1.055, 2.4);
}

EncodedSrgb encoded(const LinearSrgb& rgb) {
    return {to_byte(rgb.r), to_byte(rgb.g), to_byte(rgb.b)};
}

LinearSrgb decoded(EncodedSrgb rgb) {
    return {decode_srgb(rgb.r / 255.0), decode_srgb(rgb.g / 255.0), decode_srgb(rgb.b / 255.0)};
}

bool in_gamut(const LinearSrgb& rgb, double tolerance) {
    const auto inside = [&](double v) { return v >= -tolerance && v <= 1 + tolerance; };
    return inside(rgb.r) && inside(rgb.g) && inside(rgb.b);
}

LinearSrgb gamut_mapped(const LinearSrgb& rgb) {
    if (in_gamut(rgb, 0)) return rgb;
    const OkLab lab = oklab_of(rgb);
    if (lab.l <= 0) return {0, 0, 0};
    if (lab.l >= 1) return {1, 1, 1};
    double inside = 0, outside = 1;  // share of the chroma that is kept
    for (int step = 0; step < 40; ++step) {
        const double middle = (inside + outside) / 2;
        const bool fits = in_gamut(linear_srgb_of({lab.l, middle * lab.a, middle * lab.b}), 0);
        (fits ? inside : outside) = middle;
    }
    return clamped(linear_srgb_of({lab.l, inside * lab.a, inside * lab.b}));
}

OkLab oklab_of(const LinearSrgb& rgb) {
    Vector3 cones = cones_from_rgb * Vector3{rgb.r, rgb.g, rgb.b};
    for (double& c : cones) c = std::cbrt(c);
    const Vector3 lab = oklab_from_cones * cones;
    return {lab[0], lab[1], lab[2]};
}

LinearSrgb linear_srgb_of(const OkLab& lab) {
    Vector3 cones = cones_from_oklab * Vector3{lab.l, lab.a, lab.b};
    for (double& c : cones) c = c * c * c;
    const Vector3 rgb = rgb_from_cones * cones;
    return {rgb[0], rgb[1], rgb[2]};
}

std::string hex_of(EncodedSrgb rgb) {
    std::array<char, 8> text{};
    std::snprintf(text.data(), text.size(), "#%02x%02x%02x", rgb.r, rgb.g, rgb.b);
    return text.data();
}

std::optional<EncodedSrgb> encoded_from_hex(std::string_view hex) {
    if (hex.size() != 7 || hex[0] != '#') return std::nullopt;
    std::array<int, 6> digits{};
    for (std::size_t i = 0; i < digits.size(); ++i) {
        const char c = hex[i + 1];
        if (c >= '0' && c <= '9')
            digits[i] = c - '0';
        else if (c >= 'a' && c <= 'f')
            digits[i] = c - 'a' + 10;
        else if (c >= 'A' && c <= 'F')
            digits[i] = c - 'A' + 10;
        else
            return std::nullopt;
    }
    const auto byte = [&](std::size_t i) {
        return static_cast<std::uint8_t>(16 * digits[i] + digits[i + 1]);
    };
    return EncodedSrgb{byte(0), byte(2), byte(4)};
}

}  // namespace foreslice::colour
