// How much of every material each pixel of a face shows, for any section.
#pragma once

#include "flow/flow.h"
#include "foundation/progress.h"
#include "foundation/worker_pool.h"
#include "picture/coverage.h"
#include "picture/section.h"

namespace foreslice::picture {

/// The section as it lies, `samples_across`^2 samples a pixel.
Coverage section_coverage(const Section& section, int materials, double px_per_mm, int samples_across,
                          WorkerPool& pool, Progress& progress);
/// The section as the last group of strokes carried it. A sample near an edge looks along the piece of the
/// section that its part of the pixel came from and halves it until it knows where the edges lie, so that
/// edges are smooth and thin lines count by their thickness.
Coverage section_coverage(const Section& section, int materials, const flow::OriginRaster& origins,
                          WorkerPool& pool, Progress& progress);
/// The same straight from the map, in bands of rows.
Coverage section_coverage(const Section& section, int materials, const flow::FlowMap& map, double px_per_mm,
                          int samples_across, WorkerPool& pool, Progress& progress);
/// On a lattice of one's own, which may reach above the box where the map does.
Coverage section_coverage(const Section& section, int materials, const flow::FlowMap& map,
                          const PixelLattice& lattice, int samples_across, WorkerPool& pool,
                          Progress& progress);

}  // namespace foreslice::picture
