#include "studio/session/colour_edits.h"

#include <algorithm>
#include <utility>

namespace foreslice::studio {

using design::Design;

namespace {

bool in_drops(const design::ColourantDose& dose) {
    return dose.stated && dose.stated->unit == colour::DoseUnit::drops_per_kg_oils;
}

}  // namespace

colour::Dispersion dispersion_of(const design::Portion& portion) {
    for (const auto& dose : portion.doses)
        if (in_drops(dose) && dose.dispersion) return *dose.dispersion;
    if (in_drops(portion.white) && portion.white.dispersion) return *portion.white.dispersion;
    return {};
}

Design with_dispersion(Design design, std::size_t portion, const colour::Dispersion& dispersion) {
    if (portion >= design.portions.size()) return design;
    auto& target = design.portions[portion];
    for (auto& dose : target.doses)
        if (in_drops(dose)) dose.dispersion = dispersion;
    if (in_drops(target.white)) target.white.dispersion = dispersion;
    return design;
}

Design with_recipe(Design design, std::size_t portion, const std::vector<colour::Dose>& recipe) {
    if (portion >= design.portions.size()) return design;
    auto& target = design.portions[portion];
    target.doses.clear();
    target.white = {target.white.colourant};
    bool whitened = false;
    for (const colour::Dose& dose : recipe) {
        design::ColourantDose stated{dose.colourant->id, dose.g_per_kg_oils};
        if (dose.colourant->kind == "white" && !whitened) {
            target.white = std::move(stated);
            whitened = true;
        } else {
            target.doses.push_back(std::move(stated));
        }
    }
    // The unused white must not be one of the doses as well.
    if (!whitened)
        std::erase_if(target.doses,
                      [&](const auto& dose) { return dose.colourant == target.white.colourant; });
    return design;
}

Design with_dose_and_white(Design design, std::size_t portion, std::size_t dose, double g_per_kg_oils,
                           double white_g_per_kg_oils) {
    if (portion >= design.portions.size() || dose >= design.portions[portion].doses.size()) return design;
    auto& target = design.portions[portion];
    target.doses[dose].g_per_kg_oils = g_per_kg_oils;
    target.doses[dose].stated.reset();
    target.white.g_per_kg_oils = white_g_per_kg_oils;
    target.white.stated.reset();
    return design;
}

Design with_stated_dose(Design design, std::size_t portion, DosePlace dose, colour::DoseUnit unit,
                        double amount) {
    if (portion >= design.portions.size()) return design;
    auto& target = design.portions[portion];
    if (dose && *dose >= target.doses.size()) return design;
    design::ColourantDose& stated = dose ? target.doses[*dose] : target.white;
    if (unit == colour::DoseUnit::g_per_kg_oils) {
        stated.g_per_kg_oils = amount;
        stated.stated.reset();
        return design;
    }
    stated.g_per_kg_oils = 0;
    stated.stated = design::StatedDose{unit, amount};
    if (unit == colour::DoseUnit::drops_per_kg_oils && !stated.dispersion)
        stated.dispersion = dispersion_of(target);
    return design;
}

}  // namespace foreslice::studio
