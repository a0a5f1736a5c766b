// What stands beside the pixels of a photograph, without the packing that keeps a mutation from reaching it:
// the bytes become a PNG's colour profile (first byte even) or its EXIF block (odd), in a sound file.
#include <zlib.h>

#include "colour/exif.h"
#include "colour/photo.h"
#include "foundation/png_text.h"
#include "fuzz_rule.h"
#include "png_file.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

std::string four_bytes(std::size_t number) {
    std::string bytes;
    for (const unsigned shift : {24U, 16U, 8U, 0U}) bytes += static_cast<char>(number >> shift & 0xffU);
    return bytes;
}

std::string packed(const std::string& plain) {
    uLongf size = compressBound(plain.size());
    std::string bytes(size, '\0');
    compress2(reinterpret_cast<Bytef*>(bytes.data()), &size, reinterpret_cast<const Bytef*>(plain.data()),
              plain.size(), Z_NO_COMPRESSION);
    bytes.resize(size);
    return bytes;
}

std::string with_chunk(const std::string& png, const std::string& kind, const std::string& data) {
    const std::string body = kind + data;
    const auto sum = crc32_z(0, reinterpret_cast<const Bytef*>(body.data()), body.size());
    constexpr std::size_t behind_heading = 8 + 25;  // signature and IHDR
    std::string all = png;
    return all.insert(behind_heading, four_bytes(data.size()) + body + four_bytes(sum));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    static const std::string picture = png_by_libpng();
    const std::string bytes = bytes_from(data + 1, size - 1);
    const bool profile = data[0] % 2 == 0;
    const std::string name("p\0\0", 3);  // its end, and the one way of packing there is
    const std::string png =
        profile ? with_chunk(picture, "iCCP", name + packed(bytes)) : with_chunk(picture, "eXIf", bytes);
    if (profile && !bytes.empty())
        must(colour::profile_of(png) == bytes, "the profile arrives as it was sent");
    const auto photo = taken([&] { return colour::photo_from(png, "fuzz"); });
    must(photo.has_value(), "a broken profile or EXIF block costs nobody the photo");
    must(photo->width_px == 2 && photo->height_px == 2, "nor its size");
    return 0;
}
