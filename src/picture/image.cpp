#include "picture/image.h"

#include <stb_image_write.h>

#include <algorithm>
#include <array>
#include <string>

#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/light.h"
#include "picture/png_tag.h"

namespace foreslice::picture {
namespace {

bool opaque(const Image& image) {
    for (std::size_t i = 3; i < image.rgba.size(); i += 4)
        if (image.rgba[i] != 255) return false;
    return true;
}

std::vector<std::uint8_t> without_alpha(const Image& image) {
    std::vector<std::uint8_t> rgb(image.rgba.size() / 4 * 3);
    for (std::size_t i = 0; i < image.rgba.size() / 4; ++i)
        for (std::size_t c = 0; c < 3; ++c) rgb[3 * i + c] = image.rgba[4 * i + c];
    return rgb;
}

void append(void* text, void* data, int size) {
    static_cast<std::string*>(text)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
}

}  // namespace

Image::Image(int width, int height, colour::EncodedSrgb fill)
    : width_px(width),
      height_px(height),
      rgba(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 4) {
    for (std::size_t i = 0; i < rgba.size(); i += 4) {
        rgba[i] = fill.r;
        rgba[i + 1] = fill.g;
        rgba[i + 2] = fill.b;
        rgba[i + 3] = 255;
    }
}

Image halved(const Image& image) {
    Image half(image.width_px / 2, image.height_px / 2, {});
    const auto row_bytes = 4 * static_cast<std::size_t>(image.width_px);
    for (int y = 0; y < half.height_px; ++y)
        for (int x = 0; x < half.width_px; ++x) {
            const auto from = 2 * static_cast<std::size_t>(y) * row_bytes + 8 * static_cast<std::size_t>(x);
            const auto to = 4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(half.width_px) +
                                 static_cast<std::size_t>(x));
            const std::array<std::size_t, 4> four{from, from + 4, from + row_bytes, from + row_bytes + 4};
            int opacity = 0;
            for (const std::size_t at : four) opacity += image.rgba[at + 3];
            half.rgba[to + 3] = static_cast<std::uint8_t>((opacity + 2) / 4);
            if (opacity == 0) continue;
            const bool whole = opacity == 4 * 255;
            for (std::size_t c = 0; c < 3; ++c) {
                float light = 0;  // what can be seen through counts for less
                for (const std::size_t at : four)
                    light += (whole ? 1.0F : static_cast<float>(image.rgba[at + 3])) *
                             linear_of(image.rgba[at + c]);
                half.rgba[to + c] = code_of(light / (whole ? 4.0F : static_cast<float>(opacity)));
            }
        }
    return half;
}

std::string png_bytes(const Image& image) {
    std::string bytes;
    const int w = image.width_px, h = image.height_px;
    int good = 0;
    constexpr double most_bytes = 2147483647.0;  // what the packer can count
    if (4.0 * w * h + h > most_bytes)
        throw InputError("", "",
                         "a picture of " + std::to_string(w) + " x " + std::to_string(h) + " px is too large",
                         "up to 530 million pixels");
    if (opaque(image)) {
        const auto rgb = without_alpha(image);
        good = stbi_write_png_to_func(append, &bytes, w, h, 3, rgb.data(), 3 * w);
    } else {
        good = stbi_write_png_to_func(append, &bytes, w, h, 4, image.rgba.data(), 4 * w);
    }
    if (good == 0 || bytes.empty())
        throw InputError("", "",
                         "a picture of " + std::to_string(w) + " x " + std::to_string(h) +
                             " px could not be packed as PNG",
                         "a smaller picture");
    return tagged_srgb(std::move(bytes));
}

void write_png(const Image& image, const std::filesystem::path& path) {
    write_file_atomically(path, png_bytes(image));
}

}  // namespace foreslice::picture
