// The plate that shows a design's colours by themselves: over time, under lamps, to other eyes.
#pragma once

#include "colour/pigment.h"
#include "design/design.h"
#include "picture/image.h"

namespace foreslice::picture {

/// One row a portion: the likely colour with what may come out lightest and darkest; wet batter, the next
/// day, four weeks, six months; incandescent, LED and shop light, each with its dE00 from daylight; and how
/// red-weak, green-weak and blue-weak eyes see it. Colours outside sRGB are marked. `unit` scales everything,
/// 0.5..8.
Image colourway_plate(const design::Design& design, const colour::ColourantLibrary& library,
                      double unit = 1.5);

}  // namespace foreslice::picture
