// Combs and strips: what they share with one wire, and what the map keeps under them.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include "flow/flow_samples.h"
#include "flow/path_plan.h"
#include "flow/tool.h"
#include "foundation/error.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

const batter::Rheology newtonian{1, 1, 0};
const batter::Rheology light{1.2, 0.75, 3};
const Box box{65, 60};

Tool comb(int wires, double spacing) {
    Tool tool;
    tool.kind = Tool::Kind::comb;
    tool.wires = wires;
    tool.spacing_mm = spacing;
    return tool;
}

Tool strip(double width, double thickness, double angle) {
    Tool tool;
    tool.kind = Tool::Kind::strip;
    tool.width_mm = width;
    tool.thickness_mm = thickness;
    tool.angle_deg = angle;
    return tool;
}

std::shared_ptr<const FlowMap> map_of(const batter::Rheology& rheology, const Stroke& stroke,
                                      const Resolution& resolution = {}) {
    WorkerPool pool;
    FlowEngine engine(pool);
    Progress progress;
    return engine.map(box, rheology, {stroke}, resolution, progress);
}

const Tool tools[] = {comb(3, 15), strip(20, 1, 0), strip(14, 3, 30)};

}  // namespace

TEST_CASE("A comb of one wire is one wire, bit for bit") {
    const std::vector<Vec2> path{{28, 64}, {28, 12}, {40, 12}, {40, 64}};
    for (const auto& rheology : {newtonian, light}) {
        const auto wire = map_of(rheology, {6, 50, path}, {48, 3, 0.1});
        const auto one = map_of(rheology, {6, 50, path, comb(1, 15)}, {48, 3, 0.1});
        for (const Vec2 p : lattice(box, 1.1)) REQUIRE(wire->origin_mm(p) == one->origin_mm(p));
    }
}

TEST_CASE("Two wires far apart in thick batter: each as if alone") {
    const Box wide{100, 60};
    const batter::Rheology thick{1, 1, 125};  // Bn 10: a wire's flow reaches five radii beside it
    const Vec2 middle{50, 30}, aside{20, 0}, down{0, -50};
    const ToolShape pair(Stroke{4, 50, {}, comb(2, 40)});
    REQUIRE(pair.cores().size() == 2);
    const auto together = closely_solved(wide, 100, thick, {middle, pair, down}, 1e-4);
    const auto left = closely_solved(wide, 100, thick, {middle - aside, 2, down}, 1e-4);
    const auto right = closely_solved(wide, 100, thick, {middle + aside, 2, down}, 1e-4);
    CHECK(together.force_n_per_m.y ==
          doctest::Approx(left.force_n_per_m.y + right.force_n_per_m.y).epsilon(0.03));
    const Grid grid(wide, 100);
    const SplineField all(grid, together.psi, 1), a(grid, left.psi, 1), b(grid, right.psi, 1);
    double worst = 0;
    for (const Vec2 p : lattice(wide, 1)) {
        const Vec2 sum = a.gradient(p) + b.gradient(p);
        worst = std::max(worst, length(all.gradient(p) - sum));
    }
    MESSAGE("velocity of the pair less those of the singles: up to " << 100 * worst / 50
                                                                     << " % of the wires'");
    CHECK(worst < 0.04 * 50);
}

TEST_CASE("A tool drawn down and straight up again leaves the layers as they were") {
    for (const Tool& tool : tools)
        for (const auto& rheology : {newtonian, light}) {
            CAPTURE(static_cast<int>(tool.kind));
            CAPTURE(tool.angle_deg);
            CAPTURE(rheology.yield_stress_pa);
            const double start = 40;
            const auto map =
                map_of(rheology, {4, 50, {{31, start}, {31, 18}, {31, start}}, tool}, {64, 2, 0.05});
            const ToolShape shape(Stroke{4, 50, {}, tool});
            double worst = 0, sum = 0;
            int count = 0;
            for (const Vec2 p : lattice(box, 0.5)) {
                const double off = length(map->origin_mm(p) - p);
                sum += off;
                ++count;
                if (p.x < 31 - shape.left_mm() - 2 || p.x > 31 + shape.right_mm() + 2)
                    worst = std::max(worst, off);
            }
            MESSAGE("mean " << sum / count << " mm, worst beside the tool's way " << worst << " mm");
            CHECK(worst < 0.3);
            CHECK(sum / count < 0.1);
        }
}

