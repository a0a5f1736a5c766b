// What a maker can do to the way a pour goes in, each as a pure function from one document to the next.
// Indices are checked: an index that is not there returns the design unchanged.
#pragma once

#include <cstddef>

#include "design/design.h"

namespace foreslice::studio {

/// First of the pours that go in together with one.
std::size_t first_together(const design::Design& design, std::size_t pour);
/// Gives a pour another manner, and those that go in together with it.
design::Design with_manner(design::Design design, std::size_t pour, design::PourManner manner);
/// Pours it together with the one before it, in that one's manner, or on its own again.
design::Design with_togetherness(design::Design design, std::size_t pour, bool together);
/// A line of powder over a pour, or none.
design::Design with_line(design::Design design, std::size_t pour, const std::string& colourant);
/// Spreads the places of a falling stream evenly over the mould's width; one is the middle.
design::Design with_fall_places(design::Design design, std::size_t pour, std::size_t places);
/// After pours were moved or taken out: ends what no longer goes together, and lets strokes wait for no more
/// pours than there are.
design::Design with_pours_mended(design::Design design);

}  // namespace foreslice::studio
