#include "picture/surface.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace foreslice::picture {
namespace {

constexpr double column_step_mm = 0.5;

double weight_mm(std::size_t column, std::size_t columns, double columns_per_mm) {
    return (column == 0 || column + 1 == columns ? 0.5 : 1.0) / columns_per_mm;
}

}  // namespace

std::size_t Surface::columns_over(double width_mm) {
    return static_cast<std::size_t>(std::ceil(width_mm / column_step_mm)) + 1;
}

Surface Surface::flat(double width_mm, double height_mm) {
    return {width_mm, std::vector<double>(columns_over(width_mm), height_mm)};
}

Surface::Surface(double width_mm, std::vector<double> heights_mm)
    : width_mm_(width_mm),
      columns_per_mm_(static_cast<double>(heights_mm.size() - 1) / width_mm),
      heights_mm_(std::move(heights_mm)) {
    const auto [low, high] = std::minmax_element(heights_mm_.begin(), heights_mm_.end());
    flat_ = *low == *high;
    area_mm2_.assign(heights_mm_.size(), 0);
    for (std::size_t i = 1; i < heights_mm_.size(); ++i)
        area_mm2_[i] = area_mm2_[i - 1] + 0.5 * (heights_mm_[i - 1] + heights_mm_[i]) / columns_per_mm_;
    std::size_t column = 0;
    for (std::size_t share = 0; share < heights_mm_.size(); ++share) {
        const double area =
            area_mm2_.back() * static_cast<double>(share) / static_cast<double>(heights_mm_.size());
        while (column + 2 < area_mm2_.size() && area_mm2_[column + 1] <= area) ++column;
        coarse_.push_back(static_cast<std::uint32_t>(column));
    }
}

double Surface::at(double x_mm) const {
    const double place = std::clamp(x_mm, 0.0, width_mm_) * columns_per_mm_;
    const std::size_t column = std::min(static_cast<std::size_t>(place), heights_mm_.size() - 2);
    const double share = place - static_cast<double>(column);
    return heights_mm_[column] + share * (heights_mm_[column + 1] - heights_mm_[column]);
}

double Surface::highest_mm() const {
    return *std::max_element(heights_mm_.begin(), heights_mm_.end());
}

double Surface::area_left_of(double x_mm) const {
    const double place = std::clamp(x_mm, 0.0, width_mm_) * columns_per_mm_;
    const std::size_t column = std::min(static_cast<std::size_t>(place), heights_mm_.size() - 2);
    const double share = place - static_cast<double>(column), left = heights_mm_[column];
    return area_mm2_[column] +
           share / columns_per_mm_ * (left + 0.5 * share * (heights_mm_[column + 1] - left));
}

Vec2 Surface::to_box(Vec2 point_mm) const {
    if (flat_) return point_mm;
    const double level = level_mm(), height = at(point_mm.x);
    return {std::min(width_mm_, area_left_of(point_mm.x) / level),
            height > 0 ? point_mm.y * level / height : 0};
}

Vec2 Surface::from_box(Vec2 point_mm) const {
    if (flat_) return point_mm;
    const double level = level_mm();
    const double area = std::clamp(point_mm.x, 0.0, width_mm_) * level;
    const double shares = static_cast<double>(coarse_.size());
    std::size_t column =
        coarse_[std::min(static_cast<std::size_t>(area / area_mm2_.back() * shares), coarse_.size() - 1)];
    while (column > 0 && area_mm2_[column] > area) --column;
    while (column + 2 < area_mm2_.size() && area_mm2_[column + 1] <= area) ++column;
    // left s + (right - left) s^2 / 2 = rest, in the form that does not cancel
    const double left = heights_mm_[column], rise = heights_mm_[column + 1] - left;
    const double rest = (area - area_mm2_[column]) * columns_per_mm_;
    const double root = left + std::sqrt(std::max(0.0, left * left + 2 * rise * rest));
    const double share = root > 0 ? std::clamp(2 * rest / root, 0.0, 1.0) : 0;
    const double x = (static_cast<double>(column) + share) / columns_per_mm_;
    return {x, point_mm.y * (left + share * rise) / level};
}

// The area grows with the level and is piecewise straight, so Newton's method inside a shrinking bracket
// lands on the level to round-off.
Surface laid_on(const Surface& below, double area_mm2, const std::vector<double>& wave_mm,
                double ceiling_mm) {
    const auto& floor_mm = below.heights_mm();
    const std::size_t columns = floor_mm.size();
    const double width = below.width_mm(), per_mm = static_cast<double>(columns - 1) / width;
    const auto [lowest, highest] = std::minmax_element(wave_mm.begin(), wave_mm.end());
    double low = -*highest, high = ceiling_mm - *lowest;
    double level = area_mm2 / width;
    for (int round = 0; round < 200; ++round) {
        double area = 0, slope = 0;
        for (std::size_t i = 0; i < columns; ++i) {
            const double free = level + wave_mm[i];
            area += weight_mm(i, columns, per_mm) * std::clamp(free, floor_mm[i], ceiling_mm);
            if (free > floor_mm[i] && free < ceiling_mm) slope += weight_mm(i, columns, per_mm);
        }
        const double missing = area_mm2 - area;
        if (std::abs(missing) < 1e-12 * width * ceiling_mm) break;
        (missing > 0 ? low : high) = level;
        const double next = slope > 0 ? level + missing / slope : low;
        level = next > low && next < high ? next : 0.5 * (low + high);
    }
    std::vector<double> heights;
    for (std::size_t i = 0; i < columns; ++i)
        heights.push_back(std::clamp(level + wave_mm[i], floor_mm[i], ceiling_mm));
    return {width, std::move(heights)};
}

}  // namespace foreslice::picture
