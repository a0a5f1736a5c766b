#include "picture/light.h"

#include <cstddef>

#include "colour/colorimetry.h"

namespace foreslice::picture {
namespace {

// sRGB rises steepest at black: 12.92 * 255 = 3295 codes per unit. Bins narrower than that hold at most one
// midpoint between neighbouring codes.
constexpr int bin_count = 4096;

struct Tables {
    std::array<float, 256> linear{};
    std::array<float, 256> upper{};  ///< linear value where a code gives way to the next one
    std::array<std::uint8_t, bin_count + 1> guess{};

    Tables() {
        for (int code = 0; code < 256; ++code) {
            const auto i = static_cast<std::size_t>(code);
            linear[i] = static_cast<float>(colour::decode_srgb(code / 255.0));
            upper[i] = code < 255 ? static_cast<float>(colour::decode_srgb((code + 0.5) / 255.0)) : 2.0F;
        }
        std::size_t code = 0;
        for (std::size_t bin = 0; bin < guess.size(); ++bin) {
            while (upper[code] <= static_cast<float>(bin) / bin_count) ++code;
            guess[bin] = static_cast<std::uint8_t>(code);
        }
    }
};

const Tables& tables() {
    static const Tables made;
    return made;
}

}  // namespace

float linear_of(std::uint8_t code) {
    return tables().linear[code];
}

std::uint8_t code_of(float linear) {
    if (!(linear > 0)) return 0;
    if (linear >= 1) return 255;
    const Tables& t = tables();
    const std::uint8_t guess = t.guess[static_cast<std::size_t>(linear * bin_count)];
    return linear >= t.upper[guess] ? static_cast<std::uint8_t>(guess + 1) : guess;
}

}  // namespace foreslice::picture
