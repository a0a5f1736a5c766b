#include "picture/layers.h"

#include <algorithm>
#include <cmath>

#include "foundation/random.h"

namespace foreslice::picture {
namespace {

constexpr double column_step_mm = 0.5;
constexpr double wave_length_across_mm = 25;
constexpr double wave_length_along_mm = 60;

int portion_index(const design::Design& design, const std::string& id) {
    const auto found = std::find_if(design.portions.begin(), design.portions.end(),
                                    [&](const design::Portion& portion) { return portion.id == id; });
    return found == design.portions.end() ? 0 : static_cast<int>(found - design.portions.begin());
}

std::vector<double> wave(const design::Design& design, std::size_t pour, std::size_t columns, double step_mm,
                         double z_mm) {
    const std::uint64_t seed = mixed_bits(mixed_bits(design.seed) + pour);
    std::vector<double> height_mm(columns);
    for (std::size_t column = 0; column < columns; ++column)
        height_mm[column] =
            design.pours[pour].unevenness_mm * smooth_field(seed, static_cast<double>(column) * step_mm, z_mm,
                                                            wave_length_across_mm, wave_length_along_mm);
    return height_mm;
}

}  // namespace

LayerStack::LayerStack(const design::Design& design, double z_mm)
    : width_mm_(design::box_of(design).width_mm), height_mm_(design::box_of(design).height_mm) {
    const std::size_t layers = std::max<std::size_t>(1, design.pours.size());
    columns_ = static_cast<std::size_t>(std::ceil(width_mm_ / column_step_mm)) + 1;
    columns_per_mm_ = static_cast<double>(columns_ - 1) / width_mm_;
    portion_.assign(layers, 0);
    pour_.assign(layers, 0);
    top_mm_.assign(columns_ * layers, height_mm_);

    const auto areas_mm2 = design::pour_areas_mm2(design);
    double poured_mm2 = 0;
    for (std::size_t layer = 0; layer < design.pours.size(); ++layer) {
        portion_[layer] = portion_index(design, design.pours[layer].portion);
        pour_[layer] = static_cast<int>(layer);
        poured_mm2 += areas_mm2[layer];
        if (layer + 1 < layers)
            lay(static_cast<int>(layer), poured_mm2,
                wave(design, layer, columns_, 1 / columns_per_mm_, z_mm));
    }
    for (std::size_t i = layers; i < top_mm_.size(); ++i)
        steepest_slope_ =
            std::max(steepest_slope_, columns_per_mm_ * std::abs(top_mm_[i] - top_mm_[i - layers]));
}

double LayerStack::weight_mm(std::size_t column) const {
    return (column == 0 || column + 1 == columns_ ? 0.5 : 1.0) / columns_per_mm_;
}

// The edge is clamp(level + wave, edge below, rest level). The area under it grows with the level and is
// piecewise straight, so Newton's method inside a shrinking bracket lands on the level to round-off.
void LayerStack::lay(int layer_number, double area_below_top_mm2, const std::vector<double>& wave_mm) {
    const auto layer = static_cast<std::size_t>(layer_number);
    const auto floor_mm = [&](std::size_t column) { return layer == 0 ? 0.0 : top(column, layer - 1); };
    const auto [lowest, highest] = std::minmax_element(wave_mm.begin(), wave_mm.end());
    double low = -*highest, high = height_mm_ - *lowest;
    double level = area_below_top_mm2 / width_mm_;
    for (int step = 0; step < 200; ++step) {
        double area = 0, slope = 0;
        for (std::size_t column = 0; column < columns_; ++column) {
            const double free = level + wave_mm[column];
            const double below = floor_mm(column);
            area += weight_mm(column) * std::clamp(free, below, height_mm_);
            if (free > below && free < height_mm_) slope += weight_mm(column);
        }
        const double missing = area_below_top_mm2 - area;
        if (std::abs(missing) < 1e-12 * width_mm_ * height_mm_) break;
        (missing > 0 ? low : high) = level;
        const double next = slope > 0 ? level + missing / slope : low;
        level = next > low && next < high ? next : 0.5 * (low + high);
    }
    for (std::size_t column = 0; column < columns_; ++column)
        top(column, layer) = std::clamp(level + wave_mm[column], floor_mm(column), height_mm_);
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
