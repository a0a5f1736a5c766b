#include "picture/cover_bands.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace foreslice::picture {

Coverage cover_bands(int width_px, int height_px, int portions, double px_per_mm, int rows_a_task,
                     WorkerPool& pool, Progress& progress, const BandWork& work) {
    Coverage out;
    out.width_px = width_px;
    out.height_px = height_px;
    out.portions = portions;
    out.px_per_mm = px_per_mm;
    const auto row_bytes = static_cast<std::size_t>(width_px) * static_cast<std::size_t>(portions);
    out.share.resize(static_cast<std::size_t>(height_px) * row_bytes);
    progress.begin_stage("laying the layers along the flow", height_px);
    const int tasks = (height_px + rows_a_task - 1) / rows_a_task;
    pool.parallel_for(static_cast<std::size_t>(tasks), [&](std::size_t task) {
        const int first = static_cast<int>(task) * rows_a_task;
        const Band band{first, std::min(rows_a_task, height_px - first)};
        PixelShares pixel(portions);
        work(band, pixel, &out.share[static_cast<std::size_t>(first) * row_bytes]);
        progress.advance(band.rows);
    });
    return out;
}

// Sums of whole numbers, so the order in which rows are done does not matter.
Coverage with_areas(Coverage coverage, WorkerPool& pool) {
    const auto rows = static_cast<std::size_t>(coverage.height_px);
    const auto kinds = static_cast<std::size_t>(coverage.portions);
    const std::size_t row_bytes = static_cast<std::size_t>(coverage.width_px) * kinds;
    std::vector<std::uint64_t> sums(rows * kinds);
    pool.parallel_for(rows, [&](std::size_t row) {
        const std::uint8_t* share = &coverage.share[row * row_bytes];
        for (std::size_t at = 0; at < row_bytes; at += kinds)
            for (std::size_t kind = 0; kind < kinds; ++kind) sums[row * kinds + kind] += share[at + kind];
    });
    const double all = 255.0 * coverage.width_px * coverage.height_px;
    for (std::size_t kind = 0; kind < kinds; ++kind) {
        std::uint64_t sum = 0;
        for (std::size_t row = 0; row < rows; ++row) sum += sums[row * kinds + kind];
        coverage.area_percent.push_back(100 * static_cast<double>(sum) / all);
    }
    return coverage;
}

int lattice_side(std::size_t samples) {
    const int side = static_cast<int>(std::lround(std::sqrt(static_cast<double>(samples))));
    return static_cast<std::size_t>(side) * static_cast<std::size_t>(side) == samples ? side : 1;
}

}  // namespace foreslice::picture
