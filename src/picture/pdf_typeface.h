// The bundled typeface as cairo and HarfBuzz want it. Internal to the picture room.
#pragma once

#include <cairo.h>

#include <string>
#include <string_view>
#include <vector>

#include "picture/pdf_page.h"

namespace foreslice::picture {

/// A line of text turned into glyphs, in em.
struct ShapedLine {
    std::string utf8;  ///< what the glyphs stand for, sound UTF-8
    std::vector<cairo_glyph_t> glyphs;
    std::vector<cairo_text_cluster_t> clusters;
    double advance = 0;
};

/// Loaded once for the whole run; the calls are not for several threads at a time.
class PdfTypeface {
  public:
    static const PdfTypeface& of(Weight weight);

    ShapedLine shaped(std::string_view text, bool even_digits) const;
    cairo_font_face_t* face() const { return face_; }
    double cap_height_em() const { return cap_height_em_; }

    PdfTypeface(const PdfTypeface&) = delete;
    PdfTypeface& operator=(const PdfTypeface&) = delete;

  private:
    explicit PdfTypeface(std::string_view file);

    std::string bytes_;  ///< both libraries read from it for as long as the program runs
    cairo_font_face_t* face_ = nullptr;
    void* shaper_ = nullptr;  ///< hb_font_t
    double cap_height_em_ = 0;
};

/// Sound UTF-8 without control characters.
std::string sound_utf8(std::string_view text);

}  // namespace foreslice::picture
