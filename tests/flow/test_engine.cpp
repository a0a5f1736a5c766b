// The whole engine: the map of many strokes, what it keeps, and that nothing depends on the machine's
// threads.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <ostream>
#include <string>
#include <vector>

#include "flow/flow_samples.h"
#include "foundation/error.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

const batter::Rheology newtonian{1, 1, 0};
const batter::Rheology light{1.2, 0.75, 3};
const Resolution coarse{32, 4, 0.1};
const Box small_box{40, 30};

std::shared_ptr<const FlowMap> map_of(const Box& box, const batter::Rheology& rheology,
                                      const std::vector<Stroke>& strokes, const Resolution& resolution,
                                      unsigned threads = 0) {
    WorkerPool pool(threads);
    FlowEngine engine(pool);
    Progress progress;
    return engine.map(box, rheology, strokes, resolution, progress);
}

// How far a measure over a lattice of the box is from zero.
struct Offsets {
    std::vector<double> sorted;
    double worst = 0, mean = 0, median = 0;
    double share_over(double bar) const {
        const auto over = sorted.end() - std::upper_bound(sorted.begin(), sorted.end(), bar);
        return static_cast<double>(over) / static_cast<double>(sorted.size());
    }
    friend std::ostream& operator<<(std::ostream& out, const Offsets& o) {
        return out << "median " << o.median << ", mean " << o.mean << ", share over 0.1 mm "
                   << o.share_over(0.1) << ", over 0.3 mm " << o.share_over(0.3) << ", worst " << o.worst;
    }
};

template <typename Measure>
Offsets offsets(const Box& box, const Measure& measure) {
    Offsets out;
    for (const Vec2 p : lattice(box, 0.5)) out.sorted.push_back(measure(p));
    std::sort(out.sorted.begin(), out.sorted.end());
    for (const double value : out.sorted) out.mean += value / static_cast<double>(out.sorted.size());
    out.worst = out.sorted.back();
    out.median = out.sorted[out.sorted.size() / 2];
    return out;
}

// How much work each named stage announced.
struct Stages {
    std::map<std::string, std::int64_t> totals;
    Progress progress{[this](const Progress& p) { totals[p.stage()] = p.total(); }};
    std::int64_t solves() { return totals.at("solving the flow"); }
};

}  // namespace

TEST_CASE("Seven passes through five equal layers keep every layer's area (long)") {
    const Box box{65, 78.8};
    // 0.05 mm: films are thin, and a coarser lattice counts them less well than they are kept.
    for (const auto& rheology : {newtonian, light}) {
        CAPTURE(rheology.yield_stress_pa);
        const auto map = map_of(box, rheology, {passes(box, 7, 6)}, {});
        const auto share = shares_of_layers(*map, box, 5, 0.05);
        for (const double part : share) {
            MESSAGE("a fifth of the face became " << 100 * part << " % of it");
            CHECK(std::abs(part - 0.2) < 2e-4);
        }
    }
}

// Films that the wire draws out are thinner than any grid, and the share of the face that they and the patch
// where the wire leaves the surface take is what the bars on shares allow for.
TEST_CASE("A stroke down and straight up again leaves the layers as they were") {
    const Box box{65, 60};
    for (const auto& rheology : {newtonian, light}) {
        CAPTURE(rheology.yield_stress_pa);
        const double air = box.height_mm + 4;
        const auto map = map_of(box, rheology, {{6, 50, {{28, air}, {28, 12}, {28, air}}}}, {64, 2, 0.03});
        const Offsets left = offsets(box, [&](Vec2 p) { return length(map->origin_mm(p) - p); });
        const Offsets off_path = offsets(box, [&](Vec2 p) {
            const bool counted = std::abs(p.x - 28) > 3 && p.y < box.height_mm - 3;
            return counted ? length(map->origin_mm(p) - p) : 0;
        });
        MESSAGE("left " << left << "; a radius off the path and below the surface " << off_path);
        CHECK(off_path.worst < 0.3);
        CHECK(left.mean < 0.06);
        CHECK(left.share_over(0.3) < 0.02);
    }
}

