#include "colour/pigment.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace foreslice::colour {
namespace {

// kg of oils in a litre of batter at 33 % lye: 1000 g of oils in 1428 g of batter of 1.016 g/cm3.
constexpr double oils_kg_per_litre = 0.711;
constexpr double soap_refractive_index = 1.475;
// Stirring by hand leaves flocs in which the powder stands closer than on average. An assumption, common
// practice, no source; it decides at which dose more white stops helping.
constexpr double floc_density = 10;
constexpr double densest_packing = std::numbers::pi / (3 * std::numbers::sqrt2);

double volume_share_in_flocs(const Colourant& colourant, double g_per_kg_oils) {
    return floc_density * g_per_kg_oils * 1e-3 * oils_kg_per_litre / colourant.particle_density_g_per_cm3;
}

double kept_by_crowded(double diameter_um, double volume_share, int lambda_nm) {
    const double clear_um =
        diameter_um * (std::cbrt(densest_packing / std::min(densest_packing, volume_share)) - 1);
    const double lambda_um = lambda_nm * 1e-3 / soap_refractive_index;
    return std::pow(10, -std::pow(10, 0.25 - 3.83 * clear_um / lambda_um));
}

/// The volume share at which more particles add nothing; by golden section, as share times factor has one
/// top.
double saturated_share(double diameter_um, int lambda_nm) {
    constexpr double golden = 0.6180339887498949;
    const auto gain = [&](double share) { return share * kept_by_crowded(diameter_um, share, lambda_nm); };
    double low = 0, high = densest_packing;
    for (int step = 0; step < 40; ++step) {
        const double left = high - golden * (high - low), right = low + golden * (high - low);
        (gain(left) < gain(right) ? low : high) = gain(left) < gain(right) ? left : right;
    }
    return (low + high) / 2;
}

}  // namespace

double crowding_factor(const Colourant& colourant, double g_per_kg_oils, int lambda_nm) {
    const double diameter = colourant.particle_diameter_um;
    if (diameter <= 0 || g_per_kg_oils <= 0) return 1;
    constexpr double surely_rising = 0.05;
    const double share = volume_share_in_flocs(colourant, g_per_kg_oils);
    if (share <= surely_rising) return kept_by_crowded(diameter, share, lambda_nm);
    const double most = saturated_share(diameter, lambda_nm);
    if (share <= most) return kept_by_crowded(diameter, share, lambda_nm);
    return most / share * kept_by_crowded(diameter, most, lambda_nm);
}

Optics mixed(const Optics& base, const std::vector<Dose>& doses) {
    Optics sum = base;
    for (const Dose& dose : doses) {
        if (dose.colourant == nullptr) continue;
        const Optics& unit = dose.colourant->unit;
        const bool crowds = dose.colourant->particle_diameter_um > 0;
        for (std::size_t i = 0; i < band_count; ++i) {
            const double kept =
                crowds ? crowding_factor(*dose.colourant, dose.g_per_kg_oils, lambda_nm(i)) : 1;
            sum.absorption_per_mm[i] += dose.g_per_kg_oils * unit.absorption_per_mm[i];
            sum.scattering_per_mm[i] += kept * dose.g_per_kg_oils * unit.scattering_per_mm[i];
        }
    }
    return sum;
}

PortionColour colour_of_reflectance(const Spectrum& reflectance) {
    PortionColour colour;
    colour.reflectance = reflectance;
    static const Xyz white = white_of(Illuminant::d65);
    colour.xyz = xyz_of(colour.reflectance, Illuminant::d65);
    colour.lab = lab_of(colour.xyz, white);
    const LinearSrgb raw = linear_srgb_of(colour.xyz, white);
    colour.in_gamut = in_gamut(raw);
    colour.linear = gamut_mapped(raw);
    colour.srgb = encoded(colour.linear);
    return colour;
}

PortionColour colour_of(const Optics& optics, const Surface& surface, double thickness_mm) {
    Spectrum reflectance{};
    for (std::size_t i = 0; i < band_count; ++i)
        reflectance[i] =
            saunderson(reflectance_finite(optics.absorption_per_mm[i], optics.scattering_per_mm[i],
                                          thickness_mm, bar_backing_reflectance),
                       surface);
    return colour_of_reflectance(reflectance);
}

double teaspoons_per_pound(const Colourant& colourant, double g_per_kg_oils) {
    constexpr double kg_per_pound = 0.45359237;  // international avoirdupois pound, exact
    return g_per_kg_oils * kg_per_pound / colourant.gram_per_teaspoon;
}

}  // namespace foreslice::colour
