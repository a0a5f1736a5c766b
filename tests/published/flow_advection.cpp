// Carrying an outline in a prescribed flow through the room's spline of the stream function and the same
// fourth-order Runge-Kutta rule as its tracing.
#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <vector>

#include "flow/flow_samples.h"
#include "flow/spline_field.h"
#include "published/report.h"

using namespace foreslice;
using namespace foreslice::testing;
using namespace foreslice::flow;

namespace {

constexpr double pi = 3.14159265358979323846;
using Velocity = std::function<Vec2(Vec2)>;
using Outline = std::vector<Vec2>;

// From time `from` to `to` in equal steps; the flow is `velocity` times `amplitude(t)`.
void carry(Outline& outline, const Velocity& velocity, const std::function<double(double)>& amplitude,
           double from, double to, int steps) {
    const double dt = (to - from) / steps;
    for (int step = 0; step < steps; ++step) {
        const double t = from + step * dt;
        const double now = amplitude(t), middle = amplitude(t + dt / 2), then = amplitude(t + dt);
        for (Vec2& p : outline) {
            const Vec2 k1 = now * velocity(p), k2 = middle * velocity(p + (dt / 2) * k1);
            const Vec2 k3 = middle * velocity(p + (dt / 2) * k2), k4 = then * velocity(p + dt * k3);
            p += (dt / 6) * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
        }
    }
}

double area_of(const Outline& outline) {
    double sum = 0;
    for (std::size_t k = 0; k < outline.size(); ++k) {
        const Vec2 a = outline[k], b = outline[(k + 1) % outline.size()];
        sum += 0.5 * (a.x * b.y - a.y * b.x);
    }
    return sum;
}

double length_of(const Outline& outline) {
    double sum = 0;
    for (std::size_t k = 0; k < outline.size(); ++k)
        sum += length(outline[(k + 1) % outline.size()] - outline[k]);
    return sum;
}

// Area between two outlines of corresponding points: quadrilaterals between neighbours, each counted whole.
double area_between(const Outline& a, const Outline& b) {
    double sum = 0;
    for (std::size_t k = 0; k < a.size(); ++k) {
        const std::size_t n = (k + 1) % a.size();
        const Vec2 along = 0.5 * ((a[n] - a[k]) + (b[n] - b[k])), off = 0.5 * ((b[k] - a[k]) + (b[n] - a[n]));
        sum += std::abs(along.x * off.y - along.y * off.x);
    }
    return sum;
}

Outline circle(Vec2 centre, double radius, std::size_t count) {
    Outline outline;
    for (std::size_t k = 0; k < count; ++k) {
        const double angle = 2 * pi * static_cast<double>(k) / static_cast<double>(count);
        outline.push_back(centre + radius * Vec2{std::cos(angle), std::sin(angle)});
    }
    return outline;
}

SplineField field_of(const Grid& grid, const std::function<double(double, double)>& psi) {
    std::vector<double> nodes(grid.nodes());
    for (int j = 0; j <= grid.ny; ++j)
        for (int i = 0; i <= grid.nx; ++i) nodes[grid.node(i, j)] = psi(i * grid.hx, j * grid.hy);
    return {grid, nodes, 1};
}

Velocity velocity_of(const SplineField& field) {
    return [&field](Vec2 p) {
        const Vec2 gradient = field.gradient(p);
        return Vec2{gradient.y, -gradient.x};
    };
}

double vortex_psi(double x, double y) {
    return std::pow(std::sin(pi * x) * std::sin(pi * y), 2) / pi;
}

Vec2 vortex_velocity(Vec2 p) {
    return {std::pow(std::sin(pi * p.x), 2) * std::sin(2 * pi * p.y),
            -std::pow(std::sin(pi * p.y), 2) * std::sin(2 * pi * p.x)};
}

}  // namespace

