#include "flow/tool.h"

namespace foreslice::flow {
namespace {

constexpr double pi = 3.14159265358979323846;

}  // namespace

ToolShape::ToolShape(const Stroke& stroke) : radius_mm_(stroke.wire_diameter_mm / 2) {
    const Tool& tool = stroke.tool;
    if (tool.kind == Tool::Kind::comb) {
        cores_.resize(static_cast<std::size_t>(std::max(1, tool.wires)));
        for (std::size_t k = 0; k < cores_.size(); ++k) {
            const double from_middle = static_cast<double>(k) - 0.5 * static_cast<double>(cores_.size() - 1);
            cores_[k].a = cores_[k].b = {from_middle * tool.spacing_mm, 0};
        }
    } else if (tool.kind == Tool::Kind::strip) {
        radius_mm_ = tool.thickness_mm / 2;
        const double half = 0.5 * (tool.width_mm - tool.thickness_mm), angle = tool.angle_deg * pi / 180;
        const Vec2 end = std::max(0.0, half) * Vec2{std::cos(angle), std::sin(angle)};
        cores_[0] = {-1.0 * end, end};
        round_ = half <= 0;
    }
    centred_ = cores_.size() == 1 && cores_[0] == Core{};
    samples_.clear();
    for (const Core& core : cores_) {
        const int pieces = static_cast<int>(std::ceil(length(core.b - core.a)));
        for (int k = 0; k <= pieces; ++k)
            samples_.push_back(core.a +
                               (pieces == 0 ? 0.0 : static_cast<double>(k) / pieces) * (core.b - core.a));
        left_ = std::max({left_, -core.a.x, -core.b.x});
        right_ = std::max({right_, core.a.x, core.b.x});
        below_ = std::max({below_, -core.a.y, -core.b.y});
        above_ = std::max({above_, core.a.y, core.b.y});
    }
}

double ToolShape::size_mm() const {
    return 2 * radius_mm_ + (round_ ? 0 : length(cores_[0].b - cores_[0].a));
}

Vec2 ToolShape::on_surface(Vec2 point, Vec2 middle) const {
    const Vec2 from_middle = point - middle;
    const Nearest near = nearest(from_middle);
    const Vec2 on_core = middle + (from_middle - near.from_core);
    return on_core + (radius_mm_ / std::max(std::sqrt(near.square), 1e-9)) * near.from_core;
}

// By strips: the level of a whole mould is what it is needed for.
double ToolShape::area_below_mm2(double height) const {
    constexpr int strips = 32;
    const double depth = std::clamp(height + below_mm(), 0.0, below_mm() + above_mm()) / strips;
    double area = 0;
    for (int k = 0; k < strips; ++k)
        for (const auto& [left, right] : cut_at((k + 0.5) * depth - below_mm()))
            area += depth * (right - left);
    return area;
}

std::vector<std::pair<double, double>> ToolShape::cut_at(double height) const {
    std::vector<std::pair<double, double>> parts;
    for (const Core& core : cores_) {
        // The ends' discs and, for a strip, where the line crosses its two sides; the shape is convex.
        double low = 1e30, high = -1e30;
        const auto reach = [&](double x) {
            low = std::min(low, x);
            high = std::max(high, x);
        };
        for (const Vec2 end : {core.a, core.b}) {
            const double off = height - end.y, square = radius_mm_ * radius_mm_ - off * off;
            if (square <= 0) continue;
            reach(end.x - std::sqrt(square));
            reach(end.x + std::sqrt(square));
        }
        const Vec2 along = core.b - core.a;
        if (along.y != 0) {
            const Vec2 normal = (radius_mm_ / length(along)) * Vec2{-along.y, along.x};
            for (const Vec2 side : {normal, -1.0 * normal}) {
                const double t = (height - core.a.y - side.y) / along.y;
                if (t >= 0 && t <= 1) reach(core.a.x + side.x + t * along.x);
            }
        }
        if (high > low) parts.emplace_back(low, high);
    }
    return parts;
}

}  // namespace foreslice::flow
