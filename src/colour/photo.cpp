#include "colour/photo.h"

#include <lcms2.h>
#include <stb_image.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "colour/exif.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

namespace foreslice::colour {
namespace {

constexpr std::size_t most_file_bytes = 200U << 20;
constexpr const char* wanted = "a JPEG or PNG picture";

struct Raw {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgb;
};

Raw decoded_picture(std::string_view bytes, const std::string& name, double most_pixels) {
    const auto* data = reinterpret_cast<const stbi_uc*>(bytes.data());
    const int size = static_cast<int>(bytes.size());
    const bool jpeg = bytes.substr(0, 3) == "\xff\xd8\xff", png = bytes.substr(0, 4) == "\x89PNG";
    if ((jpeg && !huffman_tables_fit(bytes)) || (png && !png_chunks_fit(bytes)))
        throw InputError(name, "", "is damaged", wanted);
    int w = 0, h = 0, channels = 0;
    if ((!jpeg && !png) || stbi_info_from_memory(data, size, &w, &h, &channels) == 0)
        throw InputError(name, "", "is no picture that can be read", wanted);
    if (static_cast<double>(w) * h > most_pixels)
        throw InputError(name, "", "has " + std::to_string(w) + " x " + std::to_string(h) + " px",
                         "up to " + plain_number(most_pixels / 1e6) + " million pixels");
    const std::unique_ptr<stbi_uc, void (*)(void*)> pixels(
        stbi_load_from_memory(data, size, &w, &h, &channels, 4), stbi_image_free);
    if (!pixels) throw InputError(name, "", "is damaged or of an unusual kind", wanted);
    Raw raw{w, h, {}};
    const std::size_t count = static_cast<std::size_t>(w) * static_cast<std::size_t>(h);
    raw.rgb.resize(3 * count);
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t c = 0; c < 3; ++c) {
            const int alpha = pixels.get()[4 * i + 3];
            raw.rgb[3 * i + c] = static_cast<std::uint8_t>(
                (pixels.get()[4 * i + c] * alpha + 255 * (255 - alpha) + 127) / 255);
        }
    return raw;
}

struct CloseProfile {
    void operator()(void* profile) const { cmsCloseProfile(profile); }
};
struct DeleteTransform {
    void operator()(void* transform) const { cmsDeleteTransform(transform); }
};

/// Pixels of a file with its own RGB profile as sRGB. A profile that Little CMS does not take changes
/// nothing.
void to_srgb(Raw& raw, const std::string& profile) {
    if (profile.empty()) return;
    cmsContext context = cmsCreateContext(nullptr, nullptr);
    {
        const std::unique_ptr<void, CloseProfile> from(
            cmsOpenProfileFromMemTHR(context, profile.data(), static_cast<cmsUInt32Number>(profile.size())));
        const std::unique_ptr<void, CloseProfile> to(cmsCreate_sRGBProfileTHR(context));
        if (from && to && cmsGetColorSpace(from.get()) == cmsSigRgbData) {
            const std::unique_ptr<void, DeleteTransform> transform(
                cmsCreateTransformTHR(context, from.get(), TYPE_RGB_8, to.get(), TYPE_RGB_8,
                                      INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOCACHE));
            if (transform)
                cmsDoTransform(transform.get(), raw.rgb.data(), raw.rgb.data(),
                               static_cast<cmsUInt32Number>(raw.rgb.size() / 3));
        }
    }
    cmsDeleteContext(context);
}

/// EXIF 1..8: where the pixel at (x, y) of the upright picture stands in the file.
Photo upright(Raw raw, int orientation) {
    Photo photo;
    const bool sideways = orientation >= 5;
    photo.width_px = sideways ? raw.height : raw.width;
    photo.height_px = sideways ? raw.width : raw.height;
    if (orientation == 1) {
        photo.rgb = std::move(raw.rgb);
        return photo;
    }
    photo.rgb.resize(raw.rgb.size());
    const int last_x = raw.width - 1, last_y = raw.height - 1;
    std::size_t to = 0;
    for (int y = 0; y < photo.height_px; ++y)
        for (int x = 0; x < photo.width_px; ++x, to += 3) {
            int from_x = sideways ? y : x, from_y = sideways ? x : y;
            if (orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8)
                from_x = last_x - from_x;
            if (orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7)
                from_y = last_y - from_y;
            const std::size_t from =
                3 * (static_cast<std::size_t>(from_y) * static_cast<std::size_t>(raw.width) +
                     static_cast<std::size_t>(from_x));
            std::copy_n(&raw.rgb[from], 3, &photo.rgb[to]);
        }
    return photo;
}

}  // namespace

