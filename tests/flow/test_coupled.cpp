// Batters that are not equally thick: which lies where is carried along, and the flow follows it.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "flow/flow_samples.h"
#include "foundation/error.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

const Box box{65, 60};
constexpr double layer_from_mm = 15, layer_to_mm = 35;

/// A layer of the second batter between two of the first.
Materials layered(const batter::Rheology& around, const batter::Rheology& layer) {
    Materials materials;
    materials.rheologies = {around, layer};
    materials.at = [](Vec2 p) { return p.y > layer_from_mm && p.y < layer_to_mm ? 1 : 0; };
    materials.key = 1;
    return materials;
}

batter::Rheology times(batter::Rheology rheology, double factor) {
    rheology.consistency_pa_sn *= factor;
    rheology.yield_stress_pa *= factor;
    return rheology;
}

Resolution coarse() {
    Resolution resolution;
    resolution.cells_across = 48;
    resolution.position_spacing_mm = 3;
    resolution.map_tolerance_mm = 0.1;
    return resolution;
}

std::vector<Vec2> origins(const FlowMap& map) {
    std::vector<Vec2> points = lattice(box, 1.7);
    map.to_origins_mm(points.data(), points.size());
    return points;
}

}  // namespace

TEST_CASE("batters that do not differ flow as one, to the last bit") {
    const auto light = batter::rheology_of(batter::Trace::light);
    WorkerPool pool(1);
    Progress progress;
    FlowEngine engine(pool);
    const auto strokes = std::vector{passes(box, 2, 6)};
    const auto one = engine.map(box, light, strokes, coarse(), progress);
    const auto two = engine.map(box, layered(light, light), strokes, coarse(), progress);
    const auto a = origins(*one), b = origins(*two);
    CHECK(std::equal(a.begin(), a.end(), b.begin(), [](Vec2 p, Vec2 q) { return p.x == q.x && p.y == q.y; }));
    const auto before = one->at_fraction(0.4), after = two->at_fraction(0.4);
    CHECK(before->force_on_wire_n_per_m().y == after->force_on_wire_n_per_m().y);
}

TEST_CASE("batters that hardly differ, and so are followed, flow nearly as one") {
    const auto light = batter::rheology_of(batter::Trace::light);
    WorkerPool pool(2);
    Progress progress;
    FlowEngine engine(pool);
    const auto strokes = std::vector{passes(box, 2, 6)};
    const auto one = engine.map(box, light, strokes, coarse(), progress);
    const auto two = engine.map(box, layered(light, times(light, 1 + 1e-9)), strokes, coarse(), progress);
    const auto a = origins(*one), b = origins(*two);
    std::vector<double> apart;
    for (std::size_t k = 0; k < a.size(); ++k) apart.push_back(length(a[k] - b[k]));
    std::sort(apart.begin(), apart.end());
    MESSAGE("apart by " << apart[apart.size() / 2] << " mm in the median, nine of ten by less than "
                        << apart[apart.size() * 9 / 10]);
    CHECK(apart[apart.size() / 2] > 0);  // solved in another way: warm from leg to leg
    CHECK(apart[apart.size() / 2] < 0.05);
    CHECK(apart[apart.size() * 9 / 10] < 0.1);
}

TEST_CASE("a layer of another thickness changes the flow, the same on one thread and on two") {
    const auto light = batter::rheology_of(batter::Trace::light);
    const auto strokes = std::vector{passes(box, 2, 6)};
    std::vector<std::vector<Vec2>> found;
    for (const unsigned threads : {1U, 2U}) {
        WorkerPool pool(threads);
        Progress progress;
        FlowEngine engine(pool);
        const auto map = engine.map(box, layered(light, times(light, 4)), strokes, coarse(), progress);
        CHECK(map->report().converged);
        found.push_back(origins(*map));
        if (threads == 2) continue;
        const auto plain = origins(*engine.map(box, light, strokes, coarse(), progress));
        double moved = 0;
        for (std::size_t k = 0; k < plain.size(); ++k) moved += length(plain[k] - found[0][k]);
        CHECK(moved / static_cast<double>(plain.size()) > 1);
    }
    CHECK(std::equal(found[0].begin(), found[0].end(), found[1].begin(),
                     [](Vec2 p, Vec2 q) { return p.x == q.x && p.y == q.y; }));
}

// Creeping flow without elasticity runs backwards when the wire does, whatever lies where.
TEST_CASE("a stroke retraced among two batters is undone") {
    Stroke there;
    there.path_mm = {{32, 66}, {32, 12}};
    Stroke back;
    back.path_mm = {{32, 12}, {32, 66}};
    WorkerPool pool(2);
    Progress progress;
    FlowEngine engine(pool);
    const auto materials = layered({1, 1, 0}, {5, 1, 0});
    const auto moved = [&](const std::vector<Stroke>& strokes) {
        const auto map = engine.map(box, materials, strokes, coarse(), progress);
        std::vector<double> distances;
        for (const Vec2 p : lattice(box, 1.7)) distances.push_back(length(map->origin_mm(p) - p));
        const auto ninth = distances.begin() + static_cast<std::ptrdiff_t>(distances.size() * 9 / 10);
        std::nth_element(distances.begin(), ninth, distances.end());
        return *ninth;
    };
    const double drawn = moved({there}), undone = moved({there, back});
    MESSAGE("nine of ten points within " << drawn << " mm after one stroke, " << undone
                                         << " mm after drawing it back");
    CHECK(drawn > 5);
    CHECK(undone < 0.1 * drawn);
}

TEST_CASE("a thicker layer takes a harder hand, a thinner one a lighter") {
    WorkerPool pool(2);
    Progress progress;
    FlowEngine engine(pool);
    Stroke stroke;
    stroke.path_mm = {{5, 25}, {60, 25}};
    const auto light = batter::rheology_of(batter::Trace::light);
    const auto force = [&](double factor) {
        const auto map = engine.map(box, layered(light, times(light, factor)), {stroke}, coarse(), progress);
        return map->at_fraction(0.3)->force_on_wire_n_per_m().x;
    };
    const double same = force(1);
    CHECK(force(3) > 1.8 * same);
    CHECK(force(3) < 3 * same);  // the batter round the layer is as it was
    CHECK(force(0.3) < 0.7 * same);
}

TEST_CASE("no batters, and too many, are refused") {
    WorkerPool pool(1);
    Progress progress;
    FlowEngine engine(pool);
    Materials none;
    none.at = [](Vec2) { return 0; };
    CHECK_THROWS_AS(engine.map(box, none, {passes(box, 2, 6)}, coarse(), progress), InputError);
    Materials many = none;
    many.rheologies.assign(256, {1, 1, 0});
    CHECK_THROWS_AS(engine.map(box, many, {passes(box, 2, 6)}, coarse(), progress), InputError);
}
