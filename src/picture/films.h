// Films of batter far thinner than a pixel, drawn out in the wake of the wire.
#pragma once

#include <cstdint>
#include <vector>

#include "foundation/worker_pool.h"
#include "picture/coverage.h"

namespace foreslice::picture {

/// Where the map stretches so much that a pixel's samples are a lottery among layers, neighbouring pixels of
/// the same kind share their portions out, as the eye would, so that thin films fade instead of sparkling.
/// Each exchange is even-handed: pixels still add up to 255 and portions keep their areas (to the rounding of
/// 8 bits). `lottery`: a pixel, not 0 where it is one; holes in such an area are taken in.
void settle_films(Coverage& coverage, const std::vector<std::uint8_t>& lottery, WorkerPool& pool);

}  // namespace foreslice::picture
