#include "flow/wire.h"

#include <cmath>

namespace foreslice::flow {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double marker_spacing_cells = 1.7;

struct Marker {
    Vec2 place_mm;
    bool horizontal;
};

std::vector<Vec2> ring(const Grid& grid, const Wire& wire) {
    const double h = grid.h();
    const double inset = (0.26 + 0.42 * h / wire.radius_mm) * h;  // see the header
    const double radius = std::max(wire.radius_mm - inset, 0.35 * h);
    const int count =
        std::max(4, static_cast<int>(std::lround(2 * pi * radius / (marker_spacing_cells * h))));
    std::vector<Vec2> places;
    for (int k = 0; k < count; ++k) {
        const double angle = 2 * pi * (k + 0.5) / count - pi / 2;  // symmetric about the vertical axis
        places.push_back(wire.centre_mm + radius * Vec2{std::cos(angle), std::sin(angle)});
    }
    return places;
}

// Three-point smoothed delta kernel (Roma, Peskin & Berger 1999, J. Comput. Phys. 153, 509): its
// interpolation changes least as the wire moves through the cells. r in cells.
double kernel(double r) {
    r = std::abs(r);
    if (r < 0.5) return (1 + std::sqrt(1 - 3 * r * r)) / 3;
    if (r < 1.5) return (5 - 3 * r - std::sqrt(std::max(0.0, 1 - 3 * (1 - r) * (1 - r)))) / 6;
    return 0;
}

// Velocity component at a point as a kernel average of the face velocities, as weights on psi.
NodeWeights velocity_weights(const Grid& grid, Vec2 place, bool horizontal) {
    const double fx = place.x / grid.hx - (horizontal ? 0.0 : 0.5);
    const double fy = place.y / grid.hy - (horizontal ? 0.5 : 0.0);
    const int i0 = static_cast<int>(std::lround(fx)), j0 = static_cast<int>(std::lround(fy));
    NodeWeights weights;
    for (int dj = -1; dj <= 1; ++dj)
        for (int di = -1; di <= 1; ++di) {
            const double share = kernel(fx - (i0 + di)) * kernel(fy - (j0 + dj));
            const int i = i0 + di, j = j0 + dj;
            if (horizontal) {
                weights.terms.push_back({i, j + 1, share / grid.hy});
                weights.terms.push_back({i, j, -share / grid.hy});
            } else {
                weights.terms.push_back({i + 1, j, -share / grid.hx});
                weights.terms.push_back({i, j, share / grid.hx});
            }
        }
    return weights;
}

// Markers that leave through the top let go gradually over the last cell, so that the flow does not jump as
// the wire passes from one to the next.
double softness_near_top(const Grid& grid, double y) {
    const double cells_below = grid.ny - y / grid.hy;
    const double t = std::clamp(cells_below - 0.5, 0.0, 1.0);
    return t >= 1 ? 0 : (1 - t) * (1 - t) / std::max(t * t, 1e-6);
}

// Known boundary nodes leave the condition and change its target instead.
double split_off_boundary(const Grid& grid, const std::vector<double>& top_psi, NodeWeights& weights) {
    double known = 0;
    std::vector<NodeWeights::Term> inner;
    for (const auto& term : weights.terms) {
        if (term.i <= 0 || term.i >= grid.nx || term.j <= 0) continue;  // psi = 0 there
        if (term.j >= grid.ny)
            known += term.weight * top_psi[static_cast<std::size_t>(term.i)];
        else
            inner.push_back(term);
    }
    weights.terms = std::move(inner);
    return known;
}

}  // namespace

std::vector<double> top_stream_function(const Grid& grid, const Wire& wire) {
    std::vector<double> top(static_cast<std::size_t>(grid.nx) + 1, 0.0);
    const double width = grid.nx * grid.hx, depth = grid.ny * grid.hy - wire.centre_mm.y;
    const double square = wire.radius_mm * wire.radius_mm - depth * depth;
    if (square <= 0) return top;
    const double half_chord = std::sqrt(square);
    const double left = std::max(0.0, wire.centre_mm.x - half_chord);
    const double right = std::min(width, wire.centre_mm.x + half_chord);
    const double inside = wire.velocity_mm_per_s.y;
    const double outside = -inside * (right - left) / (width - (right - left));
    for (int i = 0; i <= grid.nx; ++i) {
        const double x = i * grid.hx;
        const double covered = std::clamp(x, left, right) - left;
        top[static_cast<std::size_t>(i)] = -(inside * covered + outside * (x - covered));
    }
    top.front() = top.back() = 0;  // exact, not to round-off
    return top;
}

WireConditions wire_conditions(const BoxSolver& solver, const Wire& wire) {
    const Grid& grid = solver.grid();
    WireConditions out;
    out.top_psi = top_stream_function(grid, wire);
    const double highest = grid.ny * grid.hy - 0.5 * grid.hy;
    std::vector<NodeWeights> conditions;
    std::vector<double> targets;
    for (const Vec2 place : ring(grid, wire)) {
        if (place.y > highest) continue;
        for (const bool horizontal : {true, false}) {
            NodeWeights weights = velocity_weights(grid, place, horizontal);
            const double known = split_off_boundary(grid, out.top_psi, weights);
            if (weights.terms.empty()) continue;
            weights.softness = softness_near_top(grid, place.y);
            conditions.push_back(std::move(weights));
            targets.push_back((horizontal ? wire.velocity_mm_per_s.x : wire.velocity_mm_per_s.y) - known);
            out.horizontal.push_back(horizontal);
        }
    }
    if (conditions.empty()) {
        out.top_psi.assign(out.top_psi.size(), 0.0);
        return out;
    }
    out.in_batter = true;
    out.conditions = solver.prepare(conditions);
    out.targets =
        Eigen::Map<const Eigen::VectorXd>(targets.data(), static_cast<Eigen::Index>(targets.size()));
    return out;
}

}  // namespace foreslice::flow
