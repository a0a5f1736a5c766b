// What the map must keep whatever the flow: the area of every layer, and every bit of batter inside the
// walls.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include "flow/flow_samples.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

const batter::Rheology newtonian{1, 1, 0};
const batter::Rheology light{1.2, 0.75, 3};

}  // namespace

TEST_CASE("A run keeps the area of each of five layers within 0.02 % of the face") {
    const Box box{65, 60};
    for (const auto& rheology : {newtonian, light}) {
        CAPTURE(rheology.yield_stress_pa);
        WorkerPool pool;
        FlowEngine engine(pool);
        Progress progress;
        // Wholly in the batter, so that nothing leaves with the wire or comes in with it.
        const Stroke stroke{6, 50, {{20, 50}, {20, 12}, {32, 12}}};
        const auto map = engine.map(box, rheology, {stroke}, {}, progress);
        const auto share = shares_of_layers(*map, box, 5, 0.05);
        for (const double part : share) {
            MESSAGE("a fifth of the face became " << 100 * part << " % of it");
            CHECK(std::abs(part - 0.2) < 2e-4);
        }
    }
}

// The stream function is zero all along a no-slip wall and so is its slope: towards the wall the velocity
// into it falls as the square of the distance, so that no path ends in the wall, however long it takes. (5e-5
// of the speed of the wire: splines are kept in single precision.)
TEST_CASE("No batter crosses a wall") {
    const Box box{40, 30};
    const LegFlow leg = newtonian_leg(box, 48, {34, 26}, {34, 5}, 3);
    for (double travel = 0.5; travel < leg.length_mm(); travel += 2.7)
        for (double s = 0.5; s < 30; s += 0.7) {
            for (const double gap : {0.0, 0.02, 0.2}) {
                const double most = 5e-5 + 0.6 * gap * gap;
                CHECK(std::abs(leg.velocity(travel, {gap, s}).x) < most);
                CHECK(std::abs(leg.velocity(travel, {40 - gap, s}).x) < most);
                CHECK(std::abs(leg.velocity(travel, {s, gap}).y) < most);
            }
            CHECK(std::abs(leg.velocity(travel, {s, 30}).y) < 5e-4);  // read 0.001 cell below the top
        }
    // Points close to the walls, carried along, stay in without being put back.
    for (double s = 1; s < 29; s += 0.9)
        for (const Vec2 p : {Vec2{39.97, s}, {0.03, s}, {s, 0.03}}) {
            const Vec2 q = leg.trace(p, leg.length_mm(), 0);
            CHECK(q.x > 0);
            CHECK(q.x < 40);
            CHECK(q.y > 0);
        }
}
