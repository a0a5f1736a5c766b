// Where a wire comes up through the top, layers that lay whole stay whole: no spray of specks, no tears.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include "flow/flow_samples.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

constexpr double px_per_mm = 25;

/// Which layer of 8 mm lay where, over a strip along the top as wide as three wires and 2.5 mm deep.
struct Strip {
    int width, height;
    std::vector<int> layer;
};

Strip strip_under_top(const FlowMap& map, const Box& box, Vec2 leaves_mm, double wire_mm) {
    Strip strip{static_cast<int>(3 * wire_mm * px_per_mm), static_cast<int>(2.5 * px_per_mm), {}};
    for (int j = 0; j < strip.height; ++j) {
        std::vector<Vec2> row;
        for (int i = 0; i < strip.width; ++i)
            row.push_back({leaves_mm.x - 1.5 * wire_mm + (i + 0.5) / px_per_mm,
                           box.height_mm - (j + 0.5) / px_per_mm});
        map.to_origins_mm(row.data(), row.size());
        for (const Vec2 origin : row) strip.layer.push_back(static_cast<int>(origin.y / 8));
    }
    return strip;
}

/// Patches of one layer that hang together, over corners too.
int patches(const Strip& strip) {
    std::vector<std::uint8_t> seen(strip.layer.size(), 0);
    int count = 0;
    for (int start = 0; start < static_cast<int>(strip.layer.size()); ++start) {
        if (seen[static_cast<std::size_t>(start)]) continue;
        ++count;
        std::vector<int> open{start};
        seen[static_cast<std::size_t>(start)] = 1;
        while (!open.empty()) {
            const int at = open.back(), x = at % strip.width, y = at / strip.width;
            open.pop_back();
            for (int j = std::max(0, y - 1); j <= std::min(strip.height - 1, y + 1); ++j)
                for (int i = std::max(0, x - 1); i <= std::min(strip.width - 1, x + 1); ++i) {
                    const auto next = static_cast<std::size_t>(j * strip.width + i);
                    if (seen[next] || strip.layer[next] != strip.layer[static_cast<std::size_t>(at)]) continue;
                    seen[next] = 1;
                    open.push_back(static_cast<int>(next));
                }
        }
    }
    return count;
}

}  // namespace

TEST_CASE("Where the wire leaves, layers stay in few pieces") {
    const Box box{65, 80};
    WorkerPool pool(0);
    FlowEngine engine(pool);
    Progress progress;
    for (const auto& rheology : {batter::Rheology{2, 1, 0}, batter::Rheology{2, 0.7, 3}})
        for (const double wire_mm : {4.0, 6.0}) {
            CAPTURE(rheology.yield_stress_pa);
            CAPTURE(wire_mm);
            Stroke stroke;
            stroke.wire_diameter_mm = wire_mm;
            stroke.path_mm = {{30, 40}, {30, 90}};
            const auto map = engine.map(box, rheology, {stroke}, {}, progress);
            const int pieces = patches(strip_under_top(*map, box, {30, 80}, wire_mm));
            MESSAGE(pieces << " pieces");
            CHECK(pieces >= 5);
            CHECK(pieces <= 90);  // twice as many where the batter tears beside the wire
        }
}
