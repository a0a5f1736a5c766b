// The bar's own colour, and what time does to all colours: oils, superfat, water, gel; drying, browning,
// fading, ash. No published spectra of soap were found, so every size here is an estimate that a maker's own
// bars replace; each effect names what it rests on, and time comes with a band.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "colour/pigment.h"

namespace foreslice::colour {

/// One oil of the recipe by what it does to the colour of a plain bar.
struct OilTint {
    std::string_view id;    ///< "olive-virgin"; stable key in design files
    std::string_view name;  ///< for people
    std::string_view hex;  ///< a plain cured, ungelled bar of it: estimate by eye, common practice, no source
    double of_percent;     ///< the share of the oils at which `hex` holds; the rest is white
};
const std::vector<OilTint>& oil_tints();
const OilTint* find_oil(std::string_view id);  ///< nullptr when absent

struct OilShare {
    std::string oil;     ///< id of an OilTint
    double percent = 0;  ///< of all oils; the shares add up to 100
    friend bool operator==(const OilShare&, const OilShare&) = default;
};

/// The state in which a library's base is taken to be: cured four weeks, ungelled, 5 % superfat, 33 % lye.
inline constexpr double reference_age_days = 28;

/// All that decides the colour of the bar besides the powders.
struct BarState {
    std::vector<OilShare> oils;  ///< empty: the library's own base
    double superfat_percent = 5;
    double lye_percent = 33;  ///< sodium hydroxide in the lye
    bool gelled = false;
    double vanillin_g_per_kg_oils = 0;     ///< fragrance dose times its vanillin
    double age_days = reference_age_days;  ///< since pouring; 0 is wet batter
    friend bool operator==(const BarState&, const BarState&) = default;
};

/// Where in the likely span: `lightest` and `darkest` bound what a maker may get, they are no certainties.
enum class Likely { middle, lightest, darkest };

/// K and S of the plain bar in this state. With the default state exactly the library's base.
Optics plain_bar(const Optics& library_base, const BarState& state, Likely likely = Likely::middle);
/// Unit optics of a colourant in a bar of this age. Unchanged for one that lasts.
Optics aged_unit(const Colourant& colourant, double age_days, Likely likely = Likely::middle);
/// Bar and doses together.
Optics aged_mix(const Optics& library_base, const BarState& state, const std::vector<Dose>& doses,
                Likely likely = Likely::middle);

struct ColourBand {
    PortionColour middle, lightest, darkest;  ///< lightest.lab.l >= middle.lab.l >= darkest.lab.l
    double spread_de00 = 0;                   ///< between lightest and darkest
};
ColourBand colour_band(const Optics& library_base, const BarState& state, const std::vector<Dose>& doses,
                       double thickness_mm = 25);

/// How thick a bloom of ash (sodium carbonate) the top of such a bar is likely to carry, as scattering times
/// thickness: 0 for wet batter; more ungelled, with weak lye and after weeks. Common practice, no source.
double ash_veil(const BarState& state, Likely likely = Likely::middle);
/// A surface seen through a white veil: a non-absorbing Kubelka-Munk layer over it.
Spectrum under_veil(const Spectrum& reflectance, double veil);

/// kg of batter from a kg of oils: sodium hydroxide 0.1486 kg per kg at no superfat (a usual blend from
/// mid-range saponification values), its water, and fragrance.
double batter_kg_per_kg_oils(double superfat_percent, double lye_percent, double fragrance_g_per_kg_oils);

}  // namespace foreslice::colour