EncodedSrgb Photo::at(int x, int y) const {
    const std::size_t i =
        3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width_px) + static_cast<std::size_t>(x));
    return {rgb[i], rgb[i + 1], rgb[i + 2]};
}

Photo photo_from(std::string_view bytes, const std::string& name, double most_pixels) {
    Raw raw = decoded_picture(bytes, name, most_pixels);
    to_srgb(raw, profile_of(bytes));
    return upright(std::move(raw), orientation_of(bytes));
}

Photo load_photo(const std::filesystem::path& path) {
    return photo_from(read_file(path, most_file_bytes), path.string());
}

Photo load_photo(const std::filesystem::path& path, Progress& progress) {
    progress.begin_stage("reading the photo", 4);
    const std::string bytes = read_file(path, most_file_bytes);
    progress.advance();
    Raw raw = decoded_picture(bytes, path.string(), most_photo_pixels);
    progress.advance();
    to_srgb(raw, profile_of(bytes));
    progress.advance();
    Photo photo = upright(std::move(raw), orientation_of(bytes));
    progress.advance();
    return photo;
}

PatchReading read_patch(const Photo& photo, const Patch& patch) {
    const double r = patch.radius_px;
    const bool inside = r >= 0.5 && patch.x_px - r >= 0 && patch.y_px - r >= 0 &&
                        patch.x_px + r <= photo.width_px && patch.y_px + r <= photo.height_px;
    if (!inside)
        throw InputError(
            "", "patch " + plain_number(patch.x_px) + "," + plain_number(patch.y_px) + "," + plain_number(r),
            "does not lie inside the photo",
            "x up to " + std::to_string(photo.width_px) + ", y up to " + std::to_string(photo.height_px) +
                ", radius from 0.5, all in pixels");
    PatchReading reading;
    double count = 0, green2 = 0;
    for (int y = static_cast<int>(patch.y_px - r);
         y < std::min<int>(photo.height_px, static_cast<int>(patch.y_px + r) + 1); ++y)
        for (int x = static_cast<int>(patch.x_px - r);
             x < std::min<int>(photo.width_px, static_cast<int>(patch.x_px + r) + 1); ++x) {
            if (std::hypot(x + 0.5 - patch.x_px, y + 0.5 - patch.y_px) > std::max(r, 0.75)) continue;
            const EncodedSrgb code = photo.at(x, y);
            const LinearSrgb light = decoded(code);
            reading.light.r += light.r;
            reading.light.g += light.g;
            reading.light.b += light.b;
            green2 += light.g * light.g;
            reading.clipped += code.r == 255 || code.g == 255 || code.b == 255 ? 1 : 0;
            count += 1;
        }
    reading.light = {reading.light.r / count, reading.light.g / count, reading.light.b / count};
    reading.clipped /= count;
    const double variance = std::max(0.0, green2 / count - reading.light.g * reading.light.g);
    reading.spread = reading.light.g > 0 ? std::sqrt(variance) / reading.light.g : 0;
    return reading;
}

LinearSrgb white_balanced(const LinearSrgb& patch, const LinearSrgb& card, double card_reflectance) {
    const auto channel = [&](double value, double white) {
        return value * card_reflectance / std::max(white, 1e-4);
    };
    return {channel(patch.r, card.r), channel(patch.g, card.g), channel(patch.b, card.b)};
}

}  // namespace foreslice::colour
