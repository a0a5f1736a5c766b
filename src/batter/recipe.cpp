#include "batter/recipe.h"

#include <algorithm>

namespace foreslice::batter {

std::string_view name_of(Into into) {
    switch (into) {
        case Into::lye_water:
            return "lye-water";
        case Into::oils:
            return "oils";
        case Into::batter:
            break;
    }
    return "batter";
}

std::string_view key_of(AdditiveUnit unit) {
    switch (unit) {
        case AdditiveUnit::percent_of_water:
            return "percent_of_water";
        case AdditiveUnit::percent_of_batter:
            return "percent_of_batter";
        case AdditiveUnit::g_per_kg_oils:
            return "g_per_kg_oils";
        case AdditiveUnit::teaspoons_per_pound_oils:
            return "teaspoons_per_pound_oils";
        case AdditiveUnit::percent_of_oils:
            break;
    }
    return "percent_of_oils";
}

double most_of(AdditiveUnit unit) {
    switch (unit) {
        case AdditiveUnit::percent_of_batter:
            return 30;
        case AdditiveUnit::g_per_kg_oils:
            return 1000;
        case AdditiveUnit::teaspoons_per_pound_oils:
            return 50;
        case AdditiveUnit::percent_of_oils:
        case AdditiveUnit::percent_of_water:
            break;
    }
    return 100;
}

const std::vector<AdditiveKind>& additive_kinds() {
    using enum AdditiveUnit;
    // Names, doses and teaspoons: common practice, no source; kaolin 5 g to a tablespoon from a formulators'
    // public page (read).
    static const std::vector<AdditiveKind> kinds{
        {"sodium-lactate", "sodium lactate, 60 % solution", percent_of_oils, 2, Into::lye_water, 6.2, 4,
         "the bar turns brittle and crumbles at the cut", "Stir it into the lye once that has cooled."},
        {"sugar", "sugar", teaspoons_per_pound_oils, 1, Into::lye_water, 4.2, 3,
         "the loaf heats up and may crack", "Dissolve it in the water before the lye goes in."},
        {"salt", "salt", teaspoons_per_pound_oils, 1, Into::lye_water, 6, 5,
         "the batter thickens at once and lather falls", "Dissolve it in the water before the lye goes in."},
        {"kaolin", "kaolin clay", teaspoons_per_pound_oils, 1, Into::batter, 1.7, 4,
         "the batter thickens and the bar may crack", "Wet it with as much water, taken from the lye's."},
        {"bentonite", "bentonite clay", teaspoons_per_pound_oils, 1, Into::batter, 4, 4,
         "the batter thickens and the bar may crack",
         "Wet it with three times as much water from the lye's."},
        {"sodium-citrate", "sodium citrate", percent_of_oils, 1.5, Into::lye_water, 4.5, 3,
         "more brings nothing but bloom on the bars", "Dissolve it in the water before the lye goes in."},
        {"honey", "honey", teaspoons_per_pound_oils, 1, Into::batter, 7, 3, "the loaf heats up and may crack",
         "Thin it with a little warm water and stir it in at trace."},
        {"colloidal-oatmeal", "colloidal oatmeal", teaspoons_per_pound_oils, 1, Into::batter, 2.2, 4,
         "the bar turns scratchy", "Stir it in at trace, without lumps."},
        {"silk", "silk fibre", percent_of_oils, 0.05, Into::lye_water, 0.3, 0.3, "it does not dissolve",
         "Tease it apart and dissolve it in the hot lye."}};
    return kinds;
}

const AdditiveKind* find_additive(std::string_view id) {
    const auto& kinds = additive_kinds();
    const auto found = std::find_if(kinds.begin(), kinds.end(), [id](const auto& k) { return k.id == id; });
    return found == kinds.end() ? nullptr : &*found;
}

std::string name_of(const Additive& additive) {
    if (!additive.name.empty()) return additive.name;
    const AdditiveKind* kind = find_additive(additive.what);
    return kind == nullptr ? additive.what : std::string(kind->name);
}

Into into_of(const Additive& additive) {
    if (additive.into) return *additive.into;
    const AdditiveKind* kind = find_additive(additive.what);
    return kind == nullptr ? Into::batter : kind->into;
}

}  // namespace foreslice::batter
