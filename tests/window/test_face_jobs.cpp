// Newest edit wins, coarse before fine, nothing is drawn twice: the order of work, with a stand-in for the
// work.
#include <doctest/doctest.h>

#include "stand_in_drawer.h"
#include "studio/session/edits.h"
#include "studio/session/face_jobs.h"

using namespace foreslice;
using namespace foreslice::studio;
using namespace foreslice::studio::testing;

namespace {

struct Bench {
    DrawerLog log;
    std::atomic<int> wakes{0};
    FaceJobs jobs{std::make_unique<StandInDrawer>(log, true), std::make_unique<StandInDrawer>(log, false),
                  [this] { ++wakes; }};

    bool up_to_date() const { return jobs.status().kind == FaceStatus::Kind::up_to_date; }
    bool shows(std::uint64_t number, bool sketch) const {
        const auto face = jobs.shown();
        return face && face->number == number && face->sketch == sketch;
    }
};

FaceOrder order_of(design::Design design) {
    return {std::move(design), 1, 5};
}

design::Design with_passes(int count) {
    auto design = starter_design();
    std::get<design::Passes>(design.strokes[0].path).count = count;
    return design;
}

}  // namespace

TEST_CASE("a first order is shown coarse, then fine, and wakes the window both times") {
    Bench bench;
    bench.log.hold_flow = true;
    const auto number = bench.jobs.order(order_of(starter_design()));
    REQUIRE(becomes_true([&] { return bench.shows(number, true); }));
    CHECK(bench.jobs.status().kind == FaceStatus::Kind::drawing);
    CHECK(bench.jobs.status().sketch);
    bench.log.hold_flow = false;
    REQUIRE(becomes_true([&] { return bench.shows(number, false); }));
    CHECK(bench.up_to_date());
    CHECK(becomes_true([&] { return bench.wakes == 2; }));
}

TEST_CASE("another dose does not stop or repeat the flow, and skips the sketch once the flow is there") {
    Bench bench;
    bench.log.hold_flow = true;
    bench.jobs.order(order_of(starter_design()));
    REQUIRE(becomes_true([&] { return bench.log.flows_begun == 1; }));
    const auto number = bench.jobs.order(order_of(with_white(starter_design(), 0, 9)));
    REQUIRE(becomes_true([&] { return bench.shows(number, true); }));
    CHECK(bench.log.stopped == 0);
    bench.log.hold_flow = false;
    REQUIRE(becomes_true([&] { return bench.up_to_date(); }));
    CHECK(bench.shows(number, false));
    CHECK(bench.jobs.shown()->order.design.portions[0].white.g_per_kg_oils == 9);
    CHECK(bench.log.fines == 1);

    const int sketches = bench.log.sketches;
    const auto again = bench.jobs.order(order_of(with_white(starter_design(), 0, 3)));
    REQUIRE(becomes_true([&] { return bench.shows(again, false); }));
    CHECK(bench.log.sketches == sketches);
    CHECK(bench.log.stopped == 0);
}

TEST_CASE("an edit while a picture is being written is shown coarse at once, and fine behind the picture") {
    Bench bench;
    bench.jobs.order(order_of(starter_design()));
    REQUIRE(becomes_true([&] { return bench.up_to_date(); }));
    bench.log.hold_writing = true;
    std::atomic<bool> written{false};
    bench.jobs.write_picture(order_of(starter_design()), "quay.png",
                             [&](const std::string& problem) { written = problem.empty(); });
    REQUIRE(becomes_true([&] { return bench.log.writings_begun == 1; }));
    const auto number = bench.jobs.order(order_of(with_white(starter_design(), 0, 9)));
    REQUIRE(becomes_true([&] { return bench.shows(number, true); }));
    CHECK_FALSE(written);
    bench.log.hold_writing = false;
    REQUIRE(becomes_true([&] { return bench.shows(number, false); }));
    CHECK(written);
}

