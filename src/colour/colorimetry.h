// From a reflectance spectrum to numbers a screen and an eye understand. Each colour space is its own type.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "colour/spectrum.h"

namespace foreslice::colour {

/// Daylight, print daylight, incandescent lamp, white LED, three-band fluorescent lamp of shops (CIE FL11).
enum class Illuminant { d65, d50, a, led_b3, fl11 };
inline constexpr std::array<Illuminant, 5> all_illuminants{Illuminant::d65, Illuminant::d50, Illuminant::a,
                                                           Illuminant::led_b3, Illuminant::fl11};
std::string_view name_of(Illuminant illuminant);

/// Small fields (a stripe) are seen as by the first, large ones (a whole face at arm's length) by the second.
enum class Observer { cie1931_2deg, cie1964_10deg };

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

/// White of an illuminant (the sums of the weights in use).
Xyz white_of(Illuminant illuminant, Observer observer = Observer::cie1931_2deg);
/// Tristimulus values of a reflectance (0..1 a band) under an illuminant.
Xyz xyz_of(const Spectrum& reflectance, Illuminant illuminant, Observer observer = Observer::cie1931_2deg);
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
