// Colours and sizes that the plates share. Neutral and warm, so that the soap is the only colour on the page.
#pragma once

#include "picture/draw.h"
#include "picture/image.h"

namespace foreslice::picture {

inline constexpr unsigned paper_rgb = 0xf7f5f1;
inline constexpr unsigned ground_top_rgb = 0xdcd9d3;  ///< what the bar lies on
inline constexpr unsigned ground_bottom_rgb = 0xcdc9c2;
inline constexpr unsigned ink_rgb = 0x2b2926;
inline constexpr unsigned quiet_ink_rgb = 0x6b665f;
inline constexpr unsigned rule_rgb = 0xcfcac2;

inline colour::EncodedSrgb code_of_rgb(unsigned rgb) {
    return {static_cast<std::uint8_t>(rgb >> 16U), static_cast<std::uint8_t>(rgb >> 8U),
            static_cast<std::uint8_t>(rgb)};
}

/// A patch of ground with a bar on it, lit a little brighter from above.
void draw_on_ground(Image& page, const Rect& ground, const Image& bar, int bar_x, int bar_y);

}  // namespace foreslice::picture
