// From a wanted colour to doses: which colourants and how much white come nearest to it.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "colour/ageing.h"
#include "colour/pigment.h"

namespace foreslice::colour {

struct MatchLimits {
    std::size_t most_colourants = 3;       ///< besides the white, 0..4
    double most_total_g_per_kg_oils = 30;  ///< all powders together; > 0
    double most_price_per_kg_oils =
        0;                             ///< in the library's money; 0: any. Colourants without a price are out
    std::vector<std::string> only;     ///< ids; empty: all that keep their colour in soap
    std::vector<std::string> without;  ///< ids
    std::string white = "titanium-dioxide";  ///< id; empty: no white
    std::size_t recipes = 5;                 ///< how many to give, different in their colourants
};

struct Recipe {
    std::vector<Dose> doses;  ///< colourants by falling dose, the white last; doses above zero
    PortionColour colour;
    double de00 = 0;  ///< from the target, D65
    double metamerism =
        0;  ///< greatest index under A, LED-B3, FL11 against the target's smoothest reflectance
    double total_g_per_kg_oils = 0;
    double price_per_kg_oils = 0;  ///< of what has a price
};

struct Match {
    std::vector<Recipe> recipes;  ///< best first by dE00, then metamerism and dose; never empty
    bool reachable = false;       ///< the first is within `reachable_de00`
};
inline constexpr double reachable_de00 = 1;

/// Does this colourant keep its colour in soap: no bleeding, little lost in lye, half-life of a year or more.
bool keeps_colour(const Colourant& colourant);

/// Bounded Gauss-Newton over ever larger sets of colourants finds candidates; NLopt's SLSQP (D. Kraft 1988)
/// finishes them on dE00 under all limits. Deterministic. Throws InputError for unknown ids or an empty
/// choice.
Match match(const ColourantLibrary& library, const BarState& state, EncodedSrgb target,
            const MatchLimits& limits);

}  // namespace foreslice::colour
