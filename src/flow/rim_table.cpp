#include "flow/rim_table.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "flow/bicubic.h"
#include "flow/film_tables.h"
#include "flow/run_map.h"

namespace foreslice::flow {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr int cells_round = 64, cells_outward = 24;
constexpr int row =
    cells_round + 3;  // the first is the one before angle zero, the last two come after a turn
// Below this gap (in radii) cells are equally wide, beyond it they widen.
constexpr double even_gap_radii = 0.03;

}  // namespace

RimTable::RimTable(const Run& run, Vec2 centre, double radius, double width, double tolerance,
                   WorkerPool& pool, Progress& progress)
    : centre_mm_(centre), radius_mm_(radius), width_mm_(width) {
    trace(run, pool, progress);
    test(run, tolerance, pool, progress);
    traced_points_ = static_cast<std::size_t>(cells_round) * (2 * cells_outward + 1);
}

RimTable::Place RimTable::place_of(Vec2 from_centre, double distance) const {
    const double even = even_gap_radii * radius_mm_;
    double turn = std::atan2(from_centre.y, from_centre.x) / (2 * pi);
    if (turn < 0) turn += 1;
    return {turn * cells_round, cells_outward * std::log1p(std::max(0.0, distance - radius_mm_) / even) /
                                    std::log1p(width_mm_ / even)};
}

Vec2 RimTable::point_at(Place place) const {
    const double even = even_gap_radii * radius_mm_;
    const double gap = even * std::expm1(place.outward / cells_outward * std::log1p(width_mm_ / even));
    const double angle = 2 * pi * place.round / cells_round;
    return centre_mm_ + (radius_mm_ + gap) * Vec2{std::cos(angle), std::sin(angle)};
}

// In groups that lie together, since points of a group share their steps.
void RimTable::trace(const Run& run, WorkerPool& pool, Progress& progress) {
    moves_.resize(2 * static_cast<std::size_t>(row) * (cells_outward + 1));
    constexpr int together = 8;
    pool.parallel_for((cells_outward + 1) * (cells_round / together), [&](std::size_t group) {
        progress.check();
        const int out = static_cast<int>(group) / (cells_round / together);
        const int first = static_cast<int>(group) % (cells_round / together) * together;
        std::array<Vec2, together> points, moved;
        for (int k = 0; k < together; ++k)
            points[static_cast<std::size_t>(k)] =
                point_at({static_cast<double>(first + k), static_cast<double>(out)});
        moved = points;
        run.trace_back(moved.data(), together);
        for (int k = 0; k < together; ++k) {
            const Vec2 move = moved[static_cast<std::size_t>(k)] - points[static_cast<std::size_t>(k)];
            float* at =
                &moves_[2 * (static_cast<std::size_t>(out) * row + static_cast<std::size_t>(first + k) + 1)];
            at[0] = static_cast<float>(move.x);
            at[1] = static_cast<float>(move.y);
        }
    });
    for (int out = 0; out <= cells_outward; ++out) {
        float* line = &moves_[2 * static_cast<std::size_t>(out) * row];
        std::copy_n(line + 2 * cells_round, 2, line);
        std::copy_n(line + 2, 4, line + 2 * (cells_round + 1));
    }
}

// The middle of every cell.
void RimTable::test(const Run& run, double tolerance, WorkerPool& pool, Progress& progress) {
    holds_.assign(static_cast<std::size_t>(cells_round) * cells_outward, 0);
    constexpr int together = 8;
    pool.parallel_for(holds_.size() / together, [&](std::size_t group) {
        progress.check();
        const int out = static_cast<int>(group) / (cells_round / together);
        const int first = static_cast<int>(group) % (cells_round / together) * together;
        std::array<Vec2, together> points, moved;
        for (int k = 0; k < together; ++k)
            points[static_cast<std::size_t>(k)] = point_at({first + k + 0.5, out + 0.5});
        moved = points;
        run.trace_back(moved.data(), together);
        for (int k = 0; k < together; ++k) {
            const auto n = static_cast<std::size_t>(k);
            const double low = first + k, near = out;
            const Vec2 rise = interpolated({low + 1, near + 1}) - interpolated({low, near});
            const Vec2 span = point_at({low + 1, near + 1}) - point_at({low, near});
            const double allowed =
                tolerance * std::clamp(length(span + rise) / length(span), 1.0, steepest_gradient);
            const Vec2 error = interpolated({low + 0.5, near + 0.5}) - (moved[n] - points[n]);
            holds_[group * together + n] = length(error) <= allowed;
        }
    });
}

Vec2 RimTable::interpolated(Place place) const {
    const int i = std::clamp(static_cast<int>(place.round), 0, cells_round - 1);
    const int j = std::clamp(static_cast<int>(place.outward) - 1, 0, cells_outward - 3);
    return bicubic(&moves_[2 * (static_cast<std::size_t>(j) * row + static_cast<std::size_t>(i))], row, 1,
                   place.round - i + 1, place.outward - j);
}

bool RimTable::look_up(Vec2 point, Vec2& displacement) const {
    const Vec2 from_centre = point - centre_mm_;
    const double distance = length(from_centre);
    if (distance < radius_mm_ || distance > radius_mm_ + width_mm_) return false;
    const Place place = place_of(from_centre, distance);
    const int i = std::min(static_cast<int>(place.round), cells_round - 1);
    const int j = std::min(static_cast<int>(place.outward), cells_outward - 1);
    if (!holds_[static_cast<std::size_t>(j) * cells_round + static_cast<std::size_t>(i)]) return false;
    displacement = interpolated(place);
    return true;
}

}  // namespace foreslice::flow
