// Words in pictures: the bundled typeface drawn by stb_truetype, blended in linear light.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "colour/colorimetry.h"
#include "picture/image.h"

namespace foreslice::picture {

/// One face of the bundled family. Left-to-right text with pair kerning, no shaping. UTF-8; broken bytes
/// count as U+FFFD.
class Font {
  public:
    /// Loaded once from the program's own files. Throws InputError when they are missing.
    static const Font& regular();
    static const Font& semibold();

    explicit Font(const std::filesystem::path& file);
    ~Font();
    Font(const Font&) = delete;
    Font& operator=(const Font&) = delete;

    /// Whether every character of the text has a glyph.
    bool covers(std::string_view text) const;
    /// Advance width in px at an em size in px.
    double width_px(std::string_view text, double size_px) const;
    /// Draws with the baseline at y; returns the advance width. Parts outside the picture are left out.
    double draw(Image& image, double x_px, double baseline_px, double size_px, const colour::LinearSrgb& ink,
                std::string_view text, double opacity = 1) const;
    /// The text itself if it fits, else cut with an ellipsis.
    std::string fitted(std::string_view text, double size_px, double limit_px) const;
    /// Lines no wider than the limit, broken between words; the last of `most_lines` is cut as fitted() does.
    std::vector<std::string> wrapped(std::string_view text, double size_px, double limit_px,
                                     std::size_t most_lines) const;

  private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

/// The characters of a UTF-8 text; anything broken becomes U+FFFD.
std::u32string characters_of(std::string_view utf8);

}  // namespace foreslice::picture
