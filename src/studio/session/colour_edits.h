// What the colour panels do to a design, as pure functions like those of edits.h.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "colour/dose_units.h"
#include "colour/pigment.h"
#include "design/design.h"

namespace foreslice::studio {

/// The white of a portion, or one of its doses.
using DosePlace = std::optional<std::size_t>;  ///< empty: the white

/// The portion's doses give way to those of a recipe; the first white among them becomes its white.
design::Design with_recipe(design::Design design, std::size_t portion,
                           const std::vector<colour::Dose>& recipe);
/// One dose and the white together, in grams per kg of oils.
design::Design with_dose_and_white(design::Design design, std::size_t portion, std::size_t dose,
                                   double g_per_kg_oils, double white_g_per_kg_oils);
/// A dose in any unit, kept as it is stated; drops get a dispersion of 1:3 in oil when none is said.
design::Design with_stated_dose(design::Design design, std::size_t portion, DosePlace dose,
                                colour::DoseUnit unit, double amount);

/// What the drops of a portion are of: that of its first dose in drops, else 1:3 in oil.
colour::Dispersion dispersion_of(const design::Portion& portion);
/// All drops of the portion are of this from now on; how many of them stays.
design::Design with_dispersion(design::Design design, std::size_t portion,
                               const colour::Dispersion& dispersion);

}  // namespace foreslice::studio
