// The words that go with a picture: numbers as people write them, what was poured and how the wire went.
#pragma once

#include <string>

#include "design/design.h"

namespace foreslice::picture {

/// A number with so many significant digits, no exponent, no trailing zeros: 0.684 -> "0.68" (2 digits).
std::string short_number(double value, int significant);
/// "light trace", or the figures: "K 12 Pa·sⁿ, n 0.5, yield stress 30 Pa".
std::string batter_words(const design::Design& design);
/// "7 passes of a 6 mm wire", "2 free strokes of a 5 mm wire"; "no wire" for a design without strokes.
std::string wire_words(const design::Design& design);

}  // namespace foreslice::picture
