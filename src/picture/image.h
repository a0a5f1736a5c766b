// An 8-bit sRGB picture in memory and its PNG file.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "colour/colorimetry.h"

namespace foreslice::picture {

struct Image {
    int width_px = 0;
    int height_px = 0;
    std::vector<std::uint8_t> rgba;  ///< width * height * 4, top row first, straight alpha, sRGB-encoded

    Image() = default;
    Image(int width, int height, colour::EncodedSrgb fill);
};

/// Half as wide and high, each pixel the mean light of four; an odd last row or column is left out. For
/// pictures of at least 2 x 2 px.
Image halved(const Image& image);

/// The picture as the bytes of a PNG file, tagged as sRGB: RGB when every pixel is opaque, else RGBA.
std::string png_bytes(const Image& image);
/// Atomic write. Throws InputError when it cannot be written.
void write_png(const Image& image, const std::filesystem::path& path);

}  // namespace foreslice::picture
