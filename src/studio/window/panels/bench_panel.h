// The bench inside the studio: what this soap weighs in this mould, live.
#pragma once

#include "studio/window/view.h"

namespace foreslice::studio {

/// A part of the batter's controls: recipe, weights, what is risky about them, cost.
void draw_bench(const Studio& studio);

}  // namespace foreslice::studio
