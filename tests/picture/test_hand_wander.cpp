#include "picture/hand_wander.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "picture/sample.h"

using namespace foreslice;
using namespace foreslice::picture;

namespace {

constexpr flow::Box box{65, 79};

template <class Visit>
void for_places(double step_mm, Visit&& visit) {
    for (double x = step_mm / 2; x < box.width_mm; x += step_mm)
        for (double y = step_mm / 2; y < box.height_mm; y += step_mm) visit(Vec2{x, y});
}

}  // namespace

TEST_CASE("wander keeps areas, walls, floor and top, and can be undone") {
    for (const double z_mm : {5.0, 80.0, 260.0}) {
        const HandWander wander(box, 11, 1.5, z_mm);
        for_places(3, [&](Vec2 at) {
            CHECK(length(wander.back(wander.forth(at)) - at) < 1e-3);
            constexpr double h = 0.05;
            const Vec2 by_x = (0.5 / h) * (wander.forth({at.x + h, at.y}) - wander.forth({at.x - h, at.y}));
            const Vec2 by_y = (0.5 / h) * (wander.forth({at.x, at.y + h}) - wander.forth({at.x, at.y - h}));
            CHECK(by_x.x * by_y.y - by_x.y * by_y.x == doctest::Approx(1).epsilon(1e-3));
        });
        for (double y = 0; y <= box.height_mm; y += 5) {
            CHECK(wander.forth({0, y}).x == doctest::Approx(0));
            CHECK(wander.forth({box.width_mm, y}).x == doctest::Approx(box.width_mm));
        }
        for (double x = 0; x <= box.width_mm; x += 5) {
            CHECK(wander.forth({x, 0}).y == doctest::Approx(0));
            CHECK(wander.forth({x, box.height_mm}).y == doctest::Approx(box.height_mm));
        }
    }
}

TEST_CASE("wander is as large as asked for, smooth along the loaf, and seeded") {
    double squared = 0;
    int count = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed)
        for (const double z_mm : {20.0, 160.0}) {
            const Vec2 middle{box.width_mm / 2, box.height_mm / 2};
            const Vec2 off = HandWander(box, seed, 1, z_mm).forth(middle) - middle;
            squared += dot(off, off) / 2;
            ++count;
        }
    CHECK(std::sqrt(squared / count) == doctest::Approx(1).epsilon(0.25));
    const auto difference_mm = [](const HandWander& a, const HandWander& b) {
        double sum = 0;
        int places = 0;
        for_places(5, [&](Vec2 at) {
            sum += length(a.forth(at) - b.forth(at));
            ++places;
        });
        return sum / places;
    };
    const HandWander here(box, 3, 1, 100);
    CHECK(difference_mm(here, HandWander(box, 3, 1, 100)) == 0);
    CHECK(difference_mm(here, HandWander(box, 3, 1, 110)) <
          0.4 * difference_mm(here, HandWander(box, 3, 1, 240)));
    CHECK(difference_mm(here, HandWander(box, 4, 1, 100)) > 0.2);
}

TEST_CASE("a map deformed by the wander is close to a true solve of the path as drawn (long)") {
    // Seven passes of a 6 mm wire, wander 1 mm; the reference is solved along the path that T makes of them.
    auto design = testing::sample_design();
    design.mould = {65, 90, 280, 79};
    std::get<design::Passes>(design.strokes[0].path).count = 7;
    const auto strokes = design::flow_strokes_of(design);
    WorkerPool pool(2);
    flow::FlowEngine engine(pool);
    Progress progress;
    const flow::Resolution resolution{64, 3, 0.04};
    for (const auto trace : {batter::Trace::light, batter::Trace::medium}) {
        const auto rheology = batter::rheology_of(trace);
        const auto meant = engine.map(box, rheology, strokes, resolution, progress);
        const HandWander wander(box, 11, 1, 150);
        auto drawn = strokes;
        for (auto& stroke : drawn) {
            std::vector<Vec2> path;
            for (std::size_t i = 1; i < stroke.path_mm.size(); ++i)
                for (int k = 0; k < 8; ++k)
                    path.push_back(stroke.path_mm[i - 1] +
                                   (k / 8.0) * (stroke.path_mm[i] - stroke.path_mm[i - 1]));
            path.push_back(stroke.path_mm.back());
            for (Vec2& point : path)
                point = point.y < box.height_mm ? wander.forth(point)
                                                : Vec2{wander.forth({point.x, box.height_mm}).x, point.y};
            stroke.path_mm = path;
        }
        const auto truth = engine.map(box, rheology, drawn, resolution, progress);
        const auto deformed = wandered(meant, box, 11, 1, 150);
        std::vector<double> error, change;
        for_places(1, [&](Vec2 at) {
            error.push_back(length(deformed->origin_mm(at) - truth->origin_mm(at)));
            change.push_back(length(meant->origin_mm(at) - truth->origin_mm(at)));
        });
        std::sort(error.begin(), error.end());
        std::sort(change.begin(), change.end());
        const auto mean = [](const std::vector<double>& v) {
            double sum = 0;
            for (const double x : v) sum += x;
            return sum / static_cast<double>(v.size());
        };
        MESSAGE("mean error " << mean(error) << " mm, median " << error[error.size() / 2]
                              << " mm; without the wander mean " << mean(change) << " mm, median "
                              << change[change.size() / 2] << " mm");
        CHECK(error[error.size() / 2] < 0.5);
        CHECK(mean(error) < 0.55 * mean(change));  // places in films decide the mean
    }
}
