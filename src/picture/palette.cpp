#include "picture/palette.h"

namespace foreslice::picture {

void draw_on_ground(Image& page, const Rect& ground, const Image& bar, int bar_x, int bar_y) {
    fill_passage(page, ground, ink_of(ground_top_rgb), ink_of(ground_bottom_rgb));
    place(page, bar, bar_x, bar_y);
}

}  // namespace foreslice::picture
