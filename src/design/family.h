// What can be said about the designs of a collection together: colours that come back, ranges of lightness
// and chroma, tints that could be made in one go, pigments to order.
#pragma once

#include <string>
#include <vector>

#include "colour/pigment.h"
#include "design/design.h"

namespace foreslice::design {

/// Colours of one name differ visibly from here on: a trained eye sees about 1 side by side (common practice,
/// no source), batches of one soap differ by about 2.
inline constexpr double drifted_de00 = 2;
/// Doses that differ by no more (each, relative) count as one recipe.
inline constexpr double same_recipe_share = 0.02;

struct FamilyMember {
    Design design;
    int loaves = 1;
};

/// A portion of one id that stands in several designs.
struct RecurringColour {
    struct Use {
        std::size_t design = 0, portion = 0;  ///< indices
        colour::Lab lab;
        colour::EncodedSrgb srgb;
    };
    std::string id, name;
    std::vector<Use> uses;
    double most_de00 = 0;                        ///< between any two
    std::size_t farthest_a = 0, farthest_b = 0;  ///< those two, in `uses`
    bool drifted() const { return most_de00 > drifted_de00; }
};

struct ToneRange {
    double least_lightness = 100, most_lightness = 0;  ///< L*
    double least_chroma = 1e9, most_chroma = 0;        ///< C*ab
    void take(const colour::Lab& lab);
};

/// Portions of several soaps with the same recipe.
struct Masterbatch {
    std::string name;  ///< of the first portion
    struct Part {
        std::size_t design = 0, portion = 0;
        double batter_g = 0;  ///< of all its loaves
    };
    std::vector<Part> parts;
    double batter_g = 0;
    struct Powder {
        std::string colourant;  ///< name
        double g = 0;
    };
    std::vector<Powder> powders;
};

struct PigmentNeed {
    std::string id, name;
    double needed_g = 0;
    double to_order_g = 0;  ///< with the margin, rounded up to whole grams
    std::vector<double> of_design_g;
};

struct FamilyReport {
    std::vector<RecurringColour> recurring;  ///< those that drifted first
    ToneRange all;
    std::vector<ToneRange> of_design;
    std::vector<Masterbatch> masterbatches;  ///< the largest first
    std::vector<PigmentNeed> pigments;       ///< the largest first
    double margin_percent = 0;
    bool has_sifted_lines = false;  ///< whose powder is not counted
};

/// The designs must be ones that validate() accepts with this library.
FamilyReport family_report(const std::vector<FamilyMember>& family, const colour::ColourantLibrary& library,
                           double margin_percent);

/// Batter (g) to make for one loaf: what fills the mould and what stays in the jugs.
double batter_of_loaf_g(const Design& design);
/// Oils (g) in one portion of one loaf.
double oils_of_portion_g(const Design& design, const Portion& portion);

}  // namespace foreslice::design
