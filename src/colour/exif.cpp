// JPEG: ISO/IEC 10918-1 marker segments; EXIF (CIPA DC-008) in APP1, ICC profile in APP2 (ICC.1 annex B.4).
// PNG: chunks eXIf and iCCP (W3C PNG, third edition). All read with every offset checked.
#include "colour/exif.h"

#include <stb_image.h>

#include <cstdint>
#include <map>
#include <memory>
#include <vector>

namespace foreslice::colour {
namespace {

std::uint32_t byte_at(std::string_view s, std::size_t i) {
    return static_cast<unsigned char>(s[i]);
}

std::uint32_t big(std::string_view s, std::size_t at, std::size_t bytes) {
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < bytes; ++i) value = value << 8U | byte_at(s, at + i);
    return value;
}

std::uint32_t number(std::string_view s, std::size_t at, std::size_t bytes, bool big_endian) {
    if (big_endian) return big(s, at, bytes);
    std::uint32_t value = 0;
    for (std::size_t i = bytes; i-- > 0;) value = value << 8U | byte_at(s, at + i);
    return value;
}

/// Orientation (tag 0x0112) in the first directory of a TIFF block.
int orientation_in(std::string_view tiff) {
    if (tiff.size() < 8) return 1;
    const bool big_endian = tiff.substr(0, 2) == "MM";
    if (!big_endian && tiff.substr(0, 2) != "II") return 1;
    const std::size_t directory = number(tiff, 4, 4, big_endian);
    if (directory + 2 > tiff.size()) return 1;
    const std::size_t entries = number(tiff, directory, 2, big_endian);
    for (std::size_t n = 0; n < entries; ++n) {
        const std::size_t at = directory + 2 + 12 * n;
        if (at + 12 > tiff.size()) return 1;
        if (number(tiff, at, 2, big_endian) != 0x0112) continue;
        const auto value = static_cast<int>(number(tiff, at + 8, 2, big_endian));
        return value >= 1 && value <= 8 ? value : 1;
    }
    return 1;
}

struct Segment {
    unsigned marker;
    std::string_view data;
};

/// All segments of a JPEG, also those between and after its scans. Reads on as tolerantly as the decoder
/// does.
std::vector<Segment> jpeg_segments(std::string_view bytes) {
    std::vector<Segment> all;
    if (bytes.substr(0, 2) != "\xff\xd8") return all;
    std::size_t at = 2;
    while (at + 4 <= bytes.size()) {
        if (byte_at(bytes, at) != 0xff) {  // padding, or the picture data of a scan
            ++at;
            continue;
        }
        const unsigned marker = byte_at(bytes, at + 1);
        const bool alone = marker == 0 || marker == 0x01 || (marker >= 0xd0 && marker <= 0xd9);
        if (marker == 0xff || alone) {
            at += marker == 0xff ? 1 : 2;
            continue;
        }
        const std::size_t length = big(bytes, at + 2, 2);
        if (length < 2) break;
        all.push_back({marker, bytes.substr(at + 4, length - 2)});
        at += 2 + length;
    }
    return all;
}

std::string_view png_chunk(std::string_view bytes, std::string_view kind) {
    if (bytes.substr(0, 8) != "\x89PNG\r\n\x1a\n") return {};
    std::size_t at = 8;
    while (at + 12 <= bytes.size()) {
        const std::size_t length = big(bytes, at, 4);
        if (length > bytes.size() - at - 12) break;
        if (bytes.substr(at + 4, 4) == kind) return bytes.substr(at + 8, length);
        at += 12 + length;
    }
    return {};
}

std::string jpeg_profile(std::string_view bytes) {
    constexpr std::string_view mark("ICC_PROFILE\0", 12);
    std::map<unsigned, std::string_view> parts;
    unsigned count = 0;
    for (const Segment& segment : jpeg_segments(bytes))
        if (segment.marker == 0xe2 && segment.data.size() > 14 && segment.data.substr(0, 12) == mark) {
            parts[byte_at(segment.data, 12)] = segment.data.substr(14);
            count = byte_at(segment.data, 13);
        }
    std::string profile;
    if (parts.size() != count) return profile;
    for (const auto& [index, part] : parts) profile += part;
    return profile;
}

std::string png_profile(std::string_view bytes) {
    const std::string_view chunk = png_chunk(bytes, "iCCP");
    const std::size_t name = chunk.find('\0');
    if (name == std::string_view::npos || name + 2 >= chunk.size()) return {};
    const std::string_view packed = chunk.substr(name + 2);
    int size = 0;
    const std::unique_ptr<char, void (*)(void*)> plain(
        stbi_zlib_decode_malloc(packed.data(), static_cast<int>(packed.size()), &size), stbi_image_free);
    return plain && size > 0 ? std::string(plain.get(), static_cast<std::size_t>(size)) : std::string();
}

}  // namespace

int orientation_of(std::string_view bytes) {
    constexpr std::string_view mark("Exif\0\0", 6);
    for (const Segment& segment : jpeg_segments(bytes))
        if (segment.marker == 0xe1 && segment.data.substr(0, 6) == mark)
            return orientation_in(segment.data.substr(6));
    return orientation_in(png_chunk(bytes, "eXIf"));
}

bool huffman_tables_fit(std::string_view bytes) {
    for (const Segment& segment : jpeg_segments(bytes)) {
        if (segment.marker != 0xc4) continue;
        for (std::string_view rest = segment.data; !rest.empty();) {
            if (rest.size() < 17) return false;
            std::size_t codes = 0;
            for (std::size_t i = 1; i <= 16; ++i) codes += byte_at(rest, i);
            if (codes > 256 || rest.size() < 17 + codes) return false;
            rest.remove_prefix(17 + codes);
        }
    }
    return true;
}

bool png_chunks_fit(std::string_view bytes) {
    for (std::size_t at = 8; at + 12 <= bytes.size();) {
        const std::size_t length = big(bytes, at, 4);
        if (length > bytes.size() - at - 12) return false;
        if (bytes.substr(at + 4, 4) == "IEND") break;
        at += 12 + length;
    }
    return true;
}

std::string profile_of(std::string_view bytes) {
    return bytes.substr(0, 2) == "\xff\xd8" ? jpeg_profile(bytes) : png_profile(bytes);
}

}  // namespace foreslice::colour
