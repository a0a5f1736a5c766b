#include "picture/origin_band.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "flow/pixel_rows.h"

namespace foreslice::picture {
int pixels_over(double length_mm, double px_per_mm) {
    return std::max(1, static_cast<int>(std::lround(length_mm * px_per_mm)));
}

PixelLattice::PixelLattice(double width_mm, double height_mm, double scale_px_per_mm)
    : width_px(pixels_over(width_mm, scale_px_per_mm)),
      height_px(pixels_over(height_mm, scale_px_per_mm)),
      px_per_mm(scale_px_per_mm),
      size_mm{width_mm / width_px, height_mm / height_px},
      box_height_mm(height_mm) {}

flow::OriginRaster origin_band(const flow::FlowMap& map, const PixelLattice& lattice, int first_row, int rows,
                               int across) {
    flow::OriginRaster out;
    out.width_px = lattice.width_px;
    out.height_px = rows;
    out.px_per_mm = lattice.px_per_mm;
    const flow::PixelRows asked(map, lattice.width_px, lattice.size_mm, lattice.box_height_mm);
    const std::size_t samples = static_cast<std::size_t>(across) * static_cast<std::size_t>(across);
    const std::size_t row_samples = static_cast<std::size_t>(lattice.width_px) * samples;
    out.x_mm.resize(row_samples * static_cast<std::size_t>(rows));
    out.y_mm.resize(out.x_mm.size());
    for (std::size_t first = 0; first <= out.x_mm.size(); first += samples)
        out.first.push_back(static_cast<std::uint32_t>(first));
    std::vector<Vec2> above(static_cast<std::size_t>(lattice.width_px) + 1), below(above.size());
    asked.corners(first_row, above.data());
    for (int row = 0; row < rows; ++row) {
        asked.corners(first_row + row + 1, below.data());
        const std::size_t at = static_cast<std::size_t>(row) * row_samples;
        asked.samples(first_row + row, above.data(), below.data(), across, &out.x_mm[at], &out.y_mm[at]);
        above.swap(below);
    }
    return out;
}

}  // namespace foreslice::picture
