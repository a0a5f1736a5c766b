#include "picture/glance.h"

#include <algorithm>
#include <cstdint>

namespace foreslice::picture {
namespace {

constexpr std::uint8_t most_of_a_pixel = 128;  // of 255
constexpr std::uint8_t nearly_pure = 230;      // a pixel below this is mixed
constexpr int nobody = -1;

// The material that holds most of each pixel, and whether the pixel is mixed.
struct Holders {
    std::vector<std::int16_t> holder;
    std::vector<std::uint8_t> mixed;
};

Holders holders_of(const Coverage& coverage) {
    const auto pixels =
        static_cast<std::size_t>(coverage.width_px) * static_cast<std::size_t>(coverage.height_px);
    const auto kinds = static_cast<std::size_t>(coverage.portions);
    Holders out{std::vector<std::int16_t>(pixels), std::vector<std::uint8_t>(pixels)};
    for (std::size_t at = 0; at < pixels; ++at) {
        const std::uint8_t* share = &coverage.share[at * kinds];
        const auto most = static_cast<std::size_t>(std::max_element(share, share + kinds) - share);
        out.holder[at] =
            static_cast<std::int16_t>(share[most] >= most_of_a_pixel ? static_cast<int>(most) : nobody);
        out.mixed[at] = share[most] < nearly_pure;
    }
    return out;
}

double contrast_of(const Holders& pixels, std::size_t width, std::size_t kinds,
                   const std::vector<double>& contrast_de00) {
    std::vector<std::uint32_t> meetings(kinds * kinds);
    const auto meet = [&](int a, int b) {
        if (a == b || a == nobody || b == nobody) return;
        ++meetings[static_cast<std::size_t>(a) * kinds + static_cast<std::size_t>(b)];
    };
    // Two pixels apart: the one between them may be the edge itself, and be nobody's.
    for (std::size_t at = 0; at < pixels.holder.size(); ++at) {
        if (at % width + 2 < width) meet(pixels.holder[at], pixels.holder[at + 2]);
        if (at + 2 * width < pixels.holder.size()) meet(pixels.holder[at], pixels.holder[at + 2 * width]);
    }
    double sum = 0, all = 0;
    for (std::size_t pair = 0; pair < meetings.size(); ++pair) {
        sum += meetings[pair] * contrast_de00[pair];
        all += meetings[pair];
    }
    return all > 0 ? sum / all : 0;
}

double muddy_of(const Holders& pixels, std::size_t width) {
    const std::size_t height = pixels.mixed.size() / width;
    std::size_t muddy = 0;
    for (std::size_t y = 1; y + 1 < height; ++y)
        for (std::size_t x = 1; x + 1 < width; ++x) {
            const std::uint8_t* middle = &pixels.mixed[y * width + x];
            bool all = true;
            for (std::ptrdiff_t row = -1; row <= 1 && all; ++row)
                for (std::ptrdiff_t column = -1; column <= 1; ++column)
                    all = all && middle[row * static_cast<std::ptrdiff_t>(width) + column] != 0;
            muddy += all ? 1 : 0;
        }
    return 100 * static_cast<double>(muddy) / static_cast<double>(pixels.mixed.size());
}

}  // namespace

std::vector<double> contrasts_of(const std::vector<colour::PortionColour>& colours) {
    std::vector<double> contrasts;
    for (const auto& a : colours)
        for (const auto& b : colours) contrasts.push_back(colour::ciede2000(a.lab, b.lab));
    return contrasts;
}

Glance glance_at(const Coverage& coverage, const std::vector<colour::PortionColour>& colours,
                 const std::vector<double>& contrast_de00) {
    const auto width = static_cast<std::size_t>(coverage.width_px);
    const auto kinds = static_cast<std::size_t>(coverage.portions);
    const Holders pixels = holders_of(coverage);
    Glance glance;
    glance.contrast_de00 = contrast_of(pixels, width, kinds, contrast_de00);
    glance.muddy_percent = muddy_of(pixels, width);
    glance.face_percent = coverage.area_percent;
    std::vector<std::size_t> counts(kinds);
    for (const int holder : pixels.holder)
        if (holder != nobody) ++counts[static_cast<std::size_t>(holder)];
    for (const std::size_t count : counts)
        glance.plain_percent.push_back(100 * static_cast<double>(count) /
                                       static_cast<double>(pixels.holder.size()));
    glance.signature = signature_of(coverage, colours);
    return glance;
}

}  // namespace foreslice::picture
