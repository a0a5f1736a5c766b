#include "picture/png_tag.h"

#include <array>
#include <cstdint>

namespace foreslice::picture {
namespace {

/// CRC-32 of ISO 3309, as PNG uses it.
std::uint32_t crc_of(const std::string& bytes) {
    std::uint32_t crc = 0xffffffffU;
    for (const char c : bytes) {
        crc ^= static_cast<unsigned char>(c);
        for (int bit = 0; bit < 8; ++bit) crc = (crc & 1U) != 0 ? 0xedb88320U ^ (crc >> 1U) : crc >> 1U;
    }
    return crc ^ 0xffffffffU;
}

std::string big_endian(std::uint32_t value) {
    std::string bytes;
    for (int shift = 24; shift >= 0; shift -= 8)
        bytes += static_cast<char>(value >> static_cast<unsigned>(shift));
    return bytes;
}

}  // namespace

std::string tagged_srgb(std::string png) {
    constexpr std::size_t header_end = 8 + 12 + 13;  // signature, IHDR
    if (png.size() < header_end || png.compare(1, 3, "PNG") != 0 || png.compare(12, 4, "IHDR") != 0)
        return png;
    const std::string chunk = std::string("sRGB") + '\0';
    png.insert(header_end, big_endian(1) + chunk + big_endian(crc_of(chunk)));
    return png;
}

}  // namespace foreslice::picture
