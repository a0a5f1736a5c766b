// How a maker states a dose, and what it comes to in grams per kilogram of oils.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "colour/pigment.h"

namespace foreslice::colour {

inline constexpr double kg_per_pound = 0.45359237;  ///< exact

enum class DoseUnit {
    g_per_kg_oils,
    g_per_kg_batter,
    percent_of_batter,
    teaspoons_per_pound_oils,  ///< level US teaspoons of dry powder
    drops_per_kg_oils          ///< of a dispersion
};
inline constexpr std::array<DoseUnit, 5> all_dose_units{
    DoseUnit::g_per_kg_oils, DoseUnit::g_per_kg_batter, DoseUnit::percent_of_batter,
    DoseUnit::teaspoons_per_pound_oils, DoseUnit::drops_per_kg_oils};
/// The key in a design file: "g_per_kg_oils", "g_per_kg_batter", "percent_of_batter",
/// "teaspoons_per_pound_oils", "drops_per_kg_oils".
std::string_view key_of(DoseUnit unit);

/// What a powder was stirred into before it went into the batter.
enum class Carrier { none, oil, water, glycerin };
inline constexpr std::array<Carrier, 4> all_carriers{Carrier::none, Carrier::oil, Carrier::water,
                                                     Carrier::glycerin};
std::string_view name_of(Carrier carrier);  ///< "none", "oil", "water", "glycerin"

struct Dispersion {
    Carrier carrier = Carrier::oil;  ///< none: stirred in dry
    double parts_of_carrier = 3;     ///< by mass to one of powder, so 3 is "1:3"; 0.2..50
    double drops_per_ml = 20;        ///< 5..60; 20 is the usual dropper, common practice
    friend bool operator==(const Dispersion&, const Dispersion&) = default;
};

/// Grams of powder in one drop: the volume of a drop, the density of the dispersion (no change of volume on
/// mixing; oil 0.92, water 1.00, glycerin 1.26 g/cm3, handbook values) and the share of powder in it.
double powder_g_per_drop(const Colourant& colourant, const Dispersion& dispersion);

/// `amount` of `unit` in g per kg of oils. `batter_kg_per_kg_oils` is what a kg of oils becomes with lye and
/// fragrance (about 1.43). Teaspoons go by Colourant::gram_per_teaspoon.
double g_per_kg_oils_from(double amount, DoseUnit unit, const Colourant& colourant,
                          const Dispersion& dispersion, double batter_kg_per_kg_oils);
/// The other way round.
double amount_in(DoseUnit unit, double g_per_kg_oils, const Colourant& colourant,
                 const Dispersion& dispersion, double batter_kg_per_kg_oils);

}  // namespace foreslice::colour
