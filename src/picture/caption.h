// The words that go with a picture: numbers as people write them, what was poured and how the wire went.
#pragma once

#include <array>
#include <string>

#include "design/design.h"

namespace foreslice::picture {

/// Every fixed word of the plates, so that one test can see that the typeface has their letters.
namespace words {
inline constexpr const char* legend_head = "Portions, top to bottom as poured";
inline constexpr const char* no_colourant = "no colourant";
inline constexpr const char* sifted_line = "sifted line";
inline constexpr const char* glitter = "strewn over the top";
inline constexpr const char* strewn = "seeds strewn over the top";
inline constexpr const char* stirred_in = "stirred in";
inline constexpr const char* embed = "embed";
inline constexpr const char* dose_units = "doses per kg and per lb of the oils in the portion";
inline constexpr const char* grams = " g/kg";
inline constexpr const char* teaspoons = " tsp/lb";
inline constexpr const char* as_poured = "as poured, before the wire";
inline constexpr const char* not_converged = "the flow did not reach its tolerance here";
inline constexpr const char* colourway_note =
    "as a D65 screen shows it; lamps: how far the colour moves from daylight for an adapted eye, in dE00";
inline constexpr const char* outside_srgb = "outside sRGB";
inline constexpr const char* lengthwise =
    "the loaf cut lengthwise through the middle, with the cuts of the bars";
inline constexpr const char* near_arms = "end bar: the arms of the wire ran nearby";
inline constexpr const char* trimmed_end = "trimmed; the arms of the wire ran here";
inline constexpr std::array all{legend_head, no_colourant, sifted_line,   dose_units,     grams,
                                teaspoons,   as_poured,    not_converged, colourway_note, outside_srgb,
                                lengthwise,  near_arms,    trimmed_end,   glitter,        strewn,
                                stirred_in,  embed};
}  // namespace words

/// A number with so many significant digits, no exponent, no trailing zeros: 0.684 -> "0.68" (2 digits).
std::string short_number(double value, int significant);
/// "A", "B", ... "Z", "AA", "AB": what people call the n-th of many (0 is A).
std::string label_of(std::size_t index);
/// "light trace", or the figures: "K 12 Pa·sⁿ, n 0.5, yield stress 30 Pa".
std::string batter_words(const design::Design& design);
/// The same where room is short: of figures only the yield stress, or the viscosity of a Newtonian batter.
std::string short_batter_words(const design::Design& design);
/// "free fall, hills, marbled": what there is besides level layers; empty for level layers alone.
std::string pour_words(const design::Design& design);
/// "heaped on, drawn up to a crest with a spatula": what was done to the top; empty when nothing was.
std::string top_words(const design::Design& design);
/// "7 passes of a 6 mm wire", "2 free strokes of a 5 mm wire"; "no wire" for a design without strokes.
std::string wire_words(const design::Design& design);

}  // namespace foreslice::picture
