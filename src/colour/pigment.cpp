#include "colour/pigment.h"

namespace foreslice::colour {

Optics mixed(const Optics& base, const std::vector<Dose>& doses) {
    Optics sum = base;
    for (const Dose& dose : doses) {
        if (dose.colourant == nullptr) continue;
        const Optics& unit = dose.colourant->unit;
        for (std::size_t i = 0; i < band_count; ++i) {
            sum.absorption_per_mm[i] += dose.g_per_kg_oils * unit.absorption_per_mm[i];
            sum.scattering_per_mm[i] += dose.g_per_kg_oils * unit.scattering_per_mm[i];
        }
    }
    return sum;
}

PortionColour colour_of(const Optics& optics, const Surface& surface, double thickness_mm) {
    PortionColour colour;
    for (std::size_t i = 0; i < band_count; ++i)
        colour.reflectance[i] =
            saunderson(reflectance_finite(optics.absorption_per_mm[i], optics.scattering_per_mm[i],
                                          thickness_mm, bar_backing_reflectance),
                       surface);
    static const Xyz white = white_of(Illuminant::d65);
    colour.xyz = xyz_of(colour.reflectance, Illuminant::d65);
    colour.lab = lab_of(colour.xyz, white);
    const LinearSrgb raw = linear_srgb_of(colour.xyz, white);
    colour.in_gamut = in_gamut(raw);
    colour.linear = gamut_mapped(raw);
    colour.srgb = encoded(colour.linear);
    return colour;
}

double teaspoons_per_pound(const Colourant& colourant, double g_per_kg_oils) {
    constexpr double kg_per_pound = 0.45359237;  // international avoirdupois pound, exact
    return g_per_kg_oils * kg_per_pound / colourant.gram_per_teaspoon;
}

}  // namespace foreslice::colour
