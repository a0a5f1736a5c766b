// A flow map made of solved and tabulated runs.
#pragma once

#include <memory>
#include <vector>

#include "flow/creeping_flow.h"
#include "flow/engine_store.h"
#include "flow/path_plan.h"

namespace foreslice::flow {

/// `flow` solves single instants anew. `materials`: where batters differ, what lies where before the first
/// run.
std::shared_ptr<const FlowMap> tabulated_map(const Box& box, CreepingFlow flow, std::vector<RunPlan> plans,
                                             std::vector<SolvedRun> runs,
                                             std::shared_ptr<const Materials> materials);

}  // namespace foreslice::flow
