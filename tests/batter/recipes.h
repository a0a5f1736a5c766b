// Recipes and the table of oils that the tests of the batch arithmetic share.
#pragma once

#include <filesystem>

#include "batter/batch.h"

namespace foreslice::testing {

inline const batter::OilsTable& oils_table() {
    static const auto table =
        batter::OilsTable::load(std::filesystem::path(FORESLICE_SOURCE) / "palettes" / "oils.csv");
    return table;
}

/// 40 olive, 25 coconut, 25 palm, 5 high-oleic sunflower, 5 castor; 5 % superfat, 33 % lye, 30 g/kg
/// fragrance.
inline batter::Recipe five_oils() {
    batter::Recipe recipe;
    recipe.oils = {{"olive", 40}, {"coconut", 25}, {"palm", 25}, {"sunflower-high-oleic", 5}, {"castor", 5}};
    recipe.fragrance_g_per_kg_oils = 30;
    return recipe;
}

}  // namespace foreslice::testing
