// The loaf cut lengthwise, for pictures that show how bars follow from each other.
#pragma once

#include "design/design.h"
#include "picture/coverage.h"
#include "picture/face.h"

namespace foreslice::picture {

/// The section at `x_mm` from the left wall along the whole loaf, its start at the left. Columns are computed
/// every 4 mm and blended between, as the loaf changes over some 60 mm.
Coverage lengthwise_coverage(FaceMaker& maker, const design::Design& design, double x_mm, double px_per_mm,
                             const flow::Resolution& resolution, Progress& progress);

}  // namespace foreslice::picture
