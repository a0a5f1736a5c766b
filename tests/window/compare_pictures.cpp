// Two screenshots as a person would compare them: mean colours of 8 x 8 blocks of the pictures at half their
// size, in CIEDE2000, so that another version of the fonts or of the graphics driver changes little.
//   compare_pictures KEPT NEW        0: alike, 1: not alike, 2: one of them cannot be read
//   compare_pictures --keep NEW KEPT writes NEW at half its size
//   compare_pictures --outline PICTURE X0 Y0 X1 Y1   0: no pixel there is darker than what lies three pixels
//   to
//                                    its left and to its right, 1: some are, as when an outline has a dark
//                                    seam
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <memory>
#include <optional>
#include <vector>

#include <stb_image.h>

#include "colour/colorimetry.h"
#include "foundation/error.h"
#include "picture/image.h"

namespace {

using namespace foreslice;

// Chosen by looking: a page that is drawn by another version of Mesa or FreeType stays below, another page, a
// missing panel or a face in another colour is far above.
constexpr double most_mean_de00 = 0.6, most_in_a_hundred_de00 = 8;
constexpr int block = 8;

std::optional<picture::Image> read(const char* file) {
    int width = 0, height = 0, parts = 0;
    const std::unique_ptr<unsigned char, void (*)(void*)> pixels(stbi_load(file, &width, &height, &parts, 4),
                                                                 stbi_image_free);
    if (!pixels) return std::nullopt;
    picture::Image image(width, height, {});
    std::copy_n(pixels.get(), image.rgba.size(), image.rgba.begin());
    return image;
}

colour::Lab mean_of(const picture::Image& image, int x0, int y0) {
    colour::LinearSrgb sum{};
    for (int y = y0; y < y0 + block; ++y)
        for (int x = x0; x < x0 + block; ++x) {
            const auto* p =
                &image.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                                 static_cast<std::size_t>(x))];
            sum.r += colour::decode_srgb(p[0] / 255.0) / (block * block);
            sum.g += colour::decode_srgb(p[1] / 255.0) / (block * block);
            sum.b += colour::decode_srgb(p[2] / 255.0) / (block * block);
        }
    return colour::lab_of(colour::xyz_of(sum), colour::white_of(colour::Illuminant::d65));
}

int compare(const picture::Image& kept, const picture::Image& fresh) {
    if (kept.width_px != fresh.width_px || kept.height_px != fresh.height_px) {
        std::printf("sizes differ: kept %d x %d, new %d x %d\n", kept.width_px, kept.height_px,
                    fresh.width_px, fresh.height_px);
        return 1;
    }
    std::vector<double> differences;
    for (int y = 0; y + block <= kept.height_px; y += block)
        for (int x = 0; x + block <= kept.width_px; x += block)
            differences.push_back(colour::ciede2000(mean_of(kept, x, y), mean_of(fresh, x, y)));
    std::sort(differences.begin(), differences.end());
    double mean = 0;
    for (const double one : differences) mean += one / static_cast<double>(differences.size());
    const double high = differences[differences.size() * 99 / 100];
    const bool alike = mean <= most_mean_de00 && high <= most_in_a_hundred_de00;
    std::printf("mean dE00 %.2f, 99 %% of the blocks below %.2f, the worst %.1f: %s\n", mean, high,
                differences.back(), alike ? "alike" : "not alike");
    return alike ? 0 : 1;
}

int dark_seams(const picture::Image& image, const std::array<int, 4>& at) {
    const auto lightness = [&](int x, int y) {
        const auto* p =
            &image.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                             static_cast<std::size_t>(x))];
        return p[0] + p[1] + p[2];
    };
    constexpr int clearly = 30, reach = 3;
    int count = 0;
    for (int y = at[1]; y < at[3]; ++y)
        for (int x = at[0] + reach; x < at[2] - reach; ++x)
            if (lightness(x, y) + clearly < std::min(lightness(x - reach, y), lightness(x + reach, y)))
                ++count;
    std::printf("%d pixels of a dark seam\n", count);
    return count == 0 ? 0 : 1;
}

int look_at_outline(char** argv) {
    const auto image = read(argv[2]);
    std::array<int, 4> at{};
    for (std::size_t i = 0; i < at.size(); ++i) at[i] = std::atoi(argv[3 + i]);
    if (!image || at[0] < 0 || at[1] < 0 || at[2] > image->width_px || at[3] > image->height_px) return 2;
    return dark_seams(*image, at);
}

}  // namespace

int main(int argc, char** argv) {
    if (argc == 7 && std::strcmp(argv[1], "--outline") == 0) return look_at_outline(argv);
    const bool keep = argc == 4 && std::strcmp(argv[1], "--keep") == 0;
    if (argc != 3 && !keep) return 2;
    const auto fresh = read(argv[2]);
    if (!fresh) return 2;
    try {
        if (keep) {
            picture::write_png(picture::halved(*fresh), argv[3]);
            return 0;
        }
        const auto kept = read(argv[1]);
        return kept ? compare(*kept, picture::halved(*fresh)) : 2;
    } catch (const InputError& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
}
