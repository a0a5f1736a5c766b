#include "picture/settling.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

namespace foreslice::picture {
namespace {

constexpr double step_mm = 1.5;  // of the columns that flow; the rest is interpolated
constexpr double still_mm = 1e-4;
constexpr int most_rounds = 40000;

// One explicit step of area moving downhill between columns, as far as the slope limit asks. Returns the most
// that any column changed.
double flow_down(std::vector<double>& height, double twice_yield_mm, double dx) {
    double tallest = 0, before = 0, most = 0;
    for (const double h : height) tallest = std::max(tallest, h);
    const double rate = 0.2 * dx / std::max(tallest, 1e-6);  // of the excess of h^2; below the stable 1/4
    for (std::size_t i = 0; i < height.size(); ++i) {
        double out = 0;  // to the right
        if (i + 1 < height.size()) {
            const double fall = height[i] * height[i] - height[i + 1] * height[i + 1];
            const double excess = std::max(0.0, std::abs(fall) - twice_yield_mm * dx);
            out = std::copysign(rate * excess / dx, fall);
        }
        const double change = before - out;
        height[i] += change;
        most = std::max(most, std::abs(change));
        before = out;
    }
    return most;
}

// The long-wave rest shape on coarse columns of equal width.
std::vector<double> rest_on_columns(std::vector<double> height, double yield_length_mm, double dx) {
    for (int round = 0; round < most_rounds; ++round)
        if (flow_down(height, 2 * yield_length_mm, dx) < still_mm * 1e-2) break;
    return height;
}

Surface long_rest(const Surface& shape, double yield_length_mm) {
    const double width = shape.width_mm();
    const auto columns = static_cast<std::size_t>(std::max(8.0, std::round(width / step_mm)));
    const double dx = width / static_cast<double>(columns);
    std::vector<double> mean;
    for (std::size_t i = 0; i < columns; ++i) {
        double sum = 0;
        for (int k = 0; k < 8; ++k) sum += shape.at((static_cast<double>(i) + (k + 0.5) / 8) * dx);
        mean.push_back(sum / 8);
    }
    const auto rest = rest_on_columns(mean, yield_length_mm, dx);
    std::vector<double> heights;
    for (std::size_t i = 0; i < shape.heights_mm().size(); ++i) {
        const double place = std::clamp(shape.x_of(i) / dx - 0.5, 0.0, static_cast<double>(columns) - 1.0);
        const std::size_t left = std::min(static_cast<std::size_t>(place), columns - 2);
        const double share = place - static_cast<double>(left);
        heights.push_back((1 - share) * rest[left] + share * rest[left + 1]);
    }
    return {width, std::move(heights)};
}

}  // namespace

Surface flattened(const Surface& shape, double share) {
    std::vector<double> heights = shape.heights_mm();
    for (double& h : heights) h = shape.level_mm() + share * (h - shape.level_mm());
    return {shape.width_mm(), std::move(heights)};
}

Surface fitted(const Surface& shape, double area_mm2, double ceiling_mm) {
    std::vector<double> wave = shape.heights_mm();
    for (double& h : wave) h -= shape.level_mm();
    return laid_on(Surface::flat(shape.width_mm(), 0), area_mm2, wave, ceiling_mm);
}

Surface settled(const Surface& shape, double yield_length_mm) {
    if (shape.is_flat()) return shape;
    if (yield_length_mm <= 0) return Surface::flat(shape.width_mm(), shape.level_mm());
    const Surface rest = long_rest(shape, yield_length_mm);
    const double holds = std::numbers::e * yield_length_mm;
    double most = 0;
    for (std::size_t i = 0; i < rest.heights_mm().size(); ++i)
        most = std::max(most, std::abs(shape.heights_mm()[i] - rest.heights_mm()[i]));
    const double kept = most > holds ? holds / most : 1;
    std::vector<double> heights = rest.heights_mm();
    for (std::size_t i = 0; i < heights.size(); ++i)
        heights[i] += kept * (shape.heights_mm()[i] - rest.heights_mm()[i]);
    return fitted({shape.width_mm(), std::move(heights)}, shape.area_mm2(), 1e6);
}

}  // namespace foreslice::picture
