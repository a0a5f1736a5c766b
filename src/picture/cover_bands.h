// How the makers of a Coverage share out its rows.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "picture/coverage.h"
#include "picture/shares.h"

namespace foreslice::picture {

struct Band {
    int first_row, rows;
};
using BandWork = std::function<void(const Band& band, PixelShares& pixel, std::uint8_t* share)>;

inline constexpr int rows_a_band = 16;

/// An empty coverage filled by `work` for bands of rows side by side; `share` is where the band's first pixel
/// goes. The areas are still to be added up.
Coverage cover_bands(int width_px, int height_px, int portions, double px_per_mm, int rows_a_task,
                     WorkerPool& pool, Progress& progress, const BandWork& work);
/// Adds the areas up.
Coverage with_areas(Coverage coverage, WorkerPool& pool);

/// Samples of a pixel lie on a square lattice, row by row; its side, or 1 when their number is not a square.
int lattice_side(std::size_t samples);

}  // namespace foreslice::picture
