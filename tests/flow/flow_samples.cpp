#include "flow/flow_samples.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

namespace foreslice::testing {

flow::Stroke passes(const flow::Box& box, int count, double diameter, double speed) {
    const double radius = diameter / 2, air = box.height_mm + radius + 1;
    const double low = 4 + radius, high = box.height_mm - 8 - radius;
    const double spacing = count > 1 ? (box.width_mm - 16) / (count - 1) : box.width_mm / 4;
    flow::Stroke stroke{diameter, speed, {}};
    double x = 8;
    for (int k = 0; k < count; ++k) {
        const bool down = k % 2 == 0;
        stroke.path_mm.push_back({x, down ? (k == 0 ? air : high) : low});
        stroke.path_mm.push_back({x, down ? low : (k + 1 == count ? air : high)});
        x += spacing;
    }
    if (count % 2 == 1) {
        const Vec2 last = stroke.path_mm.back();
        const double lift = last.x + (count > 1 ? -0.5 : 0.5) * spacing;
        stroke.path_mm.push_back({lift, low});
        stroke.path_mm.push_back({lift, air});
    }
    return stroke;
}

std::vector<double> with_sides(const flow::Grid& grid, const std::vector<double>& interior) {
    std::vector<double> psi(grid.nodes(), 0.0);
    std::size_t at = 0;
    for (int j = 1; j < grid.ny; ++j)
        for (int i = 1; i < grid.nx; ++i) psi[grid.node(i, j)] = interior[at++];
    return psi;
}

std::vector<double> scattered(std::size_t count, unsigned seed) {
    std::vector<double> values(count);
    unsigned state = seed * 2654435761U + 1;
    for (double& value : values) {
        state = state * 1664525U + 1013904223U;
        value = static_cast<double>(state >> 8) / (1 << 23) - 1;
    }
    return values;
}

flow::PositionFlow closely_solved(const flow::Box& box, int cells_across, const batter::Rheology& rheology,
                                  const flow::Wire& wire, double tolerance) {
    const auto solver = std::make_shared<flow::BoxSolver>(flow::Grid(box, cells_across));
    flow::SplitControl control;
    control.tolerance = tolerance;
    control.most_iterations = 5000;
    flow::SplitState cold;
    return flow::CreepingFlow(solver, rheology).solve(wire, control, cold);
}

flow::LegFlow newtonian_leg(const flow::Box& box, int cells_across, Vec2 start, Vec2 end, double radius,
                            double spacing) {
    const auto solver = std::make_shared<flow::BoxSolver>(flow::Grid(box, cells_across));
    flow::SplitState state;
    Progress progress;
    return flow::LegFlow(flow::CreepingFlow(solver, {1, 1, 0}), box, start, end, radius, 50, spacing, {},
                         state, progress);
}

std::vector<double> shares_of_layers(const flow::FlowMap& map, const flow::Box& box, int layers,
                                     double pitch_mm) {
    const auto nx = static_cast<std::size_t>(std::lround(box.width_mm / pitch_mm));
    const auto ny = static_cast<std::size_t>(std::lround(box.height_mm / pitch_mm));
    const double across = static_cast<double>(nx), up = static_cast<double>(ny);
    std::vector<double> share(static_cast<std::size_t>(layers), 0.0);
    std::vector<Vec2> row(nx);
    // Anywhere in its square, or a level boundary that did not move would count to whole rows.
    std::mt19937_64 random(5);
    const auto within = [&] { return static_cast<double>(random() >> 11) * 0x1p-53; };
    for (std::size_t j = 0; j < ny; ++j) {
        for (std::size_t i = 0; i < nx; ++i) {
            row[i].x = (static_cast<double>(i) + within()) * box.width_mm / across;
            row[i].y = (static_cast<double>(j) + within()) * box.height_mm / up;
        }
        map.to_origins_mm(row.data(), nx);
        for (const Vec2 origin : row) {
            if (!(origin.x >= 0 && origin.x <= box.width_mm && origin.y >= 0 && origin.y <= box.height_mm))
                throw std::logic_error("an origin outside the box");
            const int layer = static_cast<int>(origin.y / box.height_mm * layers);
            share[static_cast<std::size_t>(std::min(layers - 1, layer))] += 1 / across / up;
        }
    }
    return share;
}

std::vector<Vec2> lattice(const flow::Box& box, double pitch) {
    const int nx = static_cast<int>(std::lround(box.width_mm / pitch));
    const int ny = static_cast<int>(std::lround(box.height_mm / pitch));
    std::vector<Vec2> points;
    for (int j = 0; j <= ny; ++j)
        for (int i = 0; i <= nx; ++i) points.push_back({box.width_mm * i / nx, box.height_mm * j / ny});
    return points;
}

}  // namespace foreslice::testing
