#include "picture/text.h"

#include <stb_truetype.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/assets.h"
#include "picture/draw.h"
#include "picture/font_file.h"

namespace foreslice::picture {
namespace {

// Length of a UTF-8 sequence by its first byte, 0 for a byte that cannot start one.
int sequence_length(unsigned char first) {
    if (first < 0x80) return 1;
    if (first >= 0xc2 && first < 0xe0) return 2;
    if (first >= 0xe0 && first < 0xf0) return 3;
    if (first >= 0xf0 && first < 0xf5) return 4;
    return 0;
}

// Linear blending thins dark letters on a light page; a little more ink brings their weight back.
double weight_of(unsigned char coverage) {
    return std::pow(coverage / 255.0, 0.78);
}

}  // namespace

std::u32string characters_of(std::string_view utf8) {
    std::u32string out;
    for (std::size_t i = 0; i < utf8.size();) {
        const auto first = static_cast<unsigned char>(utf8[i]);
        const auto length = static_cast<std::size_t>(sequence_length(first));
        char32_t c = length <= 1 ? first : static_cast<char32_t>(first & (0x7fU >> length));
        bool good = length > 0 && i + length <= utf8.size();
        for (std::size_t k = 1; good && k < length; ++k) {
            const auto byte = static_cast<unsigned char>(utf8[i + k]);
            good = (byte & 0xc0U) == 0x80U;
            c = (c << 6U) | (byte & 0x3fU);
        }
        out.push_back(good ? c : U'\ufffd');
        i += good ? length : 1;
    }
    return out;
}

struct Font::Parts {
    std::string bytes;  ///< must outlive `info`, which points into it
    stbtt_fontinfo info{};

    float scale(double size_px) const {
        return stbtt_ScaleForMappingEmToPixels(&info, static_cast<float>(size_px));
    }
    int glyph(char32_t c) const { return stbtt_FindGlyphIndex(&info, static_cast<int>(c)); }
    int advance(int glyph_now, int glyph_next) const {
        int width = 0, bearing = 0;
        stbtt_GetGlyphHMetrics(&info, glyph_now, &width, &bearing);
        return width + (glyph_next ? stbtt_GetGlyphKernAdvance(&info, glyph_now, glyph_next) : 0);
    }
    std::vector<int> glyphs(std::string_view text) const {
        std::vector<int> out;
        for (char32_t c : characters_of(text)) out.push_back(glyph(c));
        return out;
    }
};

Font::Font(const std::filesystem::path& file) : parts_(std::make_unique<Parts>()) {
    parts_->bytes = read_file(file);
    const auto* data = reinterpret_cast<const unsigned char*>(parts_->bytes.data());
    const bool whole = is_whole_font(parts_->bytes);  // stb_truetype believes every offset in it
    const int offset = whole ? stbtt_GetFontOffsetForIndex(data, 0) : -1;
    if (offset < 0 || !stbtt_InitFont(&parts_->info, data, offset))
        throw InputError(file.string(), "", "is not a font that can be read", "an OpenType or TrueType font");
}

Font::~Font() = default;

const Font& Font::regular() {
    static const Font font(own_file("assets/fonts/Inter-Regular.otf"));
    return font;
}

const Font& Font::semibold() {
    static const Font font(own_file("assets/fonts/Inter-SemiBold.otf"));
    return font;
}

bool Font::covers(std::string_view text) const {
    const auto glyphs = parts_->glyphs(text);
    return std::find(glyphs.begin(), glyphs.end(), 0) == glyphs.end();
}

double Font::width_px(std::string_view text, double size_px) const {
    const auto glyphs = parts_->glyphs(text);
    double units = 0;
    for (std::size_t i = 0; i < glyphs.size(); ++i)
        units += parts_->advance(glyphs[i], i + 1 < glyphs.size() ? glyphs[i + 1] : 0);
    return units * static_cast<double>(parts_->scale(size_px));
}

double Font::draw(Image& image, double x_px, double baseline_px, double size_px,
                  const colour::LinearSrgb& ink, std::string_view text, double opacity) const {
    const float scale = parts_->scale(size_px);
    const auto glyphs = parts_->glyphs(text);
    const double baseline = std::round(baseline_px);  // sharp horizontals; x keeps its fraction
    double x = x_px;
    std::vector<unsigned char> mask;
    for (std::size_t i = 0; i < glyphs.size(); ++i) {
        const auto shift = static_cast<float>(x - std::floor(x));
        int x0 = 0, y0 = 0, x1 = 0, y1 = 0;
        stbtt_GetGlyphBitmapBoxSubpixel(&parts_->info, glyphs[i], scale, scale, shift, 0, &x0, &y0, &x1, &y1);
        const int w = x1 - x0, h = y1 - y0;
        if (w > 0 && h > 0) {
            mask.assign(static_cast<std::size_t>(w) * static_cast<std::size_t>(h), 0);
            stbtt_MakeGlyphBitmapSubpixel(&parts_->info, mask.data(), w, h, w, scale, scale, shift, 0,
                                          glyphs[i]);
            for (int row = 0; row < h; ++row)
                for (int column = 0; column < w; ++column)
                    blend(image, static_cast<int>(std::floor(x)) + x0 + column,
                          static_cast<int>(baseline) + y0 + row, ink,
                          opacity * weight_of(mask[static_cast<std::size_t>(row * w + column)]));
        }
        x += parts_->advance(glyphs[i], i + 1 < glyphs.size() ? glyphs[i + 1] : 0) *
             static_cast<double>(scale);
    }
    return x - x_px;
}

std::string Font::fitted(std::string_view text, double size_px, double limit_px) const {
    if (width_px(text, size_px) <= limit_px) return std::string(text);
    std::string cut(text);
    while (!cut.empty()) {
        while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xc0U) == 0x80U) cut.pop_back();
        if (!cut.empty()) cut.pop_back();
        if (width_px(cut + "…", size_px) <= limit_px) break;
    }
    return cut + "…";
}

std::vector<std::string> Font::wrapped(std::string_view text, double size_px, double limit_px,
                                       std::size_t most_lines) const {
    std::vector<std::string> lines;
    while (!text.empty() && lines.size() + 1 < most_lines && width_px(text, size_px) > limit_px) {
        std::size_t end = 0;  // of what fits
        for (auto space = text.find(' '); space != std::string_view::npos;
             space = text.find(' ', space + 1)) {
            if (width_px(text.substr(0, space), size_px) > limit_px) break;
            end = space;
        }
        if (end == 0) break;  // a single word too wide
        lines.emplace_back(text.substr(0, end));
        text.remove_prefix(end + 1);
    }
    if (!text.empty()) lines.push_back(fitted(text, size_px, limit_px));
    return lines;
}

}  // namespace foreslice::picture
