// From a reflectance spectrum to numbers a screen and an eye understand. Each colour space is its own type.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "colour/spectrum.h"

namespace foreslice::colour {

enum class Illuminant { d65, d50, a, led_b3 };
std::string_view name_of(Illuminant illuminant);

struct Xyz {
    double x = 0, y = 0, z = 0;
};  ///< Y = 100 for a perfect white
struct Lab {
    double l = 0, a = 0, b = 0;
};  ///< CIE 1976 L*a*b*, white = the illuminant's
struct LinearSrgb {
    double r = 0, g = 0, b = 0;
};  ///< linear light, 0..1 inside the gamut
struct EncodedSrgb {
    std::uint8_t r = 0, g = 0, b = 0;
    friend bool operator==(const EncodedSrgb&, const EncodedSrgb&) = default;
};
struct OkLab {
    double l = 0, a = 0, b = 0;
};

/// White of an illuminant under the CIE 1931 2-degree observer (the sums of the weights in use).
Xyz white_of(Illuminant illuminant);
/// Tristimulus values of a reflectance (0..1 a band) under an illuminant, CIE 1931 2-degree observer.
Xyz xyz_of(const Spectrum& reflectance, Illuminant illuminant);
Lab lab_of(const Xyz& xyz, const Xyz& white);
Xyz xyz_of(const Lab& lab, const Xyz& white);

/// Bradford chromatic adaptation (von Kries scaling of sharpened cone signals).
Xyz adapted(const Xyz& xyz, const Xyz& from_white, const Xyz& to_white);

/// To sRGB (IEC 61966-2-1). `xyz` is relative to `white`; a white other than D65 is adapted by Bradford.
LinearSrgb linear_srgb_of(const Xyz& xyz, const Xyz& white);
Xyz xyz_of(const LinearSrgb& rgb);  ///< relative to D65
double encode_srgb(double linear);  ///< 0..1 -> 0..1
double decode_srgb(double encoded);
EncodedSrgb encoded(const LinearSrgb& rgb);  ///< clamps to 0..1, rounds to 8 bit
LinearSrgb decoded(EncodedSrgb rgb);
bool in_gamut(const LinearSrgb& rgb, double tolerance = 1e-4);
/// Brings a colour into the sRGB gamut by lowering its chroma in OKLab at constant hue and lightness.
LinearSrgb gamut_mapped(const LinearSrgb& rgb);
OkLab oklab_of(const LinearSrgb& rgb);
LinearSrgb linear_srgb_of(const OkLab& lab);

/// CIEDE2000 colour difference, kL = kC = kH = 1.
double ciede2000(const Lab& a, const Lab& b);

std::string hex_of(EncodedSrgb rgb);                                ///< "#3f6f7c"
std::optional<EncodedSrgb> encoded_from_hex(std::string_view hex);  ///< "#3f6f7c" or "#3F6F7C"; else empty

}  // namespace foreslice::colour
