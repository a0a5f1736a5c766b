// The free surface of the batter while the mould is being filled.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "foundation/vec2.h"

namespace foreslice::picture {

/// Heights sampled along x, straight between the samples.
class Surface {
  public:
    /// At least two heights, the first at the left wall, the last at the right.
    Surface(double width_mm, std::vector<double> heights_mm);
    static Surface flat(double width_mm, double height_mm);
    /// Samples that a surface of this width has.
    static std::size_t columns_over(double width_mm);

    double at(double x_mm) const;
    double width_mm() const { return width_mm_; }
    double area_mm2() const { return area_mm2_.back(); }
    double level_mm() const { return area_mm2() / width_mm_; }
    double highest_mm() const;
    const std::vector<double>& heights_mm() const { return heights_mm_; }
    double column_mm() const { return 1 / columns_per_mm_; }  ///< between samples
    double x_of(std::size_t column) const { return static_cast<double>(column) / columns_per_mm_; }
    bool is_flat() const { return flat_; }

    /// The one-to-one map between the batter under this surface and a box of the same width and area: columns
    /// keep their areas (x' is the area to the left over the level) and heights are shares of the surface's,
    /// so that areas are kept exactly, and walls, floor and top are carried onto those of the box.
    Vec2 to_box(Vec2 point_mm) const;
    Vec2 from_box(Vec2 point_mm) const;

  private:
    double area_left_of(double x_mm) const;

    double width_mm_, columns_per_mm_;
    bool flat_;
    std::vector<double> heights_mm_;
    std::vector<double> area_mm2_;       ///< to the left of each sample
    std::vector<std::uint32_t> coarse_;  ///< for from_box(): a column at or before an even share of the area
};

/// The surface of batter laid on another: clamp(level + wave, surface below, ceiling), with the level at
/// which the area under it is the one asked for. `wave_mm`: a value a column.
Surface laid_on(const Surface& below, double area_mm2, const std::vector<double>& wave_mm, double ceiling_mm);

}  // namespace foreslice::picture
