// Origins for a few rows of a face at a time, for pictures whose whole raster would not fit in memory.
#pragma once

#include "flow/flow.h"
#include "foundation/vec2.h"

namespace foreslice::picture {

/// Pixels over a length, at least one. The same rule as the flow room's raster of origins.
int pixels_over(double length_mm, double px_per_mm);

/// Pixels fill the box exactly, so they are square only to within half a pixel over the whole face.
struct PixelLattice {
    int width_px, height_px;
    double px_per_mm;
    Vec2 size_mm;  ///< of one pixel
    double box_height_mm;

    PixelLattice(double width_mm, double height_mm, double scale_px_per_mm);
    /// Place in the box of a point given in pixels from the top left corner.
    Vec2 point_mm(double column, double row) const {
        return {column * size_mm.x, box_height_mm - row * size_mm.y};
    }
};

/// Rows first_row .. first_row + rows - 1 with across * across samples a pixel, on a square lattice, row by
/// row. Where the corners of a pixel tell what lies between them the samples are interpolated, elsewhere
/// they are asked of the map. `log_stretch` stays empty.
flow::OriginRaster origin_band(const flow::FlowMap& map, const PixelLattice& lattice, int first_row, int rows,
                               int across);

}  // namespace foreslice::picture
