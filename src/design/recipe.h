// A design as the batch arithmetic sees it: recipe, mould, losses, portions; and the checks that need the
// table of oils.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "batter/batch.h"
#include "batter/split.h"
#include "colour/pigment.h"
#include "design/design.h"
#include "design/validation.h"

namespace foreslice::design {

/// Formula and Base put together. No oils when the design names none.
batter::Recipe recipe_of(const Design& design);
/// Whether the design says what its batter is made of.
bool has_recipe(const Design& design);
/// Sodium hydroxide in the lye, %, as far as the design says it: Base::lye_percent, or what the recipe's
/// water comes to (by oils: with a usual blend, 148.6 g of sodium hydroxide per kg).
std::optional<double> stated_lye_percent(const Design& design);

batter::MouldSpace mould_space_of(const Design& design);
batter::Losses losses_of(const Design& design);
/// Powders as they are stirred in; a dose that does not say how gets three parts of oil from the recipe.
/// Portions without a share are left out.
std::vector<batter::Share> shares_of(const Design& design, const colour::ColourantLibrary& library);

struct BatchPlan {
    batter::Recipe recipe;
    batter::Batch batch;
    batter::Split split;
    double mould_ml = 0;            ///< that is filled, top included
    double top_g = 0;               ///< of it, kept back for the top
    std::vector<Warning> warnings;  ///< places in the design file
};
/// Throws InputError (place in the design file; no file name) for a design without a recipe or with one that
/// cannot be made.
BatchPlan plan_batch(const Design& design, const batter::OilsTable& oils,
                     const colour::ColourantLibrary& library);
/// The same with so many grams of oils instead of a full mould.
BatchPlan plan_batch_of_oils(const Design& design, const batter::OilsTable& oils,
                             const colour::ColourantLibrary& library, double oils_g);

/// Throws InputError for a recipe that cannot be made; nothing for a design without one.
void validate(const Design& design, const batter::OilsTable& oils, const std::string& file_name = "");

}  // namespace foreslice::design
