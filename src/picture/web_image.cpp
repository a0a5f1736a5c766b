#include "picture/web_image.h"

#include <stb_image_write.h>

#include <algorithm>

#include "foundation/error.h"

namespace foreslice::picture {
namespace {

void append(void* text, void* data, int size) {
    static_cast<std::string*>(text)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
}

}  // namespace

std::string jpeg_bytes(const Image& image, int quality) {
    std::string bytes;
    // The encoder halves the colour's resolution up to a quality of 90.
    const int good = stbi_write_jpg_to_func(append, &bytes, image.width_px, image.height_px, 4,
                                            image.rgba.data(), std::clamp(quality, 91, 100));
    if (good == 0 || bytes.empty())
        throw InputError("", "", "a picture could not be packed as JPEG", "a smaller picture");
    return bytes;
}

std::string base64(std::string_view bytes) {
    constexpr std::string_view digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const std::size_t left = std::min<std::size_t>(3, bytes.size() - i);
        unsigned group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group = group << 8U | (k < left ? static_cast<unsigned char>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k) text += k <= left ? digits[group >> (18 - 6 * k) & 63U] : '=';
    }
    return text;
}

std::string jpeg_url(const Image& image) {
    return "data:image/jpeg;base64," + base64(jpeg_bytes(image));
}

}  // namespace foreslice::picture
