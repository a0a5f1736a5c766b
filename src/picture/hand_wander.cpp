#include "picture/hand_wander.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "foundation/random.h"

namespace foreslice::picture {
namespace {

constexpr double across_mm = 45, along_mm = 90;  // over which a hand's error stays alike
constexpr double node_step_mm = 2.5;
constexpr int parts = 4;  // independent fields in the cross-section, blended along the loaf
constexpr int carry_steps = 2;
constexpr double table_step_mm = 1;  // straight between nodes: off by less than a micron
// Standard deviation of a derivative of smooth_field times its length: a sum of Gaussians of width 0.6.
constexpr double slope_of_field = 1.18;

// The four cubic B-splines that are not zero at a share t of the way between two nodes, and their slopes.
struct Weights {
    std::array<double, 4> value, slope;
};
Weights cubic_weights(double t) {
    const double s = 1 - t;
    return {{s * s * s / 6, (3 * t * t * t - 6 * t * t + 4) / 6, (3 * s * s * s - 6 * s * s + 4) / 6,
             t * t * t / 6},
            {-s * s / 2, (3 * t * t - 4 * t) / 2, (4 * s - 3 * s * s) / 2, t * t / 2}};
}

// A displacement at the nodes of a grid over the box, straight between them: maps are asked for many points.
class Displacement {
  public:
    template <class Carry>
    Displacement(const flow::Box& box, Carry&& carry)
        : columns_(static_cast<std::size_t>(std::ceil(box.width_mm / table_step_mm))),
          rows_(static_cast<std::size_t>(std::ceil(box.height_mm / table_step_mm))),
          step_mm_{box.width_mm / static_cast<double>(columns_), box.height_mm / static_cast<double>(rows_)} {
        for (std::size_t row = 0; row <= rows_; ++row)
            for (std::size_t column = 0; column <= columns_; ++column) {
                const Vec2 node{static_cast<double>(column) * step_mm_.x,
                                static_cast<double>(row) * step_mm_.y};
                shift_mm_.push_back(carry(node) - node);
            }
    }
    Vec2 operator()(Vec2 point_mm) const {
        const double u = std::clamp(point_mm.x / step_mm_.x, 0.0, static_cast<double>(columns_));
        const double v = std::clamp(point_mm.y / step_mm_.y, 0.0, static_cast<double>(rows_));
        const std::size_t column = std::min(static_cast<std::size_t>(u), columns_ - 1);
        const std::size_t row = std::min(static_cast<std::size_t>(v), rows_ - 1);
        const double s = u - static_cast<double>(column), t = v - static_cast<double>(row);
        const Vec2 *low = &shift_mm_[row * (columns_ + 1) + column], *high = low + columns_ + 1;
        return point_mm + (1 - t) * ((1 - s) * low[0] + s * low[1]) + t * ((1 - s) * high[0] + s * high[1]);
    }

  private:
    std::size_t columns_, rows_;
    Vec2 step_mm_;
    std::vector<Vec2> shift_mm_;
};

class WanderedMap final : public flow::FlowMap {
  public:
    WanderedMap(std::shared_ptr<const flow::FlowMap> map, const flow::Box& box, const HandWander& wander)
        : map_(std::move(map)),
          forth_(box, [&](Vec2 point_mm) { return wander.forth(point_mm); }),
          back_(box, [&](Vec2 point_mm) { return wander.back(point_mm); }) {}
    Vec2 origin_mm(Vec2 point_mm) const override { return forth_(map_->origin_mm(back_(point_mm))); }
    void to_origins_mm(Vec2* points_mm, std::size_t count) const override {
        std::transform(points_mm, points_mm + count, points_mm, back_);
        map_->to_origins_mm(points_mm, count);
        std::transform(points_mm, points_mm + count, points_mm, forth_);
    }
    double path_length_mm() const override { return map_->path_length_mm(); }
    std::unique_ptr<flow::Instant> at_fraction(double fraction) const override {
        return map_->at_fraction(fraction);
    }
    const flow::SolveReport& report() const override { return map_->report(); }

