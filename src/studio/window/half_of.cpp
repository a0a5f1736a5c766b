#include "studio/window/half_of.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>

namespace foreslice::studio {

picture::Image half_of(const picture::Image& image) {
    picture::Image half(std::max(1, image.width_px / 2), std::max(1, image.height_px / 2), {});
    const auto row = static_cast<std::size_t>(image.width_px) * 4;
    const std::size_t right = image.width_px > 1 ? 4 : 0, below = image.height_px > 1 ? row : 0;
    const auto half_row = static_cast<std::size_t>(half.width_px) * 4;
    for (std::size_t y = 0; y < static_cast<std::size_t>(half.height_px); ++y) {
        const std::uint8_t* from = &image.rgba[2 * y * row];
        std::uint8_t* to = &half.rgba[y * half_row];
        for (std::size_t x = 0; x < half_row; x += 4)
            for (std::size_t c = x; c < x + 4; ++c) {
                const std::size_t at = x + c;
                to[c] = static_cast<std::uint8_t>(
                    (from[at] + from[at + right] + from[at + below] + from[at + right + below] + 2) / 4);
            }
    }
    return half;
}

}  // namespace foreslice::studio
