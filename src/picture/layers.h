// The poured layers as geometry: which pour lies at a point of the cross-section before the wire moves.
#pragma once

#include <cstddef>
#include <vector>

#include "design/design.h"
#include "foundation/vec2.h"

namespace foreslice::picture {

/// The stack at one position along the loaf. Boundaries are heights sampled along x and straight between the
/// samples; each layer keeps the area it was poured with, whatever its unevenness. A laid pour fills what the
/// one below left low and never sinks into it, so a thin layer over a hump may pinch out. The last pour comes
/// to rest level at the fill height. Other manners of pouring: section.h.
class LayerStack {
  public:
    /// `z_mm`: position along the loaf. Same design, same z: same stack. The waves of a pour are correlated
    /// over about 25 mm across the mould and 60 mm along it, so neighbouring bars are sisters, not twins.
    /// The design must be one that design::validate() accepts.
    LayerStack(const design::Design& design, double z_mm);

    int layer_count() const { return static_cast<int>(portion_.size()); }
    /// Index into Design::portions of a layer (0 = lowest).
    int portion_of_layer(int layer) const { return portion_[static_cast<std::size_t>(layer)]; }
    /// Index into Design::pours of a layer.
    int pour_of_layer(int layer) const { return pour_[static_cast<std::size_t>(layer)]; }
    /// The layer at a point; points outside are clamped. A point on an edge belongs to the layer above it.
    int layer_at(Vec2 point_mm) const;
    int portion_at(Vec2 point_mm) const { return portion_of_layer(layer_at(point_mm)); }
    /// Height of the top edge of a layer at x.
    double top_edge_mm(int layer, double x_mm) const;
    /// Area of a layer in this cross-section.
    double area_mm2(int layer) const;

    /// Greatest rise of any edge, mm per mm.
    double steepest_slope() const { return steepest_slope_; }
    double width_mm() const { return width_mm_; }
    double height_mm() const { return height_mm_; }

  private:
    struct Place {
        const double* left;  ///< tops of all layers in the column to the left; the next column follows
        double share;        ///< of the way to the next column, 0..1
    };
    Place place(double x_mm) const;
    double& top(std::size_t column, std::size_t layer) { return top_mm_[column * portion_.size() + layer]; }
    double weight_mm(std::size_t column) const;

    double width_mm_ = 0, height_mm_ = 0, columns_per_mm_ = 1, steepest_slope_ = 0;
    std::size_t columns_ = 0;
    std::vector<int> portion_, pour_;
    std::vector<double> top_mm_;  ///< [column * layers + layer]: one column's edges lie side by side
};

}  // namespace foreslice::picture
