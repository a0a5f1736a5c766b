// Films of batter far thinner than a pixel, drawn out in the wake of the wire.
#pragma once

#include <vector>

#include "foundation/worker_pool.h"
#include "picture/coverage.h"

namespace foreslice::picture {

/// Where the map stretches so much that a pixel's samples are a lottery among layers, neighbouring pixels of
/// the same kind share their portions out, as the eye would, so that thin films fade instead of sparkling.
/// Each exchange is even-handed: pixels still add up to 255 and portions keep their areas (to the rounding of
/// 8 bits). `log_stretch`: a pixel, as in flow::OriginRaster; empty leaves everything as it is.
void settle_films(Coverage& coverage, const std::vector<float>& log_stretch, WorkerPool& pool);

}  // namespace foreslice::picture
