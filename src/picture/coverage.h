// How much of every portion each pixel of a face shows.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "flow/flow.h"
#include "foundation/progress.h"
#include "foundation/worker_pool.h"
#include "picture/layers.h"
#include "picture/origin_band.h"

namespace foreslice::picture {

/// Share of every portion in every pixel, 8 bits each, and what else the drawing needs.
struct Coverage {
    int width_px = 0, height_px = 0, portions = 0;
    double px_per_mm = 0;
    std::vector<std::uint8_t> share;   ///< [pixel * portions + portion], each pixel's shares add up to 255
    std::vector<double> area_percent;  ///< a portion: share of the face
    std::vector<std::uint8_t>
        solid;         ///< a pixel: how much of it is soap and not air; empty: all of every one
    int above_px = 0;  ///< rows above the level of what was poured

    std::size_t bytes() const { return share.size() + solid.size() + sizeof *this; }
};

/// The layers as they lie before the wire moves: exact in height, four columns a pixel across.
Coverage poured_coverage(const LayerStack& stack, int portions, double px_per_mm, WorkerPool& pool,
                         Progress& progress);

/// The layers as the flow carried them. The samples of a pixel lie on a square lattice, row by row. Each
/// stands for its part of the pixel: near an edge it is shared out by the height that its part spans among
/// the origins, so that edges are smooth where the map is smooth and thin films fade where it is not.
Coverage carried_coverage(const LayerStack& stack, int portions, const flow::OriginRaster& origins,
                          WorkerPool& pool, Progress& progress);

/// The same straight from the map, in bands of rows, for pictures whose raster of origins would not fit in
/// memory: `samples_across`^2 samples a pixel.
Coverage carried_coverage(const LayerStack& stack, int portions, const flow::FlowMap& map, double px_per_mm,
                          int samples_across, WorkerPool& pool, Progress& progress);
/// On a lattice of one's own, which may reach above the box where the map does.
Coverage carried_coverage(const LayerStack& stack, int portions, const flow::FlowMap& map,
                          const PixelLattice& lattice, int samples_across, WorkerPool& pool,
                          Progress& progress);

}  // namespace foreslice::picture
