#include "flow/shared_legs.h"

#include <array>
#include <cmath>

#include "foundation/content_key.h"

namespace foreslice::flow {
namespace {

constexpr double per_mm = 1e6;

std::array<double, 4> rounded(const Leg& leg) {
    const auto round = [](double value) { return std::round(value * per_mm) / per_mm; };
    return {round(leg.start_mm.x), round(leg.start_mm.y), round(leg.end_mm.x), round(leg.end_mm.y)};
}

}  // namespace

SeenLeg way_to_solve(const Box& box, const Leg& leg, const ToolShape& tool) {
    if (!tool.one_wire()) return {leg};
    const auto image = [&](Vec2 p, bool in_mirror) { return in_mirror ? Vec2{box.width_mm - p.x, p.y} : p; };
    SeenLeg first{leg};
    auto least = rounded(leg);
    for (const auto& [in_mirror, backwards] : {std::pair{true, false}, {false, true}, {true, true}}) {
        Leg other{image(leg.start_mm, in_mirror), image(leg.end_mm, in_mirror)};
        if (backwards) std::swap(other.start_mm, other.end_mm);
        if (const auto places = rounded(other); places < least) {
            least = places;
            first = {other, in_mirror, backwards};
        }
    }
    const Leg solved{{least[0], least[1]}, {least[2], least[3]}};
    if (solved.start_mm == solved.end_mm) return {leg};  // shorter than the rounding
    first.solved = solved;
    return first;
}

std::uint64_t SharedLegs::key_of(const RunPlan& plan, const Leg& solved) const {
    ContentKey key;
    key.add(common_).add(plan.radius_mm).add(plan.speed_mm_per_s);
    if (!plan.tool.one_wire())
        for (const auto& core : plan.tool.cores())
            key.add(core.a.x).add(core.a.y).add(core.b.x).add(core.b.y);
    key.add(solved.start_mm.x).add(solved.start_mm.y).add(solved.end_mm.x).add(solved.end_mm.y);
    return key.value();
}

void SharedLegs::want(const RunPlan& plan) {
    for (const Leg& leg : plan.legs) {
        const SeenLeg way = way_to_solve(box_, leg, plan.tool);
        const std::uint64_t key = key_of(plan, way.solved);
        if (index_.emplace(key, wanted_.size()).second)
            wanted_.push_back({key, way.solved, &plan, 0, nullptr});
    }
}

std::vector<LegFlow> SharedLegs::legs_of(const RunPlan& plan) const {
    std::vector<LegFlow> legs;
    for (const Leg& leg : plan.legs) {
        const SeenLeg way = way_to_solve(box_, leg, plan.tool);
        const Wanted& solved = wanted_[index_.at(key_of(plan, way.solved))];
        legs.push_back(solved.flow->seen(way.in_mirror, way.backwards));
    }
    return legs;
}

}  // namespace foreslice::flow
