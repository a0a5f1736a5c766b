// Between 8-bit sRGB codes and linear light, by tables: averages and blends of light are taken linearly.
#pragma once

#include <array>
#include <cstdint>

namespace foreslice::picture {

/// Linear light (0..1) of an 8-bit sRGB code (IEC 61966-2-1).
float linear_of(std::uint8_t code);

/// The 8-bit sRGB code nearest to a linear value; below 0 and above 1 are clamped. Exact: a table of guesses
/// is set right by one comparison with the midpoint between two codes.
std::uint8_t code_of(float linear);

}  // namespace foreslice::picture
