// Small designs and helpers that the picture tests share.
#pragma once

#include <cstdint>
#include <memory>

#include "colour/pigment.h"
#include "design/design.h"
#include "foundation/vec2.h"
#include "picture/face.h"
#include "picture/image.h"

namespace foreslice::testing {

/// Three portions, four pours (ink, white, amber, white), one passes stroke; 60 x 40 mm of batter.
design::Design sample_design();
std::shared_ptr<const colour::ColourantLibrary> library();
/// For cases that look at what a face shows, not at how it comes about: a flow that several cases of a
/// program share is solved once.
picture::FaceMaker& shared_maker();
/// A place in a box of this size, scattered over it; the same for the same number.
Vec2 random_point(std::uint64_t number, double width_mm, double height_mm);
/// Mean CIEDE2000 over blocks of `size` px, each averaged in linear light; `worst` gets the largest. Pictures
/// must be of one size; blocks that are not wholly opaque in `a` are left out.
double mean_difference(const picture::Image& a, const picture::Image& b, int size, double* worst = nullptr);
picture::Image cropped(const picture::Image& image, int x, int y, int width, int height);

}  // namespace foreslice::testing
