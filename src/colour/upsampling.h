// A plausible reflectance for a colour that is only known as sRGB.
#pragma once

#include "colour/colorimetry.h"
#include "colour/spectrum.h"

namespace foreslice::colour {

/// The reflectance under D65 that has this colour and, among all such, the least squared slope of
/// z = atanh(2 R - 1): always strictly between 0 and 1, and smooth. `rgb` is first clamped to 1e-4..1 - 1e-4,
/// because pure black, pure white and the edges of the gamut have no such reflectance.
/// S. A. Burns: Generating reflectance curves from sRGB triplets (LHTSS), arXiv:1710.05732, 2017.
Spectrum reflectance_from(const LinearSrgb& rgb);

}  // namespace foreslice::colour
