// Small PNG files written and read by libpng, the reference implementation of the PNG standard.
#pragma once

#include <png.h>

#include <csetjmp>
#include <cstring>
#include <optional>
#include <string>
#include <vector>

namespace foreslice::testing {

/// A 2 x 2 picture; with a text, libpng writes it as a compressed iTXt chunk after the picture data when
/// `behind`.
inline std::string png_by_libpng(const std::string& keyword = "", const std::string& text = "",
                                 bool compressed = true, bool behind = false) {
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
    png_infop info = png_create_info_struct(png);
    std::string bytes;
    png_set_write_fn(
        png, &bytes,
        [](png_structp to, png_bytep data, png_size_t size) {
            static_cast<std::string*>(png_get_io_ptr(to))->append(reinterpret_cast<const char*>(data), size);
        },
        nullptr);
    png_set_IHDR(png, info, 2, 2, 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                 PNG_FILTER_TYPE_DEFAULT);
    std::string key = keyword, value = text, none;
    ::png_text chunk{};
    chunk.compression = compressed ? PNG_ITXT_COMPRESSION_zTXt : PNG_ITXT_COMPRESSION_NONE;
    chunk.key = key.data();
    chunk.text = value.data();
    chunk.itxt_length = value.size();
    chunk.lang = none.data();
    chunk.lang_key = none.data();
    if (!keyword.empty() && !behind) png_set_text(png, info, &chunk, 1);
    png_write_info(png, info);
    std::vector<unsigned char> row{200, 30, 40, 10, 20, 230};
    png_write_row(png, row.data());
    png_write_row(png, row.data());
    if (!keyword.empty() && behind) png_set_text(png, info, &chunk, 1);
    png_write_end(png, info);
    png_destroy_write_struct(&png, &info);
    return bytes;
}

/// What libpng reads under a keyword, having read the whole picture; it ends the program on a broken file.
inline std::optional<std::string> text_by_libpng(const std::string& bytes, const std::string& keyword) {
    struct Source {
        const std::string& bytes;
        std::size_t at = 0;
    } source{bytes};
    png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
    png_infop info = png_create_info_struct(png);
    png_set_read_fn(png, &source, [](png_structp from, png_bytep data, png_size_t size) {
        auto* in = static_cast<Source*>(png_get_io_ptr(from));
        if (in->at + size > in->bytes.size()) png_error(from, "the file ends");
        std::memcpy(data, in->bytes.data() + in->at, size);
        in->at += size;
    });
    png_read_png(png, info, PNG_TRANSFORM_IDENTITY, nullptr);
    png_textp texts = nullptr;
    int count = 0;
    png_get_text(png, info, &texts, &count);
    std::optional<std::string> found;
    for (int i = 0; i < count; ++i)
        if (keyword == texts[i].key) found = std::string(texts[i].text, texts[i].itxt_length);
    png_destroy_read_struct(&png, &info, nullptr);
    return found;
}

}  // namespace foreslice::testing
