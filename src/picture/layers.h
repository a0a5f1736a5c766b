// The poured layers as geometry: which pour lies at a point of the cross-section before the wire moves.
#pragma once

#include <vector>

#include "design/design.h"
#include "foundation/vec2.h"

namespace foreslice::picture {

/// The stack at one position along the loaf. Boundaries are heights sampled along x; each layer keeps the
/// area it was poured with, whatever its unevenness. This is the seam for other manners of pouring.
class LayerStack {
  public:
    /// `z_mm`: position along the loaf. Same design, same z: same stack.
    LayerStack(const design::Design& design, double z_mm);

    int layer_count() const { return static_cast<int>(layers_.size()); }
    /// Index into Design::portions of a layer (0 = lowest).
    int portion_of_layer(int layer) const { return layers_[static_cast<std::size_t>(layer)].portion; }
    int pour_of_layer(int layer) const { return layers_[static_cast<std::size_t>(layer)].pour; }
    /// The layer at a point; points outside are clamped.
    int layer_at(Vec2 point_mm) const;
    int portion_at(Vec2 point_mm) const { return portion_of_layer(layer_at(point_mm)); }
    /// Height of the top edge of a layer at x.
    double top_edge_mm(int layer, double x_mm) const;

  private:
    struct Layer {
        int portion = 0;
        int pour = 0;
        std::vector<double> top_mm;
    };
    double width_mm_ = 0, height_mm_ = 0, sample_step_mm_ = 1;
    std::vector<Layer> layers_;
};

}  // namespace foreslice::picture
