#include "picture/pdf_typeface.h"

#include <cairo-ft.h>
#include <hb-ot.h>
#include <hb.h>

#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/assets.h"
#include "picture/text.h"

namespace foreslice::picture {
namespace {

FT_Library freetype() {
    static FT_Library library = [] {
        FT_Library made = nullptr;
        if (FT_Init_FreeType(&made) != 0) throw InputError("", "", "FreeType cannot be started", "");
        return made;
    }();
    return library;
}

void append_utf8(std::string& out, char32_t c) {
    const auto byte = [&out](char32_t value) { out += static_cast<char>(static_cast<unsigned char>(value)); };
    if (c < 0x80) {
        byte(c);
    } else if (c < 0x800) {
        byte(0xc0U | (c >> 6U));
        byte(0x80U | (c & 0x3fU));
    } else if (c < 0x10000) {
        byte(0xe0U | (c >> 12U));
        byte(0x80U | ((c >> 6U) & 0x3fU));
        byte(0x80U | (c & 0x3fU));
    } else {
        byte(0xf0U | (c >> 18U));
        byte(0x80U | ((c >> 12U) & 0x3fU));
        byte(0x80U | ((c >> 6U) & 0x3fU));
        byte(0x80U | (c & 0x3fU));
    }
}

int bytes_of(const hb_glyph_info_t* info, unsigned from, unsigned count, std::size_t text_bytes) {
    const std::size_t end = from < count ? info[from].cluster : text_bytes;
    return static_cast<int>(end);
}

/// Glyphs that came from the same bytes of the text, in the order of the line.
std::vector<cairo_text_cluster_t> clusters_of(const hb_glyph_info_t* info, unsigned count,
                                              std::size_t text_bytes) {
    std::vector<cairo_text_cluster_t> clusters;
    for (unsigned i = 0; i < count;) {
        unsigned next = i + 1;
        while (next < count && info[next].cluster == info[i].cluster) ++next;
        const int bytes = bytes_of(info, next, count, text_bytes) - static_cast<int>(info[i].cluster);
        clusters.push_back({bytes, static_cast<int>(next - i)});
        i = next;
    }
    return clusters;
}

}  // namespace

std::string sound_utf8(std::string_view text) {
    std::string out;
    for (char32_t c : characters_of(text)) {
        const bool surrogate = c >= 0xd800 && c < 0xe000;
        const bool control = c < 0x20 || (c >= 0x7f && c < 0xa0);
        append_utf8(out, control ? U' ' : surrogate || c > 0x10ffff ? U'\ufffd' : c);
    }
    return out;
}

const PdfTypeface& PdfTypeface::of(Weight weight) {
    static const PdfTypeface regular("assets/fonts/Inter-Regular.otf");
    static const PdfTypeface semibold("assets/fonts/Inter-SemiBold.otf");
    return weight == Weight::regular ? regular : semibold;
}

PdfTypeface::PdfTypeface(std::string_view file) : bytes_(read_file(own_file(file))) {
    FT_Face ft = nullptr;
    const auto* data = reinterpret_cast<const FT_Byte*>(bytes_.data());
    if (FT_New_Memory_Face(freetype(), data, static_cast<FT_Long>(bytes_.size()), 0, &ft) != 0)
        throw InputError(own_file(file).string(), "", "is not a font that can be read",
                         "an OpenType or TrueType font");
    face_ = cairo_ft_font_face_create_for_ft_face(ft, FT_LOAD_NO_HINTING);
    hb_blob_t* blob = hb_blob_create(bytes_.data(), static_cast<unsigned>(bytes_.size()),
                                     HB_MEMORY_MODE_READONLY, nullptr, nullptr);
    hb_face_t* hb = hb_face_create(blob, 0);
    hb_font_t* font = hb_font_create(hb);
    hb_ot_font_set_funcs(font);
    shaper_ = font;
    hb_face_destroy(hb);
    hb_blob_destroy(blob);
    FT_Load_Char(ft, 'H', FT_LOAD_NO_SCALE | FT_LOAD_NO_HINTING);
    cap_height_em_ = static_cast<double>(ft->glyph->metrics.horiBearingY) / ft->units_per_EM;
}

ShapedLine PdfTypeface::shaped(std::string_view text, bool even_digits) const {
    auto* font = static_cast<hb_font_t*>(shaper_);
    const double em = hb_face_get_upem(hb_font_get_face(font));
    ShapedLine line;
    line.utf8 = sound_utf8(text);
    hb_buffer_t* buffer = hb_buffer_create();
    hb_buffer_add_utf8(buffer, line.utf8.data(), static_cast<int>(line.utf8.size()), 0, -1);
    hb_buffer_guess_segment_properties(buffer);
    hb_buffer_set_direction(buffer, HB_DIRECTION_LTR);
    // No contextual alternates: the typeface would turn "3x4" and "->" into other signs than were written.
    const hb_feature_t features[] = {
        {HB_TAG('c', 'a', 'l', 't'), 0, HB_FEATURE_GLOBAL_START, HB_FEATURE_GLOBAL_END},
        {HB_TAG('t', 'n', 'u', 'm'), even_digits ? 1U : 0U, HB_FEATURE_GLOBAL_START, HB_FEATURE_GLOBAL_END}};
    hb_shape(font, buffer, features, 2);
    unsigned count = 0;
    const hb_glyph_info_t* info = hb_buffer_get_glyph_infos(buffer, &count);
    const hb_glyph_position_t* position = hb_buffer_get_glyph_positions(buffer, &count);
    for (unsigned i = 0; i < count; ++i) {
        line.glyphs.push_back(
            {info[i].codepoint, line.advance + position[i].x_offset / em, -position[i].y_offset / em});
        line.advance += position[i].x_advance / em;
    }
    line.clusters = clusters_of(info, count, line.utf8.size());
    hb_buffer_destroy(buffer);
    return line;
}

}  // namespace foreslice::picture
