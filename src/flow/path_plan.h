// From strokes to runs of straight legs: what is checked, what is straightened, what is solved as one piece.
#pragma once

#include <cstdint>
#include <vector>

#include "flow/flow.h"
#include "flow/tool.h"

namespace foreslice::flow {

struct Leg {
    Vec2 start_mm, end_mm;
};

/// Legs solved and tabulated together, all of one stroke.
struct RunPlan {
    double radius_mm = 0;  ///< of the tool
    double speed_mm_per_s = 0;
    std::vector<Leg> legs;
    ToolShape tool = {};
    double length_mm() const;
};

/// Throws InputError for input that cannot be computed (see FlowEngine::map). Repeated points vanish; a path
/// drawn in many short pieces is straightened within 0.1 mm; legs gather into runs of at least 40 mm.
std::vector<RunPlan> plan_runs(const Box& box, const std::vector<Stroke>& strokes);

/// Throws InputError unless the figures make a computable batter.
void check_rheology(const batter::Rheology& rheology);
void check_resolution(const Resolution& resolution);

}  // namespace foreslice::flow
