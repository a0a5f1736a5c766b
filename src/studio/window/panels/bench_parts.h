// What the parts of the bench panel share.
#pragma once

#include "batter/oils_table.h"
#include "studio/window/view.h"

namespace foreslice::studio {

void start_usual_blend(const Studio& studio);
void draw_recipe(const Studio& studio, const batter::OilsTable& table);

}  // namespace foreslice::studio
