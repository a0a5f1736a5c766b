#include "design/inclusions.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace foreslice::design {
namespace {

constexpr int steps_a_piece = 8;

double distance_to_segment(Vec2 point, Vec2 a, Vec2 b) {
    const Vec2 along = b - a;
    const double square = dot(along, along);
    const double share = square > 0 ? std::clamp(dot(point - a, along) / square, 0.0, 1.0) : 0;
    return length(point - (a + share * along));
}

// Catmull-Rom; ends as if the line went straight on.
Vec2 on_spline(const std::vector<Vec2>& p, std::size_t piece, double t) {
    const Vec2 b = p[piece], c = p[piece + 1];
    const Vec2 a = piece > 0 ? p[piece - 1] : b + (b - c);
    const Vec2 d = piece + 2 < p.size() ? p[piece + 2] : c + (c - b);
    return 0.5 * (2.0 * b + t * (c - a) + (t * t) * (2.0 * a - 5.0 * b + 4.0 * c - d) +
                  (t * t * t) * (3.0 * (b - c) + d - a));
}

Vec2 turned(Vec2 point, double angle_deg) {
    const double angle = angle_deg * std::numbers::pi / 180, c = std::cos(angle), s = std::sin(angle);
    return {c * point.x - s * point.y, s * point.x + c * point.y};
}

}  // namespace

std::vector<Vec2> middle_line_mm(const Embed& embed) {
    std::vector<Vec2> line;
    const auto& points = embed.points_mm;
    for (std::size_t piece = 0; piece + 1 < points.size(); ++piece)
        for (int step = 0; step < steps_a_piece; ++step)
            line.push_back(on_spline(points, piece, static_cast<double>(step) / steps_a_piece));
    if (!points.empty()) line.push_back(points.back());
    if (line.empty()) return {{}};
    Vec2 low = line.front(), high = line.front();
    for (const Vec2 p : line) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    for (Vec2& p : line) p = p - 0.5 * (low + high);
    return line;
}

double distance_to_line_mm(const std::vector<Vec2>& line_mm, Vec2 point_mm) {
    double nearest = std::numeric_limits<double>::max();
    for (std::size_t i = 0; i < line_mm.size(); ++i)
        nearest = std::min(
            nearest, distance_to_segment(point_mm, line_mm[i], line_mm[std::min(i + 1, line_mm.size() - 1)]));
    return nearest;
}

double outside_mm(const Embed& embed, Vec2 from_middle_mm) {
    if (embed.shape == EmbedShape::disc) return length(from_middle_mm) - embed.width_mm / 2;
    if (embed.shape == EmbedShape::bar) {
        const double dx = std::abs(from_middle_mm.x) - embed.width_mm / 2;
        const double dy = std::abs(from_middle_mm.y) - embed.height_mm / 2;
        return std::hypot(std::max(dx, 0.0), std::max(dy, 0.0)) + std::min(std::max(dx, dy), 0.0);
    }
    return distance_to_line_mm(middle_line_mm(embed), from_middle_mm) - embed.height_mm / 2;
}

Vec2 half_size_mm(const Embed& embed, double angle_deg) {
    if (embed.shape == EmbedShape::disc) return {embed.width_mm / 2, embed.width_mm / 2};
    if (embed.shape == EmbedShape::bar) {
        const Vec2 one = turned({embed.width_mm / 2, embed.height_mm / 2}, angle_deg);
        const Vec2 other = turned({embed.width_mm / 2, -embed.height_mm / 2}, angle_deg);
        return {std::max(std::abs(one.x), std::abs(other.x)), std::max(std::abs(one.y), std::abs(other.y))};
    }
    Vec2 most{};
    for (const Vec2 p : middle_line_mm(embed)) {
        const Vec2 at = turned(p, angle_deg);
        most = {std::max(most.x, std::abs(at.x)), std::max(most.y, std::abs(at.y))};
    }
    return most + Vec2{embed.height_mm / 2, embed.height_mm / 2};
}

}  // namespace foreslice::design
