// Texts in PNG files, held against libpng 1.6, the reference implementation, both ways round.
#include <doctest/doctest.h>
#include <zlib.h>

#include <string>

#include "foundation/error.h"
#include "foundation/png_text.h"
#include "foundation/random.h"
#include "png_file.h"

using namespace foreslice;
using foreslice::testing::png_by_libpng;
using foreslice::testing::text_by_libpng;

namespace {

constexpr std::size_t plenty = 1U << 20U;
const std::string keyword = "Foreslice design";

std::string long_text() {
    std::string text;
    for (int i = 0; i < 4000; ++i) text += "layer " + std::to_string(i * i) + " \xc3\xa9; ";
    return text;
}

void refused(const std::string& png, const std::string& word) {
    try {
        read_png_text(png, keyword, "shared.png", plenty);
        FAIL("was read");
    } catch (const InputError& error) {
        CHECK(error.file() == "shared.png");
        CHECK_MESSAGE(std::string(error.what()).find(word) != std::string::npos, error.what());
    }
}

}  // namespace

TEST_CASE("png text: libpng reads what we write, and the picture with it") {
    for (const std::string& text : {std::string("short"), std::string(), long_text()}) {
        const std::string png = with_png_text(png_by_libpng(), keyword, text);
        CHECK(text_by_libpng(png, keyword) == text);
        CHECK(read_png_text(png, keyword, "x", plenty) == text);
    }
}

TEST_CASE("png text: we read what libpng writes, packed or not, before or behind the picture data") {
    for (const bool packed : {true, false})
        for (const bool behind : {true, false}) {
            const std::string png = png_by_libpng(keyword, long_text(), packed, behind);
            CHECK(read_png_text(png, keyword, "x", plenty) == long_text());
            CHECK_FALSE(read_png_text(png, "Foreslice", "x", plenty));  // a keyword that only begins alike
        }
    CHECK_FALSE(read_png_text(png_by_libpng(), keyword, "x", plenty));
}

TEST_CASE("png text: a second text takes the place of the first, other texts stay") {
    const std::string other = png_by_libpng("Comment", "by hand");
    const std::string twice = with_png_text(with_png_text(other, keyword, long_text()), keyword, "second");
    CHECK(twice == with_png_text(other, keyword, "second"));
    CHECK(text_by_libpng(twice, "Comment") == "by hand");
    CHECK(text_by_libpng(twice, keyword) == "second");
}

TEST_CASE("png text: the text outlives a file that was cut short behind it") {
    const std::string png = with_png_text(png_by_libpng(), keyword, "kept");
    CHECK(read_png_text(png.substr(0, png.size() - 20), keyword, "x", plenty) == "kept");
}

TEST_CASE("png text: what is no sound PNG text is refused with a sentence") {
    const std::string png = with_png_text(png_by_libpng(), keyword, long_text());
    refused("", "no PNG");
    refused("GIF89a", "no PNG");
    refused("\x89PNG\r\n\x1a\n" + std::string(11, '\0'), "ends too early");
    refused(png.substr(0, 60), "ends too early");
    std::string broken = png;
    broken[png.find(keyword) + keyword.size() + 40] ^= 1;
    refused(broken, "checksum");
    std::string huge_length = png;
    huge_length[8] = '\x7f';
    refused(huge_length, "ends too early");
}

TEST_CASE("png text: a text that unpacks to far more than it should is stopped on the way") {
    const std::string bomb = with_png_text(png_by_libpng(), keyword, std::string(64U << 20U, ' '));
    CHECK(bomb.size() < 100000);
    refused(bomb, "more than 1024 KiB");
    const std::string plain = png_by_libpng(keyword, std::string(2U << 20U, 'x'), false);
    refused(plain, "at most 1024 KiB");
}

namespace {

// A chunk of any content with the right checksum.
std::string with_chunk(const std::string& data) {
    std::string png = png_by_libpng(), body = "iTXt" + data;
    const auto number = [](std::uint32_t value) {
        std::string bytes;
        for (int shift = 24; shift >= 0; shift -= 8)
            bytes += static_cast<char>(value >> static_cast<unsigned>(shift));
        return bytes;
    };
    const auto sum = static_cast<std::uint32_t>(
        crc32(0, reinterpret_cast<const Bytef*>(body.data()), static_cast<uInt>(body.size())));
    png.insert(33, number(static_cast<std::uint32_t>(data.size())) + body + number(sum));
    return png;
}

}  // namespace

TEST_CASE("png text: sound chunks with unsound insides are refused") {
    const std::string key = keyword + '\0';
    refused(with_chunk(key), "heading");
    refused(with_chunk(key + '\1'), "heading");
    refused(with_chunk(key + std::string("\1\0en", 4)), "heading");
    refused(with_chunk(key + std::string("\1\0en\0x", 6)), "heading");
    refused(with_chunk(key + std::string("\2\0\0\0x", 5)), "packed in a way");
    refused(with_chunk(key + std::string("\1\7\0\0x", 5)), "packed in a way");
    refused(with_chunk(key + std::string("\1\0\0\0", 4)), "does not unpack");
    refused(with_chunk(key + std::string("\1\0\0\0no zlib stream", 18)), "does not unpack");
    CHECK(read_png_text(with_chunk(key + std::string("\0\0\0\0plain", 9)), keyword, "x", plenty) == "plain");
}

TEST_CASE("png text: whatever bytes change, a text comes out or an InputError") {
    const std::string png = with_png_text(png_by_libpng(), keyword, long_text().substr(0, 400));
    int read = 0, kept_away = 0;
    for (std::uint64_t seed = 0; seed < 20000; ++seed) {
        std::string bytes = png;
        for (std::uint64_t i = 0; i <= seed % 3; ++i) {
            const auto at = static_cast<std::size_t>(mixed_bits(seed * 8 + i) % bytes.size());
            if (mixed_bits(seed * 8 + i + 4) % 4 == 0)
                bytes.erase(at, 1 + mixed_bits(seed + i) % 9);
            else
                bytes[at] = static_cast<char>(mixed_bits(seed * 8 + i + 5));
        }
        try {
            read_png_text(bytes, keyword, "x", plenty);
            ++read;
        } catch (const InputError&) {
            ++kept_away;
        }
    }
    CHECK(read > 100);
    CHECK(kept_away > 1000);
}
