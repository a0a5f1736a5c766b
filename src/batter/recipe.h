// What a maker writes down before weighing: oils, alkali, water, what replaces water, what else goes in.
// Plain values; batch.h turns them into weights.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace foreslice::batter {

/// Whether the amounts of a recipe's oils are percent (they add up to 100) or grams.
enum class OilBasis { percent, grams };

struct RecipeOil {
    std::string oil;    ///< id in the table of oils
    double amount = 0;  ///< percent or grams, > 0
    /// Saponification value on the supplier's certificate for this lot, mg KOH per g; counts instead of the
    /// table's range.
    std::optional<double> certificate_koh_mg_per_g{};
    friend bool operator==(const RecipeOil&, const RecipeOil&) = default;
};

struct Alkali {
    /// How much of the saponification potassium hydroxide does, 0..100, by equivalents; sodium hydroxide does
    /// the rest.
    double koh_percent = 0;
    double naoh_purity_percent = 100;  ///< by mass, 80..100; 100 errs on the safe side when it is not known
    double koh_purity_percent = 100;   ///< 70..100; flakes sold as 90 % are usual
    friend bool operator==(const Alkali&, const Alkali&) = default;
};

struct Water {
    enum class By {
        lye_percent,       ///< pure alkali in the lye, % of its mass
        parts_per_alkali,  ///< grams of water to a gram of alkali as weighed
        percent_of_oils    ///< grams of water to 100 g of oils
    };
    By by = By::lye_percent;
    double amount = 33;
    friend bool operator==(const Water&, const Water&) = default;
};

/// Where something goes in.
enum class Into { lye_water, oils, batter };
std::string_view name_of(Into into);  ///< "lye-water", "oils", "batter"
inline constexpr std::array all_into{Into::lye_water, Into::oils, Into::batter};

/// A liquid taken instead of water, gram for gram.
struct Liquid {
    std::string name;             ///< for people: "oat milk"
    double percent_of_water = 0;  ///< of all water, > 0..100; all liquids together at most 100
    Into into = Into::lye_water;  ///< or at trace, into the batter
    friend bool operator==(const Liquid&, const Liquid&) = default;
};

enum class AdditiveUnit {
    percent_of_oils,
    percent_of_water,
    percent_of_batter,
    g_per_kg_oils,
    teaspoons_per_pound_oils  ///< level US teaspoons
};
inline constexpr std::array all_additive_units{AdditiveUnit::percent_of_oils, AdditiveUnit::percent_of_water,
                                               AdditiveUnit::percent_of_batter, AdditiveUnit::g_per_kg_oils,
                                               AdditiveUnit::teaspoons_per_pound_oils};
/// The key in a design file, as the enumerator is spelt.
std::string_view key_of(AdditiveUnit unit);
/// The most that is taken for an amount in a unit; the least is 0.
double most_of(AdditiveUnit unit);

/// Something known of the trade. Doses are common practice, no source.
struct AdditiveKind {
    std::string_view id;    ///< "sodium-lactate"
    std::string_view name;  ///< for people
    AdditiveUnit usual_unit;
    double usual_amount;
    Into into;
    double g_per_teaspoon;          ///< level; rough, weigh your own
    double most_percent_of_oils;    ///< above it a warning is due
    std::string_view why_not_more;  ///< what too much of it does
    std::string_view how;           ///< one sentence for the bench
};
const std::vector<AdditiveKind>& additive_kinds();
const AdditiveKind* find_additive(std::string_view id);  ///< nullptr when absent

struct Additive {
    std::string what;  ///< id of an AdditiveKind, or "other"
    std::string name;  ///< shown instead of the kind's; needed for "other"
    double amount = 0;
    AdditiveUnit unit = AdditiveUnit::percent_of_oils;
    std::optional<Into> into{};  ///< empty: the kind's; batter for "other"
    friend bool operator==(const Additive&, const Additive&) = default;
};
std::string name_of(const Additive& additive);
Into into_of(const Additive& additive);

struct Recipe {
    OilBasis basis = OilBasis::percent;
    std::vector<RecipeOil> oils;
    Alkali alkali;
    Water water;
    double superfat_percent = 5;  ///< lye discount: the share of the alkali left out, 0..30
    std::vector<Liquid> liquids;
    std::vector<Additive> additives;
    double fragrance_g_per_kg_oils = 0;  ///< 0..100
    /// The most that the supplier's document allows, % of the finished product; typed by the maker.
    std::optional<double> fragrance_limit_percent{};
    friend bool operator==(const Recipe&, const Recipe&) = default;
};

}  // namespace foreslice::batter