TEST_CASE("another flow stops the fine work under way, and the newest order wins") {
    Bench bench;
    bench.log.hold_flow = true;
    bench.jobs.order(order_of(with_passes(3)));
    REQUIRE(becomes_true([&] { return bench.log.flows_begun == 1; }));
    const auto number = bench.jobs.order(order_of(with_passes(4)));
    REQUIRE(becomes_true([&] { return bench.log.stopped == 1; }));
    bench.log.hold_flow = false;
    REQUIRE(becomes_true([&] { return bench.up_to_date(); }));
    CHECK(bench.shows(number, false));
    CHECK(bench.log.fines == 1);
}

TEST_CASE("while a slider is dragged, sketches still come through") {
    Bench bench;
    bench.log.hold_sketch = true;
    bench.jobs.order(order_of(with_passes(2)));
    REQUIRE(becomes_true([&] { return bench.log.sketches_begun == 1; }));
    bench.jobs.order(order_of(with_passes(3)));  // stops the first
    REQUIRE(becomes_true([&] { return bench.log.sketches_begun == 2; }));
    bench.jobs.order(order_of(with_passes(4)));  // may not stop the second as well
    const auto last = bench.jobs.order(order_of(with_passes(5)));
    bench.log.hold_sketch = false;
    REQUIRE(becomes_true([&] { return bench.shows(last, false); }));
    CHECK(bench.log.stopped == 1);
    CHECK(bench.log.sketches == 2);  // the second and the last; the third was replaced while it waited
}

TEST_CASE("a design that cannot be made is a sentence, and the picture before it stays") {
    Bench bench;
    const auto good = bench.jobs.order(order_of(with_passes(2)));
    REQUIRE(becomes_true([&] { return bench.up_to_date(); }));
    bench.log.refuse = true;
    bench.jobs.order(order_of(with_passes(3)));
    REQUIRE(becomes_true([&] { return bench.jobs.status().kind == FaceStatus::Kind::failed; }));
    CHECK(bench.jobs.status().problem.find("cuts into the wall") != std::string::npos);
    CHECK(bench.jobs.shown()->number == good);
    bench.log.refuse = false;
    const auto next = bench.jobs.order(order_of(with_passes(4)));
    CHECK(becomes_true([&] { return bench.shows(next, false); }));
}

TEST_CASE("closing in the middle of the work does not wait for it") {
    DrawerLog log;
    {
        FaceJobs jobs(std::make_unique<StandInDrawer>(log, true), std::make_unique<StandInDrawer>(log, false),
                      [] {});
        log.hold_flow = true;
        jobs.order(order_of(starter_design()));
        REQUIRE(becomes_true([&] { return log.flows_begun == 1; }));
    }
    CHECK(log.stopped == 1);
}

TEST_CASE("the flow's key knows what the flow depends on and nothing else") {
    const auto base = starter_design();
    const auto key = flow_key(base);
    CHECK(flow_key(with_white(base, 0, 11)) == key);
    CHECK(flow_key(with_pour_moved(base, 0, 2)) == key);
    CHECK(flow_key(with_share(base, 1, 50)) == key);
    auto longer = base;
    longer.mould.length_mm += 10;
    CHECK(flow_key(longer) == key);
    auto fuller = base;
    fuller.mould.fill_mm += 1;
    CHECK(flow_key(fuller) != key);
    CHECK(flow_key(with_passes(8)) != key);
    auto thick = base;
    thick.batter.trace = batter::Trace::thick;
    CHECK(flow_key(thick) != key);
    CHECK(flow_key(with_new_stroke(base)) != key);
    CHECK(flow_key(with_passes_written_out(base, 0)) != key);
    // With a wire that sags, bars differ in their flow; without, they share it.
    CHECK(flow_key(FaceOrder{base, 1, 5}) == flow_key(FaceOrder{base, 5, 5}));
    auto sagging = base;
    sagging.hand.sag_mm = 2;
    CHECK(flow_key(FaceOrder{sagging, 1, 5}) != flow_key(FaceOrder{sagging, 5, 5}));
}
