// The same bar under another lamp and to another eye.
#pragma once

#include <array>
#include <string_view>

#include "colour/colorimetry.h"
#include "colour/spectrum.h"

namespace foreslice::colour {

/// What the bar looks like on an sRGB screen to somebody adapted to `illuminant` (Bradford to D65), in gamut.
LinearSrgb seen_under(const Spectrum& reflectance, Illuminant illuminant,
                      Observer observer = Observer::cie1931_2deg);

/// dE00 between a colour under `reference` and the same colour under `test` for an eye adapted to each lamp:
/// how much a bar changes from window to shop. A colour inconstancy index in the manner of CMCCON02 (M. R.
/// Luo, C. Li, R. W. G. Hunt, B. Rigg, K. J. Smith 2003, from memory) with Bradford's adaptation to D65; 0
/// for a grey.
double colour_shift(const Spectrum& reflectance, Illuminant reference, Illuminant test,
                    Observer observer = Observer::cie1931_2deg);

/// dE00 between two bars that are seen together under a lamp, for an eye adapted to it (Bradford to D65).
double contrast_under(const Spectrum& one, const Spectrum& other, Illuminant illuminant,
                      Observer observer = Observer::cie1931_2deg);

/// Special metamerism index, change of illuminant (CIE 15:2004 section 9.2, from memory): dE00 of a pair
/// under `test`, after the sample's tristimulus values were scaled so that the pair agrees under `reference`.
/// 0 for equal spectra and for a pair that differs by one factor.
double metamerism_index(const Spectrum& sample, const Spectrum& standard, Illuminant reference,
                        Illuminant test, Observer observer = Observer::cie1931_2deg);

/// Red-weak (no long-wave cones), green-weak (no middle-wave cones), blue-weak (no short-wave cones).
enum class Vision { usual, protanopia, deuteranopia, tritanopia };
inline constexpr std::array<Vision, 4> all_visions{Vision::usual, Vision::protanopia, Vision::deuteranopia,
                                                   Vision::tritanopia};
std::string_view name_of(Vision vision);
/// How an eye of this kind sees a colour, as a colour for the usual eye; clamped to the sRGB gamut.
/// G. M. Machado, M. M. Oliveira, L. A. F. Fernandes: A physiologically-based model for simulation of color
/// vision deficiency. IEEE TVCG 15(6), 2009; their matrices for severity 1.
LinearSrgb seen_with(Vision vision, const LinearSrgb& rgb);

}  // namespace foreslice::colour
