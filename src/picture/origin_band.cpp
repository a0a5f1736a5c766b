#include "picture/origin_band.h"

#include <algorithm>
#include <cmath>

namespace foreslice::picture {
namespace {

struct Corners {
    Vec2 top_left, top_right, low_left, low_right;

    Vec2 between(double s, double t) const {
        return (1 - t) * ((1 - s) * top_left + s * top_right) + t * ((1 - s) * low_left + s * low_right);
    }
    // Whether the map is close to bilinear here and does not leap.
    bool suffice(double pixel_mm) const {
        const Vec2 twist = top_left + low_right - top_right - low_left;
        const double longest = std::max({length(top_right - top_left), length(low_right - low_left),
                                         length(top_left - low_left), length(top_right - low_right)});
        return length(twist) < pixel_mm && longest < 8 * pixel_mm;
    }
};

std::vector<Vec2> corner_row(const flow::FlowMap& map, const PixelLattice& lattice, int row) {
    std::vector<Vec2> corners;
    for (int column = 0; column <= lattice.width_px; ++column)
        corners.push_back(map.origin_mm(lattice.point_mm(column, row)));
    return corners;
}

void add_pixel(const flow::FlowMap& map, const PixelLattice& lattice, const Corners& corners, int column,
               int row, int across, flow::OriginRaster& out) {
    const bool enough = corners.suffice(1 / lattice.px_per_mm);
    out.first.push_back(static_cast<std::uint32_t>(out.x_mm.size()));
    for (int i = 0; i < across * across; ++i) {
        const double s = (i % across + 0.5) / across, t = (i / across + 0.5) / across;
        const Vec2 origin =
            enough ? corners.between(s, t) : map.origin_mm(lattice.point_mm(column + s, row + t));
        out.x_mm.push_back(static_cast<float>(origin.x));
        out.y_mm.push_back(static_cast<float>(origin.y));
    }
}

}  // namespace

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
    auto above = corner_row(map, lattice, first_row);
    for (int row = first_row; row < first_row + rows; ++row) {
        auto below = corner_row(map, lattice, row + 1);
        for (int column = 0; column < lattice.width_px; ++column) {
            const auto at = static_cast<std::size_t>(column);
            add_pixel(map, lattice, {above[at], above[at + 1], below[at], below[at + 1]}, column, row, across,
                      out);
        }
        above.swap(below);
    }
    out.first.push_back(static_cast<std::uint32_t>(out.x_mm.size()));
    return out;
}

}  // namespace foreslice::picture