  private:
    std::shared_ptr<const flow::FlowMap> map_;
    Displacement forth_, back_;
};

}  // namespace

// The spline's coefficients are the nodes' values themselves (smoothed a little, which does no harm); they
// are mirrored with a change of sign at the rim, so that the stream function is zero on walls, floor and top.
HandWander::HandWander(const flow::Box& box, std::uint64_t seed, double wander_mm, double z_mm)
    : box_(box),
      columns_(std::max(4, static_cast<int>(std::ceil(box.width_mm / node_step_mm)))),
      rows_(std::max(4, static_cast<int>(std::ceil(box.height_mm / node_step_mm)))),
      step_mm_{box.width_mm / columns_, box.height_mm / rows_},
      psi_mm2_(static_cast<std::size_t>(columns_ + 3) * static_cast<std::size_t>(rows_ + 3)) {
    const std::uint64_t base = mixed_bits(seed ^ 0x4a4d);
    std::array<double, parts> share{};
    for (int part = 0; part < parts; ++part)
        share[static_cast<std::size_t>(part)] =
            smooth_field(base + 100 + static_cast<std::uint64_t>(part), z_mm, along_mm) / std::sqrt(parts);
    const double reach_mm = std::min({across_mm, box.width_mm, box.height_mm});
    const double strength = wander_mm * reach_mm / slope_of_field;
    const auto node = [&](int column, int row) -> double& {
        return psi_mm2_[static_cast<std::size_t>(row + 1) * static_cast<std::size_t>(columns_ + 3) +
                        static_cast<std::size_t>(column + 1)];
    };
    for (int row = 1; row < rows_; ++row)
        for (int column = 1; column < columns_; ++column) {
            double sum = 0;
            for (int part = 0; part < parts; ++part)
                sum += share[static_cast<std::size_t>(part)] *
                       smooth_field(base + static_cast<std::uint64_t>(part), column * step_mm_.x,
                                    row * step_mm_.y, reach_mm, reach_mm);
            node(column, row) = strength * sum * std::sin(std::numbers::pi * column / columns_) *
                                std::sin(std::numbers::pi * row / rows_);
        }
    for (int row = -1; row <= rows_ + 1; ++row) {
        node(-1, row) = -node(1, row);
        node(columns_ + 1, row) = -node(columns_ - 1, row);
    }
    for (int column = -1; column <= columns_ + 1; ++column) {
        node(column, -1) = -node(column, 1);
        node(column, rows_ + 1) = -node(column, rows_ - 1);
    }
}

Vec2 HandWander::velocity(Vec2 point_mm) const {
    const double u = std::clamp(point_mm.x / step_mm_.x, 0.0, static_cast<double>(columns_));
    const double v = std::clamp(point_mm.y / step_mm_.y, 0.0, static_cast<double>(rows_));
    const int column = std::min(static_cast<int>(u), columns_ - 1);
    const int row = std::min(static_cast<int>(v), rows_ - 1);
    const Weights across = cubic_weights(u - column), up = cubic_weights(v - row);
    double by_x = 0, by_y = 0;
    for (std::size_t q = 0; q < 4; ++q) {
        const double* line =
            &psi_mm2_[(static_cast<std::size_t>(row) + q) * static_cast<std::size_t>(columns_ + 3) +
                      static_cast<std::size_t>(column)];
        double value = 0, slope = 0;
        for (std::size_t p = 0; p < 4; ++p) {
            value += across.value[p] * line[p];
            slope += across.slope[p] * line[p];
        }
        by_x += up.value[q] * slope;
        by_y += up.slope[q] * value;
    }
    return {by_y / step_mm_.y, -by_x / step_mm_.x};
}

// The flow of the stream function over unit time, by Runge and Kutta's classic method.
Vec2 HandWander::carried(Vec2 point_mm, double sense) const {
    const double dt = sense / carry_steps;
    for (int step = 0; step < carry_steps; ++step) {
        const Vec2 a = velocity(point_mm);
        const Vec2 b = velocity(point_mm + (dt / 2) * a);
        const Vec2 c = velocity(point_mm + (dt / 2) * b);
        const Vec2 d = velocity(point_mm + dt * c);
        point_mm += (dt / 6) * (a + 2.0 * b + 2.0 * c + d);
    }
    return {std::clamp(point_mm.x, 0.0, box_.width_mm), std::clamp(point_mm.y, 0.0, box_.height_mm)};
}

std::shared_ptr<const flow::FlowMap> wandered(std::shared_ptr<const flow::FlowMap> map, const flow::Box& box,
                                              std::uint64_t seed, double wander_mm, double z_mm) {
    if (wander_mm == 0) return map;
    return std::make_shared<WanderedMap>(std::move(map), box, HandWander(box, seed, wander_mm, z_mm));
}

}  // namespace foreslice::picture
