#include "picture/palette.h"

#include <algorithm>
#include <cmath>

namespace foreslice::picture {

void draw_on_ground(Image& page, const Rect& ground, const Image& bar, int bar_x, int bar_y) {
    fill(page, ground, ink_of(ground_rgb));
    // Light falls from above: a soft pool behind the bar, too faint to be seen as such.
    const int bands = 48;
    for (int band = 0; band < bands; ++band) {
        const double part = ground.height / bands;
        const double strength = 0.10 * (0.5 - (band + 0.5) / bands);
        fill(page, {ground.x, ground.y + band * part, ground.width, part},
             strength > 0 ? ink_of(0xffffff) : ink_of(0x000000), std::abs(strength));
    }
    place(page, bar, bar_x, bar_y);
}

}  // namespace foreslice::picture
