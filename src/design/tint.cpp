#include "design/tint.h"

#include <cmath>

#include "design/recipe.h"

namespace foreslice::design {

colour::BarState bar_state_of(const Design& design) {
    const Base& base = design.base;
    colour::BarState state;
    state.oils = base.oils;
    state.superfat_percent = base.superfat_percent;
    state.lye_percent = stated_lye_percent(design).value_or(state.lye_percent);
    state.gelled = base.gelled;
    state.vanillin_g_per_kg_oils = base.fragrance_g_per_kg_oils * base.vanillin_percent / 100;
    state.age_days = design.age_days;
    return state;
}

double batter_kg_per_kg_oils(const Design& design) {
    const colour::BarState state = bar_state_of(design);
    return colour::batter_kg_per_kg_oils(state.superfat_percent, state.lye_percent,
                                         design.base.fragrance_g_per_kg_oils);
}

double g_per_kg_oils_of(const ColourantDose& dose, const Design& design,
                        const colour::ColourantLibrary& library) {
    if (!dose.stated) return dose.g_per_kg_oils;
    const colour::Colourant* colourant = library.find(dose.colourant);
    if (colourant == nullptr) return 0;
    return colour::g_per_kg_oils_from(dose.stated->amount, dose.stated->unit, *colourant,
                                      dose.dispersion.value_or(colour::Dispersion{}),
                                      batter_kg_per_kg_oils(design));
}

std::vector<colour::Dose> doses_of(const Portion& portion, const Design& design,
                                   const colour::ColourantLibrary& library) {
    std::vector<colour::Dose> doses;
    const auto add = [&](const ColourantDose& dose) {
        const double grams = g_per_kg_oils_of(dose, design, library);
        const colour::Colourant* colourant = library.find(dose.colourant);
        if (colourant != nullptr && grams > 0) doses.push_back({colourant, grams});
    };
    for (const ColourantDose& dose : portion.doses) add(dose);
    add(portion.white);
    return doses;
}

colour::PortionColour colour_of(const Portion& portion, const Design& design,
                                const colour::ColourantLibrary& library) {
    return colour::colour_of(
        colour::aged_mix(library.base(), bar_state_of(design), doses_of(portion, design, library)), {},
        design.cut.bar_thickness_mm);
}

double top_sparkle_of(const Portion& portion, const Design& design, const colour::ColourantLibrary& library) {
    constexpr double full_at_g_per_kg = 6;  // about a teaspoon per pound of oils; estimate
    double dull = 1;
    for (const colour::Dose& dose : doses_of(portion, design, library))
        dull *= 1 - dose.colourant->sparkle * (1 - std::exp(-dose.g_per_kg_oils / full_at_g_per_kg));
    return 1 - dull;
}

colour::ColourBand colour_band_of(const Portion& portion, const Design& design,
                                  const colour::ColourantLibrary& library) {
    return colour::colour_band(library.base(), bar_state_of(design), doses_of(portion, design, library),
                               design.cut.bar_thickness_mm);
}

}  // namespace foreslice::design
