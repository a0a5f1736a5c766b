#include "picture/top_step.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace foreslice::picture {
namespace {

constexpr double column_step_mm = 0.1;
constexpr double depth_per_furrow = 3.4;  // a little more than the three at which the map would fold
constexpr int rounds = 60;

double decay(double y, double depth) {
    const double left = std::max(0.0, 1 + y / depth);
    return left * left * left;
}

double decay_slope(double y, double depth) {
    const double left = std::max(0.0, 1 + y / depth);
    return 3 * left * left / depth;
}

// Root of a rising function in [low, high] by Newton's method inside a shrinking bracket.
template <class Function, class Slope>
double root_of(double low, double high, double start, const Function& function, const Slope& slope) {
    double at = std::clamp(start, low, high);
    for (int round = 0; round < rounds; ++round) {
        const double value = function(at);
        if (std::abs(value) < 1e-12) break;
        (value > 0 ? high : low) = at;
        const double next = at - value / slope(at);
        const double middle = 0.5 * (low + high);
        const double new_at = next > low && next < high ? next : middle;
        if (new_at == at) break;
        at = new_at;
    }
    return at;
}

Profile flattened_rise(const Profile& before, const Profile& rise) {
    const Profile about = rise.about_mean(1);
    const double most_mm = std::max(0.0, before.lowest_mm()) / depth_per_furrow;
    const double furrow_mm = -about.lowest_mm();
    return furrow_mm > most_mm ? about.about_mean(most_mm / furrow_mm) : about;
}

}  // namespace

Profile::Profile(double width_mm, std::vector<double> heights_mm)
    : width_mm_(width_mm),
      per_mm_(static_cast<double>(heights_mm.size() - 1) / width_mm),
      heights_(std::move(heights_mm)),
      integral_(heights_.size()) {
    for (std::size_t i = 1; i < heights_.size(); ++i)
        integral_[i] = integral_[i - 1] + 0.5 * (heights_[i - 1] + heights_[i]) / per_mm_;
}

Profile Profile::flat(double width_mm, double height_mm) {
    return {width_mm, std::vector<double>(columns_over(width_mm), height_mm)};
}

std::size_t Profile::columns_over(double width_mm) {
    return static_cast<std::size_t>(std::ceil(width_mm / column_step_mm)) + 1;
}

double Profile::at(double x_mm) const {
    const double place = std::clamp(x_mm, 0.0, width_mm_) * per_mm_;
    const std::size_t column = std::min(static_cast<std::size_t>(place), heights_.size() - 2);
    const double share = place - static_cast<double>(column);
    return heights_[column] + share * (heights_[column + 1] - heights_[column]);
}

double Profile::integral_mm2(double x_mm) const {
    const double place = std::clamp(x_mm, 0.0, width_mm_) * per_mm_;
    const std::size_t column = std::min(static_cast<std::size_t>(place), heights_.size() - 2);
    const double share = place - static_cast<double>(column), left = heights_[column];
    return integral_[column] + share / per_mm_ * (left + 0.5 * share * (heights_[column + 1] - left));
}

double Profile::lowest_mm() const {
    return *std::min_element(heights_.begin(), heights_.end());
}

double Profile::highest_mm() const {
    return *std::max_element(heights_.begin(), heights_.end());
}

Profile Profile::about_mean(double factor) const {
    std::vector<double> heights = heights_;
    const double mean = mean_mm();
    for (double& height : heights) height = factor * (height - mean);
    return {width_mm_, std::move(heights)};
}

Profile operator+(const Profile& a, const Profile& b) {
    std::vector<double> heights = a.heights_;
    for (std::size_t i = 0; i < heights.size(); ++i) heights[i] += b.heights_[i];
    return {a.width_mm_, std::move(heights)};
}

TopStep::TopStep(const Profile& before, const Profile& rise, double felt_mm)
    : before_(before),
      rise_(flattened_rise(before, rise)),
      after_(before_ + rise_),
      depth_mm_(std::min(std::max(felt_mm, -depth_per_furrow * rise_.lowest_mm()),
                         std::max(1e-3, before.lowest_mm()))) {}

Vec2 TopStep::back(Vec2 point_mm) const {
    const double x = std::clamp(point_mm.x, 0.0, before_.width_mm());
    const double y = std::max(0.0, point_mm.y) - before_.at(x);
    if (y <= -depth_mm_) return {x, std::max(0.0, point_mm.y)};
    const double rise = rise_.at(x);
    const double below = root_of(
        -depth_mm_, 0, rise > 0 ? 0 : -depth_mm_,
        [&](double Y) { return Y + rise * decay(Y, depth_mm_) - y; },
        [&](double Y) { return 1 + rise * decay_slope(Y, depth_mm_); });
    const double from =
        std::clamp(x + rise_.integral_mm2(x) * decay_slope(below, depth_mm_), 0.0, before_.width_mm());
    return {from, std::max(0.0, before_.at(from) + below)};
}

Vec2 TopStep::forth(Vec2 point_mm) const {
    const double from = std::clamp(point_mm.x, 0.0, before_.width_mm());
    const double below = std::min(0.0, point_mm.y - before_.at(from));
    if (below <= -depth_mm_) return {from, std::max(0.0, point_mm.y)};
    const double slope = decay_slope(below, depth_mm_);
    const double x = root_of(
        0, before_.width_mm(), from, [&](double at) { return at + rise_.integral_mm2(at) * slope - from; },
        [&](double at) { return 1 + rise_.at(at) * slope; });
    return {x, std::max(0.0, before_.at(x) + below + rise_.at(x) * decay(below, depth_mm_))};
}

}  // namespace foreslice::picture