TEST_CASE("A stroke of a tool keeps the area of every layer (long)") {
    for (const Tool& tool : tools)
        for (const auto& rheology : {newtonian, light}) {
            CAPTURE(static_cast<int>(tool.kind));
            CAPTURE(tool.angle_deg);
            CAPTURE(rheology.yield_stress_pa);
            const auto map =
                map_of(rheology, {4, 50, {{26, 70}, {26, 14}, {38, 14}, {38, 70}}, tool}, {80, 2, 0.05});
            const auto share = shares_of_layers(*map, box, 5, 0.1);
            for (const double part : share) {
                MESSAGE("a fifth of the face became " << 100 * part << " % of it");
                CHECK(std::abs(part - 0.2) < 2e-3);
            }
        }
}

// A plate of width w broadside in slow flow drags like a round wire of radius w e^(1/2) / 4, edgewise like
// one of radius w e^(-1/2) / 4, when walls are far: a line of Stokeslets of strength F / (pi sqrt(w^2/4 -
// x^2)) moves all its points at F / (4 pi mu) ln(4/w), and by F / (4 pi mu) more edgewise; a disc's surface
// at F / (4 pi mu) (1/2 - ln r). (The same limits as in Lamb's Hydrodynamics, art. 343, from memory.) The
// wire's drag in the same box is held against references in tests/published/flow_drag.cpp.
TEST_CASE("A thin strip drags like the thin plate: broadside and edgewise") {
    const Box large{90, 70};
    const Vec2 middle{45, 35};
    const double width = 12;
    double off[2][2];
    for (int level = 0; level < 2; ++level) {
        const int cells = 96 << level;
        const ToolShape plate(Stroke{1, 50, {}, strip(width, 0.5, 0)});
        const auto drag = [&](const ToolShape& tool, Vec2 velocity) {
            return dot(closely_solved(large, cells, newtonian, {middle, tool, velocity}).force_n_per_m,
                       velocity);
        };
        off[level][0] = drag(plate, {0, 1}) / drag(width / 4 * std::exp(0.5), {0, 1}) - 1;
        off[level][1] = drag(plate, {1, 0}) / drag(width / 4 * std::exp(-0.5), {1, 0}) - 1;
        MESSAGE(cells << " cells: broadside off by " << 100 * off[level][0] << " %, edgewise by "
                      << 100 * off[level][1] << " %");
    }
    CHECK(std::abs(off[1][0]) < 0.02);
    CHECK(std::abs(off[1][1]) < 0.08);  // its line of markers acts about a cell thick
    CHECK(std::abs(off[1][0]) < std::abs(off[0][0]));
    CHECK(std::abs(off[1][1]) < std::abs(off[0][1]));
}

TEST_CASE(
    "A strip turned by 90 degrees is the strip moved the other way round; its force matrix is symmetric") {
    const Box square{60, 60};
    const ToolShape level(Stroke{1, 50, {}, strip(16, 1, 0)}), upright(Stroke{1, 50, {}, strip(16, 1, 90)});
    const ToolShape slanted(Stroke{1, 50, {}, strip(16, 1, 35)});
    const auto force = [&](const ToolShape& tool, Vec2 velocity) {
        return closely_solved(square, 60, newtonian, {{30, 22}, tool, velocity}).force_n_per_m;
    };
    CHECK(force(level, {0, 10}).y > 1.2 * force(level, {10, 0}).x);
    CHECK(force(upright, {10, 0}).x ==
          doctest::Approx(force(level, {0, 10}).y).epsilon(0.1));  // the top differs
    const Vec2 across = force(slanted, {10, 0}), up = force(slanted, {0, 10});
    CHECK(across.y < -1e-3 * across.x);  // it slides along its own plane more easily
    CHECK(across.y == doctest::Approx(up.x).epsilon(1e-6));
}

TEST_CASE("Tools that cannot be: one sentence each") {
    const std::vector<Vec2> path{{32, 50}, {32, 20}};
    const auto refused = [&](Tool tool, double diameter = 4) {
        try {
            plan_runs(box, {{diameter, 50, path, tool}});
        } catch (const InputError& error) {
            return std::string(error.what());
        }
        return std::string("accepted");
    };
    CHECK(refused(comb(3, 15)) == "accepted");
    CHECK(refused(strip(20, 1, 45)) == "accepted");
    CHECK(refused(comb(0, 15)).find("1 to 40") != std::string::npos);
    CHECK(refused(comb(3, 5)).find("1.5 diameters") != std::string::npos);
    CHECK(refused(comb(5, 15)).find("wall") != std::string::npos);
    CHECK(refused(comb(3, std::nan(""))).find("comb spacing") != std::string::npos);
    CHECK(refused(strip(20, 0.2, 0)).find("0.5 mm") != std::string::npos);
    CHECK(refused(strip(90, 1, 0)).find("strip width") != std::string::npos);
    CHECK(refused(strip(20, 1, 120)).find("-90 to 90") != std::string::npos);
    CHECK(refused(strip(64, 1, 0)).find("wall") != std::string::npos);
}
