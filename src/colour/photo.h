// A maker's photograph as numbers: JPEG or PNG, turned upright, in sRGB; patches read and white-balanced.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "colour/colorimetry.h"
#include "foundation/progress.h"

namespace foreslice::colour {

struct Photo {
    int width_px = 0, height_px = 0;
    std::vector<std::uint8_t> rgb;  ///< width * height * 3, top row first, sRGB; transparency laid on white
    EncodedSrgb at(int x, int y) const;
};

inline constexpr double most_photo_pixels = 120e6;

/// Reads a JPEG or PNG. The camera's orientation (EXIF) is honoured; an embedded RGB profile is turned into
/// sRGB (relative colorimetric, Little CMS). Throws InputError for anything else, and for damaged or huge
/// files.
Photo load_photo(const std::filesystem::path& path);
/// The same for a worker's thread: tells how far it is, and stops between its steps when asked to.
Photo load_photo(const std::filesystem::path& path, Progress& progress);
/// The same from bytes; `name` stands in for the file in error sentences.
Photo photo_from(std::string_view bytes, const std::string& name, double most_pixels = most_photo_pixels);

/// A round patch to read, in pixels of the upright photo.
struct Patch {
    double x_px = 0, y_px = 0, radius_px = 12;
};

struct PatchReading {
    LinearSrgb light;    ///< mean of linear light
    double spread = 0;   ///< relative standard deviation of its green
    double clipped = 0;  ///< share of pixels with a channel at 255: those have lost their colour
};
/// Throws InputError when the patch does not lie inside the photo.
PatchReading read_patch(const Photo& photo, const Patch& patch);

/// What the patch would look like relative to a perfect white under D65: each channel of its linear light
/// scaled so that the card comes out grey at its reflectance (von Kries in the camera's primaries).
LinearSrgb white_balanced(const LinearSrgb& patch, const LinearSrgb& card, double card_reflectance);

}  // namespace foreslice::colour