TEST_CASE("The mirrored path gives the mirrored face") {
    for (const auto& rheology : {newtonian, light}) {
        CAPTURE(rheology.yield_stress_pa);
        const Stroke stroke = passes(small_box, 2, 6);
        Stroke mirrored = stroke;
        for (Vec2& p : mirrored.path_mm) p.x = small_box.width_mm - p.x;
        const auto map = map_of(small_box, rheology, {stroke}, coarse);
        const auto other = map_of(small_box, rheology, {mirrored}, coarse);
        const Offsets off = offsets(small_box, [&](Vec2 p) {
            const Vec2 a = map->origin_mm(p), b = other->origin_mm({small_box.width_mm - p.x, p.y});
            return length(a - Vec2{small_box.width_mm - b.x, b.y});
        });
        MESSAGE("mirror " << off);
        CHECK(off.median < 0.002);
        CHECK(off.share_over(0.1) < 0.02);
    }
}

TEST_CASE("Without a yield stress the face knows no speed") {
    for (const auto& rheology : {newtonian, batter::Rheology{2.5, 0.6, 0}}) {
        CAPTURE(rheology.flow_index);
        const auto slow = map_of(small_box, rheology, {passes(small_box, 2, 6, 5)}, coarse);
        const auto fast = map_of(small_box, rheology, {passes(small_box, 2, 6, 200)}, coarse);
        const Offsets off =
            offsets(small_box, [&](Vec2 p) { return length(slow->origin_mm(p) - fast->origin_mm(p)); });
        MESSAGE("speed: " << off);
        CHECK(off.median < 0.002);
        CHECK(off.share_over(0.05) < 0.005);  // films magnify the rounding of the last iteration
    }
    const auto slow = map_of(small_box, light, {passes(small_box, 2, 6, 5)}, coarse);
    const auto fast = map_of(small_box, light, {passes(small_box, 2, 6, 200)}, coarse);
    double worst = 0;
    for (const Vec2 p : lattice(small_box, 0.5))
        worst = std::max(worst, length(slow->origin_mm(p) - fast->origin_mm(p)));
    CHECK(worst > 1);  // a yield stress does know it
}

TEST_CASE("One thread and two give the same bits") {
    for (const auto& rheology : {newtonian, light}) {
        std::vector<Vec2> origins[2];
        OriginRaster raster[2];
        for (unsigned threads = 1; threads <= 2; ++threads) {
            WorkerPool pool(threads);
            FlowEngine engine(pool);
            Progress progress;
            const auto map = engine.map(small_box, rheology, {passes(small_box, 3, 6)}, coarse, progress);
            for (const Vec2 p : lattice(small_box, 0.7)) origins[threads - 1].push_back(map->origin_mm(p));
            raster[threads - 1] = engine.origins(*map, small_box, 3, progress);
        }
        CHECK(origins[0] == origins[1]);
        CHECK(raster[0].x_mm == raster[1].x_mm);
        CHECK(raster[0].y_mm == raster[1].y_mm);
        CHECK(raster[0].first == raster[1].first);
        CHECK(raster[0].log_stretch == raster[1].log_stretch);
    }
}

