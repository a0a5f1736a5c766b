// Photographs from anywhere: JPEG and PNG, with whatever their makers put beside the pixels.
#include "colour/exif.h"
#include "colour/photo.h"
#include "fuzz_rule.h"

using namespace foreslice;
using namespace foreslice::testing;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    constexpr double most_pixels =
        1 << 20;  // the way to the refusal is the same, and larger ones take seconds
    const std::string bytes = bytes_from(data, size);
    const int orientation = colour::orientation_of(bytes);
    must(orientation >= 1 && orientation <= 8, "EXIF knows eight orientations");
    const auto photo = taken([&] { return colour::photo_from(bytes, "fuzz", most_pixels); });
    if (!photo) return 0;
    must(photo->width_px > 0 && photo->height_px > 0, "a photo has pixels");
    must(photo->rgb.size() ==
             3U * static_cast<std::size_t>(photo->width_px) * static_cast<std::size_t>(photo->height_px),
         "as many as it says");
    const double radius = 0.5;
    taken([&] { return colour::read_patch(*photo, {radius, radius, radius}); });
    return 0;
}
