#include "picture/layers.h"

#include <algorithm>
#include <cmath>

#include "picture/section.h"
#include "picture/surface.h"
#include "picture/waves.h"

namespace foreslice::picture {
LayerStack::LayerStack(const design::Design& design, double z_mm)
    : width_mm_(design::box_of(design).width_mm), height_mm_(design::box_of(design).height_mm) {
    const std::size_t layers = std::max<std::size_t>(1, design.pours.size());
    columns_ = Surface::columns_over(width_mm_);
    columns_per_mm_ = static_cast<double>(columns_ - 1) / width_mm_;
    portion_.assign(layers, 0);
    pour_.assign(layers, 0);
    top_mm_.assign(columns_ * layers, height_mm_);

    const auto areas_mm2 = design::pour_areas_mm2(design);
    double poured_mm2 = 0;
    Surface edge = Surface::flat(width_mm_, 0);
    for (std::size_t layer = 0; layer < design.pours.size(); ++layer) {
        portion_[layer] = portion_material(design, design.pours[layer].portion);
        pour_[layer] = static_cast<int>(layer);
        poured_mm2 += areas_mm2[layer];
        if (layer + 1 == layers) break;
        edge = laid_on(edge, poured_mm2, wave_mm(design, layer, columns_, z_mm), height_mm_);
        for (std::size_t column = 0; column < columns_; ++column)
            top(column, layer) = edge.heights_mm()[column];
    }
    for (std::size_t i = layers; i < top_mm_.size(); ++i)
        steepest_slope_ =
            std::max(steepest_slope_, columns_per_mm_ * std::abs(top_mm_[i] - top_mm_[i - layers]));
}

double LayerStack::weight_mm(std::size_t column) const {
    return (column == 0 || column + 1 == columns_ ? 0.5 : 1.0) / columns_per_mm_;
}

LayerStack::Place LayerStack::place(double x_mm) const {
    const double at = std::clamp(x_mm, 0.0, width_mm_) * columns_per_mm_;
    const std::size_t column = std::min(static_cast<std::size_t>(at), columns_ - 2);
    return {&top_mm_[column * portion_.size()], at - static_cast<double>(column)};
}

int LayerStack::layer_at(Vec2 point_mm) const {
    const Place here = place(point_mm.x);
    const std::size_t layers = portion_.size();
    // Binary search for the first edge above the point; the topmost edge takes the rest.
    std::size_t first = 0, count = layers - 1;
    while (count > 0) {
        const std::size_t half = count / 2, middle = first + half;
        const double left = here.left[middle], right = here.left[middle + layers];
        const bool below = left + here.share * (right - left) <= point_mm.y;
        first = below ? middle + 1 : first;
        count = below ? count - half - 1 : half;
    }
    return static_cast<int>(first);
}

double LayerStack::top_edge_mm(int layer, double x_mm) const {
    const Place here = place(x_mm);
    const double left = here.left[layer],
                 right = here.left[static_cast<std::size_t>(layer) + portion_.size()];
    return left + here.share * (right - left);
}

double LayerStack::area_mm2(int layer) const {
    const std::size_t layers = portion_.size(), at = static_cast<std::size_t>(layer);
    double sum = 0;
    for (std::size_t column = 0; column < columns_; ++column) {
        const double* edges = &top_mm_[column * layers];
        sum += weight_mm(column) * (edges[at] - (at == 0 ? 0.0 : edges[at - 1]));
    }
    return sum;
}

}  // namespace foreslice::picture
