#include "flow/wire.h"

#include <algorithm>
#include <cmath>

namespace foreslice::flow {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double marker_spacing_cells = 1.7;

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

// Markers that leave through the top let go gradually, so that the flow does not jump each time that one
// goes.
double softness_near_top(const Grid& grid, double y, double over_cells) {
    const double cells_below = grid.ny - y / grid.hy;
    const double t = std::clamp((cells_below - 0.5) / over_cells, 0.0, 1.0);
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

// From where to where (mm) the tool cuts the top, left to right.
std::vector<std::pair<double, double>> cut_out_of_top(const Grid& grid, const Wire& wire) {
    auto chords = wire.tool.cut_at(grid.height_mm() - wire.centre_mm.y);
    for (auto& [left, right] : chords) {
        left = std::max(0.0, wire.centre_mm.x + left);
        right = std::min(grid.width_mm(), wire.centre_mm.x + right);
    }
    return chords;
}

}  // namespace

double level_rise_mm_per_s(const Grid& grid, const Wire& wire) {
    const double width = grid.width_mm(), height = grid.height_mm();
    double cut = 0;
    for (const auto& [left, right] : cut_out_of_top(grid, wire)) cut += right - left;
    if (cut == 0) return 0;
    const double batter_mm2 = width * height - wire.tool.area_below_mm2(height - wire.centre_mm.y);
    return -wire.velocity_mm_per_s.y * cut * height / batter_mm2;
}

Vec2 velocity_in_stream_mm_per_s(const Grid& grid, const Wire& wire) {
    const double height = grid.height_mm();
    const double low = wire.centre_mm.y - wire.tool.below_mm(),
                 high = std::min(height, wire.centre_mm.y + wire.tool.above_mm());
    return wire.velocity_mm_per_s + Vec2{0, level_rise_mm_per_s(grid, wire) * 0.5 * (low + high) / height};
}

std::vector<double> top_stream_function(const Grid& grid, const Wire& wire) {
    std::vector<double> top(static_cast<std::size_t>(grid.nx) + 1, 0.0);
    const auto chords = cut_out_of_top(grid, wire);
    if (chords.empty()) return top;
    double cut = 0;
    for (const auto& [left, right] : chords) cut += right - left;
    const double outside = level_rise_mm_per_s(grid, wire);
    const double inside = -outside * (grid.width_mm() - cut) / cut;
    for (int i = 0; i <= grid.nx; ++i) {
        const double x = i * grid.hx;
        double covered = 0;
        for (const auto& [left, right] : chords) covered += std::clamp(x, left, right) - left;
        top[static_cast<std::size_t>(i)] = -(inside * covered + outside * (x - covered));
    }
    top.front() = top.back() = 0;  // exact, not to round-off
    return top;
}

std::vector<Vec2> ring(const Grid& grid, Vec2 centre, double ring_radius) {
    const int count =
        std::max(4, static_cast<int>(std::lround(2 * pi * ring_radius / (marker_spacing_cells * grid.h()))));
    std::vector<Vec2> places;
    for (int k = 0; k < count; ++k) {
        const double angle = 2 * pi * (k + 0.5) / count - pi / 2;  // symmetric about the vertical axis
        places.push_back(centre + ring_radius * Vec2{std::cos(angle), std::sin(angle)});
    }
    return places;
}

double ring_inset_mm(const Grid& grid, double radius) {
    const double h = grid.h();
    return (0.26 + 0.42 * h / radius) * h;  // see the header
}

WireConditions conditions_at(const BoxSolver& solver, const std::vector<Marker>& markers,
                             std::vector<double> top_psi, double letting_go_cells) {
    const Grid& grid = solver.grid();
    WireConditions out;
    out.top_psi = std::move(top_psi);
    const double highest = grid.ny * grid.hy - 0.5 * grid.hy;
    std::vector<NodeWeights> conditions;
    std::vector<double> targets;
    for (const Marker& marker : markers) {
        if (marker.place_mm.y > highest) continue;
        for (const bool horizontal : {true, false}) {
            NodeWeights weights = velocity_weights(grid, marker.place_mm, horizontal);
            const double known = split_off_boundary(grid, out.top_psi, weights);
            if (weights.terms.empty()) continue;
            weights.softness = softness_near_top(grid, marker.place_mm.y, letting_go_cells);
            conditions.push_back(std::move(weights));
            targets.push_back((horizontal ? marker.velocity_mm_per_s.x : marker.velocity_mm_per_s.y) - known);
            out.horizontal.push_back(horizontal);
        }
    }
    // A tool that barely touches has no marker in the batter yet; it lifts the level all the same.
    out.in_batter = !conditions.empty() ||
                    std::any_of(out.top_psi.begin(), out.top_psi.end(), [](double psi) { return psi != 0; });
    if (conditions.empty()) return out;
    out.conditions = solver.prepare(conditions);
    out.targets =
        Eigen::Map<const Eigen::VectorXd>(targets.data(), static_cast<Eigen::Index>(targets.size()));
    return out;
}

namespace {

// Along the middle line when the two sides of the outline would lie closer than the kernel tells apart.
constexpr double least_outline_cells = 0.6;
constexpr double line_end_cells =
    0.9;  // how much shorter than the strip its line of markers is at either end

std::vector<Vec2> along_line(Vec2 from, Vec2 to, double spacing, bool with_ends) {
    const double extent = length(to - from);
    const int pieces = std::max(1, static_cast<int>(std::lround(extent / spacing)));
    std::vector<Vec2> places;
    for (int k = with_ends ? 0 : 1; k < pieces + (with_ends ? 1 : 0); ++k)
        places.push_back(from + (static_cast<double>(k) / pieces) * (to - from));
    return places;
}

std::vector<Vec2> strip_places(const Grid& grid, Vec2 a, Vec2 b, double radius) {
    const double h = grid.h(), spacing = marker_spacing_cells * h;
    const Vec2 along = (1 / length(b - a)) * (b - a);
    const double inner = radius - ring_inset_mm(grid, std::max(radius, h));
    if (inner < least_outline_cells * h) {
        const double shorter = std::min(line_end_cells * h - radius, 0.4 * length(b - a));
        return along_line(a + shorter * along, b - shorter * along, spacing, true);
    }
    const Vec2 side = inner * Vec2{-along.y, along.x};
    std::vector<Vec2> places = along_line(a + side, b + side, spacing, true);
    const auto other = along_line(b - side, a - side, spacing, true);
    places.insert(places.end(), other.begin(), other.end());
    const int turn = static_cast<int>(std::lround(pi * inner / spacing));
    for (int k = 1; k < turn; ++k) {
        const double angle = pi * k / turn;
        const Vec2 out = inner * std::sin(angle) * along, up = std::cos(angle) * side;
        places.push_back(b + out + up);
        places.push_back(a - out + up);
    }
    return places;
}

std::vector<Vec2> tool_places(const Grid& grid, const Wire& wire) {
    const double radius = wire.tool.radius_mm();
    const double inner = std::max(radius - ring_inset_mm(grid, radius), 0.35 * grid.h());
    std::vector<Vec2> places;
    for (const auto& core : wire.tool.cores()) {
        const Vec2 a = wire.centre_mm + core.a, b = wire.centre_mm + core.b;
        const auto more = core.a == core.b ? ring(grid, a, inner) : strip_places(grid, a, b, radius);
        places.insert(places.end(), more.begin(), more.end());
    }
    return places;
}

}  // namespace

WireConditions wire_conditions(const BoxSolver& solver, const Wire& wire) {
    const Vec2 velocity = velocity_in_stream_mm_per_s(solver.grid(), wire);
    std::vector<Marker> markers;
    for (const Vec2 place : tool_places(solver.grid(), wire)) markers.push_back({place, velocity});
    // Round a wire from one marker to the next; those of a level strip go all at once.
    const double letting_go_cells = wire.tool.round() ? marker_spacing_cells : 1;
    return conditions_at(solver, markers, top_stream_function(solver.grid(), wire), letting_go_cells);
}

}  // namespace foreslice::flow