TEST_CASE("The raster of origins: complete, in the box, the top row first") {
    WorkerPool pool;
    FlowEngine engine(pool);
    Progress progress;
    const auto map = engine.map(small_box, newtonian, {passes(small_box, 3, 6)}, coarse, progress);
    const OriginRaster raster = engine.origins(*map, small_box, 3, progress);
    CHECK(raster.width_px == 120);
    CHECK(raster.height_px == 90);
    CHECK(raster.px_per_mm == 3);
    const std::size_t pixels = 120 * 90;
    REQUIRE(raster.first.size() == pixels + 1);
    REQUIRE(raster.log_stretch.size() == pixels);
    CHECK(raster.first.front() == 0);
    CHECK(raster.first.back() == raster.x_mm.size());
    CHECK(raster.x_mm.size() == raster.y_mm.size());
    for (std::size_t p = 0; p < pixels; ++p) {
        REQUIRE(raster.first[p + 1] > raster.first[p]);
        REQUIRE(std::isfinite(raster.log_stretch[p]));
        REQUIRE(raster.log_stretch[p] >= 0);
    }
    for (std::size_t k = 0; k < raster.x_mm.size(); ++k) {
        REQUIRE(raster.x_mm[k] >= 0);
        REQUIRE(raster.x_mm[k] <= 40);
        REQUIRE(raster.y_mm[k] >= 0);
        REQUIRE(raster.y_mm[k] <= 30);
    }
    CHECK(*std::max_element(raster.log_stretch.begin(), raster.log_stretch.end()) > 1);

    // Without strokes every pixel sees itself and nothing is stretched.
    const auto still = engine.map(small_box, newtonian, {}, coarse, progress);
    const OriginRaster self = engine.origins(*still, small_box, 3, progress);
    double x = 0, y = 0;
    for (std::size_t k = self.first[10]; k < self.first[11]; ++k) {
        x += static_cast<double>(self.x_mm[k]) / (self.first[11] - self.first[10]);
        y += static_cast<double>(self.y_mm[k]) / (self.first[11] - self.first[10]);
    }
    CHECK(x == doctest::Approx(10.5 / 3).epsilon(1e-5));
    CHECK(y == doctest::Approx(30 - 0.5 / 3).epsilon(1e-5));
    for (const float stretch : self.log_stretch) REQUIRE(stretch < 1e-5F);
}

TEST_CASE("What was solved serves its mirror image and the way back") {
    WorkerPool pool;
    FlowEngine engine(pool);
    const Stroke there{5, 50, {{12, 34}, {12, 6}, {25, 6}}};
    const Stroke in_mirror{5, 50, {{28, 34}, {28, 6}, {15, 6}}};
    const Stroke back{5, 50, {{25, 6}, {12, 6}, {12, 34}}};
    Stages stages;
    const auto map = engine.map(small_box, light, {there}, coarse, stages.progress);
    CHECK(stages.solves() == 2);
    Stages more;
    const auto mirrored = engine.map(small_box, light, {in_mirror}, coarse, more.progress);
    const auto undone = engine.map(small_box, light, {there, back}, coarse, more.progress);
    CHECK(more.solves() == 0);
    CHECK(more.totals.at("mapping the flow") > 0);
    double worst = 0;
    std::vector<double> left;  // of there and back: films along the wire's way apart, next to nothing
    for (const Vec2 p : lattice(small_box, 1.3)) {
        const Vec2 image = mirrored->origin_mm({small_box.width_mm - p.x, p.y});
        worst = std::max(worst, length(Vec2{small_box.width_mm - image.x, image.y} - map->origin_mm(p)));
        left.push_back(length(undone->origin_mm(p) - p));
    }
    std::sort(left.begin(), left.end());
    MESSAGE("mirror at most " << worst << " mm, there and back " << left[left.size() / 2]
                              << " mm in the median");
    CHECK(worst < 3 * coarse.map_tolerance_mm);
    CHECK(left[left.size() / 2] < coarse.map_tolerance_mm);
}

TEST_CASE("What was solved is kept, and an edit solves only what it touches") {
    WorkerPool pool;
    FlowEngine engine(pool);
    const Stroke first = passes(small_box, 2, 6);
    Stroke last{5, 50, {{15, 34}, {15, 6}, {25, 6}, {25, 34}}};
    std::int64_t all = 0;
    SolveReport report;
    {
        Stages stages;
        report = engine.map(small_box, light, {first, last}, coarse, stages.progress)->report();
        all = stages.solves();
        CHECK(all >= 3);
        CHECK(stages.totals.at("mapping the flow") >= 2);  // runs of one leg or more
        CHECK(stages.totals.at("mapping the flow") <= all);
        CHECK(report.positions > 30);
        CHECK(report.most_iterations > 1);
    }
    {
        Stages stages;
        const auto again = engine.map(small_box, light, {first, last}, coarse, stages.progress);
        CHECK(stages.solves() == 0);
        CHECK(stages.totals.at("mapping the flow") == 0);
        CHECK(again->report().positions == report.positions);
    }
    last.path_mm[2] = {28, 6};
    last.path_mm[3] = {28, 34};
    {
        Stages stages;
        const auto edited = engine.map(small_box, light, {first, last}, coarse, stages.progress);
        CHECK(stages.solves() >= 1);
        CHECK(stages.solves() <= 2);
        CHECK(stages.solves() < all);
        // The kept pieces and the fresh one give what a fresh engine gives.
        const auto fresh = map_of(small_box, light, {first, last}, coarse);
        for (const Vec2 p : lattice(small_box, 1.3)) REQUIRE(edited->origin_mm(p) == fresh->origin_mm(p));
    }
    {
        Stages stages;  // another batter is another flow
        engine.map(small_box, newtonian, {first, last}, coarse, stages.progress);
        CHECK(stages.solves() >= all);
    }
}

