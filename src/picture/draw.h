// Small drawing primitives on an Image: anti-aliased, blended in linear light. Coordinates are px from the
// top left corner of the picture; pixel (0, 0) covers [0, 1) x [0, 1). Everything outside is left out.
#pragma once

#include "colour/colorimetry.h"
#include "picture/image.h"

namespace foreslice::picture {

struct Rect {
    double x = 0, y = 0, width = 0, height = 0;
};

/// Ink of the given opacity (0..1) over one pixel.
void blend(Image& image, int x, int y, const colour::LinearSrgb& ink, double opacity);
void fill(Image& image, const Rect& rect, const colour::LinearSrgb& ink, double opacity = 1);
/// A rectangle with rounded corners.
void fill_rounded(Image& image, const Rect& rect, double radius, const colour::LinearSrgb& ink,
                  double opacity = 1);
/// The soft shadow of a rectangle: its shape blurred by a Gaussian, dithered by less than one code so that it
/// shows no steps. On a transparent picture it becomes alpha.
void shadow(Image& image, const Rect& rect, double sigma_px, double opacity);
/// An even passage from one ink to the other, top to bottom, dithered so that it shows no steps. Opaque.
void fill_passage(Image& image, const Rect& rect, const colour::LinearSrgb& top,
                  const colour::LinearSrgb& bottom);
/// `what` over `onto`, its top left corner at (x, y).
void place(Image& onto, const Image& what, int x, int y);

/// Linear light of a screen colour given as 0xrrggbb.
colour::LinearSrgb ink_of(unsigned rgb);

}  // namespace foreslice::picture
