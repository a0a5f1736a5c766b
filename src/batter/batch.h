// From mould and recipe to what is weighed: oils, alkali, water, additives, and how sure the superfat is.
#pragma once

#include <string>
#include <vector>

#include "batter/oils_table.h"
#include "batter/recipe.h"

namespace foreslice::batter {

/// g/mol from the IUPAC standard atomic weights of 2021 (abridged): H 1.008, O 15.999, Na 22.990, K 39.098.
inline constexpr double naoh_g_per_mol = 22.990 + 15.999 + 1.008;
inline constexpr double koh_g_per_mol = 39.098 + 15.999 + 1.008;
/// Grams of sodium hydroxide that do what a gram of potassium hydroxide does: 0.7129.
inline constexpr double naoh_per_koh = naoh_g_per_mol / koh_g_per_mol;

/// The room that batter takes up. Lengths in mm, of the bare mould's inside.
struct MouldSpace {
    double length_mm = 0, width_mm = 0, fill_mm = 0;  ///< all > 0
    double liner_mm = 0;          ///< thickness of a liner at walls and floor, less than half the width
    double top_allowance_mm = 0;  ///< mean height of batter above the fill, for a dome or a textured top
    int moulds = 1;               ///< alike, >= 1
};
/// Of all moulds together, mL. The fill is measured from the liner's floor. Throws InputError for a mould
/// without room.
double batter_ml(const MouldSpace& space);
/// The part of it that is above the fill, mL.
double top_ml(const MouldSpace& space);

/// What does not end up in the mould.
struct Losses {
    int jugs = 0;
    double jug_residue_g = 0;  ///< stays in each jug, >= 0
    double spare_percent = 0;  ///< of the batter in the mould, 0..50
};
/// Batter to make, g, for `ml` in the mould at a density of `kg_per_m3` (500..1500).
double batter_g(double ml, double kg_per_m3, const Losses& losses);

struct OilWeight {
    const Oil* oil = nullptr;  ///< in the table, which must outlive this
    double g = 0;
    double percent = 0;      ///< of all oils
    Span koh_mg_per_g;       ///< the table's range; the certificate's figure twice when there is one
    bool certified = false;  ///< the figure comes from the supplier's certificate
    double used() const { return koh_mg_per_g.middle(); }
};

struct Added {
    std::string id;  ///< of the kind of additive, or the name of a liquid; for prices and stock
    std::string name;
    double g = 0;
    Into into = Into::batter;
    std::string how;  ///< a sentence for the bench; may be empty
};

struct Batch {
    double batter_g = 0;  ///< everything below together; powders for colour come on top
    double oils_g = 0;
    std::vector<OilWeight> oils;
    double naoh_g = 0, koh_g = 0;            ///< as weighed, impurity included
    double pure_naoh_g = 0, pure_koh_g = 0;  ///< of them
    double liquid_g = 0;                     ///< water and all that replaces it
    double water_g = 0;                      ///< plain water of that
    std::vector<Added> liquids;              ///< what replaces water
    std::vector<Added> additives;
    double fragrance_g = 0;
    double lye_percent = 0;       ///< pure alkali in alkali and liquid together
    double parts_per_alkali = 0;  ///< liquid to alkali as weighed
    double percent_of_oils = 0;   ///< liquid to oils
    double superfat_percent = 0;  ///< with the figures used
    /// What it may be in truth: all saponification values at the low end of their ranges, and at the high
    /// end.
    Span superfat_range_percent;
    Span iodine;  ///< of the blend; oils without a value left out of the mean
    double alkali_g() const { return naoh_g + koh_g; }
};

/// Weights that add up to `batter_g` (> 0). Throws InputError (with a place inside the recipe, such as
/// "/oils/1/oil", and no file) for a recipe that cannot be made: no oils, unknown oils, shares that do not
/// add up, amounts, purities, superfat or lye out of their ranges, too little water to dissolve the alkali.
Batch batch_of_batter(const Recipe& recipe, const OilsTable& table, double batter_g);
/// The same for a given mass of oils (g, > 0).
Batch batch_of_oils(const Recipe& recipe, const OilsTable& table, double oils_g);
/// Grams of oils that a recipe by weight names; 0 for one by percent.
double stated_oils_g(const Recipe& recipe);

/// Superfat (%) that so much pure alkali really leaves if the oils need `koh_need_g` of potassium hydroxide.
double superfat_percent_for(double pure_naoh_g, double pure_koh_g, double koh_need_g);

/// Something that can be made but deserves a second look.
struct Caution {
    std::string place;  ///< inside the recipe, "/superfat_percent"
    std::string sentence;
    std::string cure;
};
std::vector<Caution> cautions_of(const Recipe& recipe, const Batch& batch);

/// Limits that hold for every recipe, also one that was never in a file.
inline constexpr Span superfat_limits_percent{0, 30};
inline constexpr Span lye_limits_percent{20, 50};
inline constexpr Span naoh_purity_limits_percent{80, 100};
inline constexpr Span koh_purity_limits_percent{70, 100};
inline constexpr Span fragrance_limits_g_per_kg{0, 100};
inline constexpr Span density_limits_kg_per_m3{500, 1500};

}  // namespace foreslice::batter
