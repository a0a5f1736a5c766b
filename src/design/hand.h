// What a hand does to the wire along the loaf: the wire bows between the two hands that hold it, so that
// its middle comes after them.
#pragma once

#include <vector>

#include "design/design.h"

namespace foreslice::design {

/// Lags are multiples of this, so that the bars of a loaf share few flows. Half of it is less than the hand's
/// own unevenness.
inline constexpr double lag_step_mm = 0.5;

/// How far (mm) the wire at `z_mm` along the loaf stays behind the hands. The drag on a wire in a batter with
/// yield stress hardly depends on the speed and is the same all along, so the wire hangs in a parabola (a
/// string under an even load, elementary statics): 0 at the ends, Hand::sag_mm in the middle. Rounded to
/// lag_step_mm.
double wire_lag_mm(const Design& design, double z_mm);

/// The path of a point that is drawn along behind one that goes along `path`, on a thread of length `lag_mm`:
/// straight strokes stay, corners become round, and strokes that turn come less deep. Where the path ends it
/// is gone on with until the follower has come there too. Within 0.1 mm, in few points.
std::vector<Vec2> trailing_path(const std::vector<Vec2>& path, double lag_mm);

/// The strokes as the wire makes them at `z_mm`: paths as drawn by the hands, trailing by the lag there.
std::vector<flow::Stroke> trailing_strokes(std::vector<flow::Stroke> strokes, double lag_mm);

}  // namespace foreslice::design
