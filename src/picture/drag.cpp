#include "picture/drag.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace foreslice::picture {
namespace {

constexpr double coarsest_mm = 1, nodes_a_reach = 3;
constexpr double reaches_seen = 6;  // exp(-18) beyond

// P and its slope, summed over the line and its mirror images in the walls.
struct Profile {
    double value = 0, slope = 0;
};

Profile profile_of(const DragLine& line, double x_mm, double width_mm) {
    Profile sum;
    for (int image = -1; image <= 1; ++image)
        for (const double at : {line.x_mm, -line.x_mm}) {
            const double s = (x_mm - at - 2 * image * width_mm) / line.reach_mm;
            if (std::abs(s) > reaches_seen) continue;
            const double bell = std::exp(-0.5 * s * s);
            sum.value += s * bell;
            sum.slope += (1 - s * s) * bell;
        }
    return sum;
}

class Field {
  public:
    Field(double width_mm, const std::vector<DragLine>& lines) : width_mm_(width_mm), lines_(lines) {}
    Vec2 velocity(Vec2 p) const {
        Vec2 sum;
        for (const DragLine& line : lines_) {
            const double length = line.high_mm - line.low_mm, share = (p.y - line.low_mm) / length;
            if (share <= 0 || share >= 1) continue;
            const double pi = std::numbers::pi, sine = std::sin(pi * share);
            const Profile profile = profile_of(line, p.x, width_mm_);
            sum += Vec2{line.down_mm * line.reach_mm * profile.value * pi / length * std::sin(2 * pi * share),
                        -line.down_mm * profile.slope * sine * sine};
        }
        return sum;
    }

  private:
    double width_mm_;
    const std::vector<DragLine>& lines_;
};

Vec2 traced_back(const Field& field, Vec2 p, int steps) {
    const double h = -1.0 / steps;
    for (int i = 0; i < steps; ++i) {
        const Vec2 k1 = field.velocity(p), k2 = field.velocity(p + 0.5 * h * k1);
        const Vec2 k3 = field.velocity(p + 0.5 * h * k2), k4 = field.velocity(p + h * k3);
        p += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
    }
    return p;
}

// Weights of the four nodes round a place between the middle two (cubic through all four), shifted inwards at
// the ends of the lattice.
struct Stencil {
    int first;
    std::array<double, 4> weight;
};

Stencil stencil_at(double place, int cells) {
    const int first = std::clamp(static_cast<int>(std::floor(place)) - 1, 0, cells - 3);
    const double t = place - first;
    return {first,
            {-(t - 1) * (t - 2) * (t - 3) / 6, t * (t - 2) * (t - 3) / 2, -t * (t - 1) * (t - 3) / 2,
             t * (t - 1) * (t - 2) / 6}};
}

}  // namespace

Dragged::Dragged(const flow::Box& box, const std::vector<DragLine>& lines) : box_(box) {
    double step = coarsest_mm, fastest = 0;
    for (const DragLine& line : lines) {
        step = std::min(step, line.reach_mm / nodes_a_reach);
        fastest = std::max(fastest, std::abs(line.down_mm) / line.reach_mm);
    }
    nx_ = std::max(4, static_cast<int>(std::ceil(box.width_mm / step)));
    ny_ = std::max(4, static_cast<int>(std::ceil(box.height_mm / coarsest_mm)));
    const Field field(box.width_mm, lines);
    const int steps = 6 + static_cast<int>(std::ceil(4 * fastest));
    for (int j = 0; j <= ny_; ++j)
        for (int i = 0; i <= nx_; ++i) {
            const Vec2 p{box.width_mm * i / nx_, box.height_mm * j / ny_};
            moved_mm_.push_back(traced_back(field, p, steps) - p);
        }
}

std::optional<Bit> Dragged::back(Vec2& point_mm) const {
    const Stencil across = stencil_at(point_mm.x / box_.width_mm * nx_, nx_);
    const Stencil up = stencil_at(point_mm.y / box_.height_mm * ny_, ny_);
    Vec2 moved;
    for (int j = 0; j < 4; ++j) {
        Vec2 row;
        for (int i = 0; i < 4; ++i)
            row += across.weight[static_cast<std::size_t>(i)] * node(across.first + i, up.first + j);
        moved += up.weight[static_cast<std::size_t>(j)] * row;
    }
    point_mm = {std::clamp(point_mm.x + moved.x, 0.0, box_.width_mm),
                std::clamp(point_mm.y + moved.y, 0.0, box_.height_mm)};
    return std::nullopt;
}

}  // namespace foreslice::picture
