// One batter into jugs: how much each gets, which powders, and what liquid they are stirred into. Powders are
// given by weight and spoon only; what colour they make is not this room's business.
#pragma once

#include <string>
#include <vector>

#include "batter/batch.h"

namespace foreslice::batter {

enum class PowderLiquid { none, oil, water, glycerin };

/// A powder for one portion.
struct Powder {
    std::string id, name;
    double g_per_kg_oils = 0;  ///< of the oils in the portion
    double g_per_teaspoon = 4;
    PowderLiquid liquid = PowderLiquid::oil;
    double parts_of_liquid = 3;  ///< by mass to one of powder
};

struct Share {
    std::string id, name;
    double percent = 0;  ///< of the batter
    std::vector<Powder> powders;
};

struct PowderWeight {
    std::string id, name;
    double g = 0;
    double teaspoons = 0;  ///< level, US
    PowderLiquid liquid = PowderLiquid::none;
    double liquid_g = 0;
};

struct Jug {
    std::string id, name;
    double percent = 0;
    double batter_g = 0;  ///< its share of the batter, liquids of the powders included that are held back
    double oils_g = 0;    ///< its share of the oils
    std::vector<PowderWeight> powders;
    double oil_g = 0, water_g = 0, glycerin_g = 0;  ///< that its powders are stirred into
    double plain_g = 0;           ///< to pour from the pot: batter_g less the oil and water of its powders
    double fragrance_g = 0;       ///< its share, if the jugs are scented one by one
    double full_g = 0;            ///< plain batter, liquids and powders
    double full_ml = 0;           ///< without fragrance added by the jug
    double jug_ml = 0;            ///< a size that leaves room to stir
    double superfat_percent = 0;  ///< of this jug, its own liquids counted
    double lye_percent = 0;
};

struct Split {
    std::vector<Jug> jugs;
    double pot_g = 0;                ///< plain batter to make: all jugs' plain_g
    double oil_held_back_g = 0;      ///< to take out of the recipe's oils for the powders
    double water_held_back_g = 0;    ///< to take out of the lye's water
    std::string oil_held_back_from;  ///< id of the oil: the recipe's liquid oil with the largest share
};

/// Shares are taken as parts of their sum. Throws InputError when the powders need more oil or water than the
/// recipe can give: the oil must leave at least half of the oil it is taken from, the lye's water at least as
/// much water as alkali.
Split split_of(const Batch& batch, const std::vector<Share>& shares, double density_kg_per_m3);

/// The smallest usual jug, mL, that is at most two thirds full with `ml` (room to stir; common practice, no
/// source): 100, 250, 500, 750, 1000, 1500, 2000, 3000, 5000, 10000, or the next multiple of 5000.
double jug_size_ml(double ml);

/// Level teaspoons as spoons can measure them: quarters down to an eighth, "2 ¼"; "a pinch" below.
std::string spoon_words(double teaspoons);

/// A strong dispersion of one powder for many jugs, weighed out instead of the dry powder.
struct Masterbatch {
    std::string id, name;
    PowderLiquid liquid = PowderLiquid::oil;
    double parts_of_liquid = 3;
    double powder_g = 0, liquid_g = 0;  ///< to make, the spare included
    struct Dose {
        std::string soap, jug;  ///< names for people
        double powder_g = 0;
        double paste_g = 0;  ///< of the dispersion
    };
    std::vector<Dose> doses;
    double paste_needed_g = 0;  ///< all doses together
};
struct NamedSplit {
    std::string soap;
    const Split* split = nullptr;
};
/// One per powder and liquid in the order of first use; dry powders stay out. `spare_percent` is made on top,
/// for what sticks to the cup, and at least `least_g` of each, so that little powder can be weighed well.
std::vector<Masterbatch> masterbatches_of(const std::vector<NamedSplit>& soaps, double spare_percent = 10,
                                          double least_g = 10);

std::string_view name_of(PowderLiquid liquid);  ///< "dry", "oil", "water", "glycerin"

}  // namespace foreslice::batter