// Rider & Kothe 1998 (J. Comput. Phys. 141, 112): psi = sin^2(pi x) sin^2(pi y) / pi * cos(pi t / T), circle
// of radius 0.15 at (0.5, 0.75), T = 8. Area errors at t = T of volume-of-fluid methods as quoted in table 9
// of a paper on the THINC/QQ method (read there; the paper from memory: Xie & Xiao 2017, J. Comput. Phys.
// 349, 415): Rider-Kothe with Puckett's reconstruction 6.96e-3 at 64^2, 1.44e-3 at 128^2; the best
// listed 6.58e-3 and 1.07e-3 (Lopez et al.). Computed reference (exact velocity, Runge-Kutta with 800 steps,
// returns to 1e-8): the outline is 6.45034 long at T/2. The reversal alone would forgive any error of the
// velocity, so the outline at T/2 is held against the one carried by the exact velocity too. The spline's top
// end is that of a free surface (psi without curvature), which this psi does not have at y = 1. The grid is
// therefore twice as tall: psi goes on periodically and the end lies a hundred cells away.
TEST_CASE("Reversed single vortex, Rider & Kothe 1998: far below the volume-of-fluid figures") {
    const double period = 8;
    const auto amplitude = [&](double t) { return std::cos(pi * t / period); };
    const Outline start = circle({0.5, 0.75}, 0.15, 6000);
    Outline exact = start;
    carry(exact, vortex_velocity, amplitude, 0, period / 2, 200);
    CHECK(length_of(exact) == doctest::Approx(6.45034).scale(0).epsilon(1e-4));
    const struct {
        int cells;
        double best_published, half_way;
    } rows[] = {{64, 6.58e-3, 2e-4}, {128, 1.07e-3, 2e-5}};
    for (const auto& row : rows) {
        const SplineField field = field_of(Grid({1, 2}, row.cells), vortex_psi);
        Outline outline = start;
        carry(outline, velocity_of(field), amplitude, 0, period / 2, 200);
        const double stretched = length_of(outline), off_half_way = area_between(exact, outline);
        const double area_half_way = area_of(outline) / area_of(start) - 1;
        carry(outline, velocity_of(field), amplitude, period / 2, period, 200);
        const double off = area_between(start, outline), area = area_of(outline) / area_of(start) - 1;
        MESSAGE(row.cells << "^2: length " << stretched << ", L1 at T/2 " << off_half_way << ", area at T/2 "
                          << area_half_way << ", L1 at T " << off << ", area at T " << area);
        compare_worst({"Rider & Kothe 1998; a tenth of the best volume-of-fluid figure listed",
                       "reversed single vortex, T = 8, " + std::to_string(row.cells) + " cells: area off", 1},
                      off, row.best_published / 10);
        CHECK(std::abs(area) < 1e-4);
        CHECK(std::abs(area_half_way) < 1e-4);
        CHECK(stretched == doctest::Approx(6.450).scale(0).epsilon(0.01));
        CHECK(off_half_way < row.half_way);
    }
}

// Zalesak 1979 (J. Comput. Phys. 31, 335): a slotted disc turned once round (0.5, 0.5); shape from memory:
// radius 0.15 at (0.5, 0.75), slot 0.05 wide up to y = 0.85. Relative errors after one turn in Rudman's
// variant as quoted in table 8 of the same THINC/QQ paper: Youngs 1.09e-2, Stream/Puckett 1.00e-2, the best
// listed 8.74e-3 (EMFPA-SIR). The rotation is rigid within 0.42 of the middle and fades smoothly to rest
// at 0.5, so that psi and its slope vanish on the sides.
TEST_CASE("Slotted disc, Zalesak 1979: far below the volume-of-fluid figures") {
    const double rigid = 0.42 * 0.42, rest = 0.5 * 0.5;
    const auto psi = [&](double x, double y) {
        const double q = (x - 0.5) * (x - 0.5) + (y - 0.5) * (y - 0.5);
        const double t = std::min(1.0, std::max(0.0, (rest - q) / (rest - rigid)));
        const double faded = (rest - rigid) * std::pow(t, 4) * (t * t - 3 * t + 2.5);
        return -0.5 * (faded + std::max(0.0, rigid - q));  // anticlockwise, one radian per unit of time
    };
    const SplineField field = field_of(Grid({1, 1}, 100), psi);
    Outline start;
    const double half = 0.025, low = 0.75 - std::sqrt(0.15 * 0.15 - half * half),
                 tip = std::asin(half / 0.15);
    for (int k = 0; k <= 2000; ++k) {
        const double angle = -pi / 2 + tip + (2 * pi - 2 * tip) * k / 2000;
        start.push_back({0.5 + 0.15 * std::cos(angle), 0.75 + 0.15 * std::sin(angle)});
    }
    const auto side = [&](Vec2 from, Vec2 to) {
        for (int k = 1; k < 300; ++k) start.push_back(from + (k / 300.0) * (to - from));
        start.push_back(to);
    };
    side({0.5 - half, low}, {0.5 - half, 0.85});
    side({0.5 - half, 0.85}, {0.5 + half, 0.85});
    side({0.5 + half, 0.85}, {0.5 + half, low});
    REQUIRE(area_of(start) == doctest::Approx(0.0582).scale(0).epsilon(0.01));
    Outline outline = start;
    carry(
        outline, velocity_of(field), [](double) { return 1.0; }, 0, 2 * pi, 100);
    const double off = area_between(start, outline) / area_of(start);
    MESSAGE("relative error " << off << ", area " << area_of(outline) / area_of(start) - 1);
    compare_worst({"Zalesak 1979; a tenth of the best volume-of-fluid figure listed",
                   "slotted disc, one turn, 100 cells: area off", 1},
                  off, 8.74e-3 / 10);
    CHECK(std::abs(area_of(outline) / area_of(start) - 1) < 1e-4);
    // It did turn: half way it stands on its head.
    Outline half_way = start;
    carry(
        half_way, velocity_of(field), [](double) { return 1.0; }, 0, pi, 50);
    Outline turned = start;
    for (Vec2& p : turned) p = {1 - p.x, 1 - p.y};
    CHECK(area_between(half_way, turned) / area_of(start) < 1e-3);
}
