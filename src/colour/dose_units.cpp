#include "colour/dose_units.h"

namespace foreslice::colour {
namespace {

double density_g_per_ml(Carrier carrier) {
    switch (carrier) {
        case Carrier::water:
            return 1.00;
        case Carrier::glycerin:
            return 1.26;
        case Carrier::none:
        case Carrier::oil:
            break;
    }
    return 0.92;
}

/// g per kg of oils that one of this unit is.
double g_of_one(DoseUnit unit, const Colourant& colourant, const Dispersion& dispersion,
                double batter_kg_per_kg_oils) {
    switch (unit) {
        case DoseUnit::g_per_kg_batter:
            return batter_kg_per_kg_oils;
        case DoseUnit::percent_of_batter:
            return 10 * batter_kg_per_kg_oils;
        case DoseUnit::teaspoons_per_pound_oils:
            return colourant.gram_per_teaspoon / kg_per_pound;
        case DoseUnit::drops_per_kg_oils:
            return powder_g_per_drop(colourant, dispersion);
        case DoseUnit::g_per_kg_oils:
            break;
    }
    return 1;
}

}  // namespace

std::string_view key_of(DoseUnit unit) {
    switch (unit) {
        case DoseUnit::g_per_kg_batter:
            return "g_per_kg_batter";
        case DoseUnit::percent_of_batter:
            return "percent_of_batter";
        case DoseUnit::teaspoons_per_pound_oils:
            return "teaspoons_per_pound_oils";
        case DoseUnit::drops_per_kg_oils:
            return "drops_per_kg_oils";
        case DoseUnit::g_per_kg_oils:
            break;
    }
    return "g_per_kg_oils";
}

std::string_view name_of(Carrier carrier) {
    switch (carrier) {
        case Carrier::none:
            return "none";
        case Carrier::water:
            return "water";
        case Carrier::glycerin:
            return "glycerin";
        case Carrier::oil:
            break;
    }
    return "oil";
}

double powder_g_per_drop(const Colourant& colourant, const Dispersion& dispersion) {
    const double parts = dispersion.parts_of_carrier;
    const double ml_for_one_gram =
        1 / colourant.particle_density_g_per_cm3 + parts / density_g_per_ml(dispersion.carrier);
    return 1 / (dispersion.drops_per_ml * ml_for_one_gram);
}

double g_per_kg_oils_from(double amount, DoseUnit unit, const Colourant& colourant,
                          const Dispersion& dispersion, double batter_kg_per_kg_oils) {
    return amount * g_of_one(unit, colourant, dispersion, batter_kg_per_kg_oils);
}

double amount_in(DoseUnit unit, double g_per_kg_oils, const Colourant& colourant,
                 const Dispersion& dispersion, double batter_kg_per_kg_oils) {
    return g_per_kg_oils / g_of_one(unit, colourant, dispersion, batter_kg_per_kg_oils);
}

}  // namespace foreslice::colour
