// Where a bar stands in the picture that bar_picture() makes.
#pragma once

namespace foreslice::picture {

/// Room for the shadow round the bar in bar_picture(), px on each side.
int bar_margin_px(double px_per_mm);

}  // namespace foreslice::picture