TEST_CASE("A request to stop stops") {
    WorkerPool pool;
    FlowEngine engine(pool);
    Progress stopped;
    stopped.request_stop();
    CHECK_THROWS_AS(engine.map(small_box, light, {passes(small_box, 3, 6)}, coarse, stopped), Stopped);

    // In the middle of each stage: not another step is reported after the request.
    for (const std::string stage : {"solving the flow", "mapping the flow"}) {
        int after = 0;
        bool asked = false;
        Progress* self = nullptr;
        Progress progress([&](const Progress& p) {
            after += asked;
            if (p.stage() == stage && p.done() == 1) {
                asked = true;
                self->request_stop();
            }
        });
        self = &progress;
        FlowEngine other(pool);
        CHECK_THROWS_AS(other.map(small_box, newtonian, {passes(small_box, 4, 6)}, coarse, progress),
                        Stopped);
        CHECK(asked);
        CHECK(after <= static_cast<int>(pool.threads()));
    }
    Progress progress;
    const auto map = engine.map(small_box, newtonian, {passes(small_box, 1, 6)}, coarse, progress);
    CHECK_THROWS_AS(engine.origins(*map, small_box, 3, stopped), Stopped);
    CHECK(engine.origins(*map, small_box, 1, progress).width_px == 40);  // and the engine still works
}

TEST_CASE("An instant: the wire's own velocity on the wire, none on walls, a force against the movement") {
    for (const auto& rheology : {newtonian, light}) {
        const auto map = map_of(small_box, rheology, {{6, 40, {{20, 36}, {20, 6}}}}, coarse);
        CHECK(map->path_length_mm() == doctest::Approx(30));
        const auto instant = map->at_fraction(0.6);
        CHECK(instant->wire_in_batter());
        CHECK(instant->wire_centre_mm().y == doctest::Approx(18));
        CHECK(instant->velocity_mm_per_s({20.5, 17}) == Vec2{0, -40});
        CHECK(instant->force_on_wire_n_per_m().y < 0);
        CHECK(std::abs(instant->force_on_wire_n_per_m().x) <
              1e-6 * std::abs(instant->force_on_wire_n_per_m().y));
        for (double y = 1; y < 30; y += 4) {
            CHECK(length(instant->velocity_mm_per_s({0, y})) < 1e-4);
            CHECK(length(instant->velocity_mm_per_s({40, y})) < 1e-4);
            CHECK(std::abs(instant->stream_function_mm2_per_s({40, y})) < 1e-4);
        }
        for (double x = 1; x < 40; x += 4) {
            CHECK(length(instant->velocity_mm_per_s({x, 0})) < 1e-4);
            CHECK(std::abs(instant->velocity_mm_per_s({x, 30}).y) < 1e-4);
        }
        CHECK_FALSE(map->at_fraction(0)->wire_in_batter());
    }
}

TEST_CASE("Points outside the box count as the nearest inside") {
    const auto map = map_of(small_box, newtonian, {passes(small_box, 1, 6)}, coarse);
    CHECK(map->origin_mm({-5, 20}) == map->origin_mm({0, 20}));
    CHECK(map->origin_mm({20, 300}) == map->origin_mm({20, 30}));
}
