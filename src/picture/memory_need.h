// What pictures will need, added up before the first of them is drawn.
#pragma once

#include <string>

#include "design/design.h"

namespace foreslice::picture {

/// While a face is drawn and packed, per pixel; measured from 20 to 40 px per mm (35 to 37).
inline constexpr double face_bytes_per_px = 40;
/// Per pixel of each face that is kept while the others are drawn, and again on the page; measured on sheets
/// of orders at 20 px per mm (43).
inline constexpr double kept_bytes_per_px = 45;
/// Per pixel of the slices of a loaf, measured at 12 px per mm (28).
inline constexpr double slice_bytes_per_px = 30;
/// The flow of one design and what goes with it (15 to 20 MB, measured on a line-up of twelve).
inline constexpr double design_bytes = 20e6;

/// Pixels of a face, W x H.
double face_pixels(const design::Design& design, double px_per_mm);

/// Throws InputError when about so many bytes, beside what the program takes anyway, are more than there are
/// (foundation/memory.h), saying how much is needed, how much there is, and at which scale it would fit.
/// `what`: "a face of 3000 x 4000 px".
void check_memory(double bytes, double px_per_mm, const std::string& what);
/// The same for `count` faces of such designs that are kept for one page.
void check_memory_of_faces(std::size_t count, const design::Design& design, double px_per_mm);

}  // namespace foreslice::picture
