// The whole loaf seen from above: its worked top in light and shade, what was strewn over it, and which
// portions lie there.
#pragma once

#include "design/design.h"
#include "flow/flow.h"
#include "foundation/progress.h"
#include "picture/face.h"
#include "picture/image.h"

namespace foreslice::picture {

inline constexpr double least_above_px_per_mm = 0.5, most_above_px_per_mm = 12;

/// The loaf's start at the left, its left wall along the upper edge; mould length by mould width, nothing
/// round it. What lies at the surface is computed every 4 mm, as the loaf changes over some 60 mm; heaps,
/// ridges, flakes and seeds are those of the faces. Throws InputError as FaceMaker::make() does and for a
/// scale beyond the limits above, Stopped when asked to.
Image loaf_from_above(FaceMaker& maker, const design::Design& design, double px_per_mm,
                      const flow::Resolution& resolution, Progress& progress);

}  // namespace foreslice::picture
