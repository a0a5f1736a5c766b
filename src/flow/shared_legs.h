// The legs of some runs, each flow solved once however often it is seen: straight passes at mirrored places,
// up or down, have the same one (leg_flow.h).
#pragma once

#include <cstdint>
#include <memory>
#include <unordered_map>
#include <vector>

#include "flow/leg_flow.h"
#include "flow/path_plan.h"

namespace foreslice::flow {

/// How a leg is seen in the one that is solved for it.
struct SeenLeg {
    Leg solved;
    bool in_mirror = false, backwards = false;
};

/// Of a leg, its mirror image and both drawn backwards the one that comes first, with places rounded to a
/// millionth of a millimetre so that all find the same. A leg of a tool that is not one round wire stays.
SeenLeg way_to_solve(const Box& box, const Leg& leg, const ToolShape& tool);

class SharedLegs {
  public:
    /// A flow that is to be solved, or is known already.
    struct Wanted {
        std::uint64_t key = 0;
        Leg leg;
        const RunPlan* plan = nullptr;
        std::size_t positions = 0;  ///< where it is solved: how much work it is
        std::shared_ptr<const LegFlow> flow;
    };

    /// `common`: of all that the flow depends on but the leg and its tool.
    SharedLegs(const Box& box, std::uint64_t common) : box_(box), common_(common) {}
    void want(const RunPlan& plan);
    std::vector<Wanted>& wanted() { return wanted_; }
    /// A run's legs, when all that was wanted is there.
    std::vector<LegFlow> legs_of(const RunPlan& plan) const;

  private:
    std::uint64_t key_of(const RunPlan& plan, const Leg& solved) const;

    Box box_;
    std::uint64_t common_;
    std::vector<Wanted> wanted_;
    std::unordered_map<std::uint64_t, std::size_t> index_;
};

}  // namespace foreslice::flow
