// The making played as an animation on the paper, and its groove under the ribbon.
#pragma once

#include "studio/window/layout.h"
#include "studio/window/view.h"

namespace foreslice::studio {

/// Plays from a place: whole numbers are the steps' beginnings.
void play_making(const Studio& studio, float from);
void stop_making(const Studio& studio);
bool making_shown(const Studio& studio);
/// Whether frames have to come without anything else happening.
bool making_runs(const Studio& studio);
/// The paper while it is shown.
void draw_making(const Studio& studio, const Area& page);
/// Under the ribbon: where the making is; dragged along, it runs.
void draw_making_groove(const Studio& studio, const Area& ribbon);
/// The loaf at the moment of a step, small, for the ribbon.
void draw_step_picture(const Studio& studio, Step step, const Area& area);

}  // namespace foreslice::studio
