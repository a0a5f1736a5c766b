// Pages of paper, measured in millimetres from the top left corner and drawn by cairo: a PDF whose text can
// be selected and whose fonts are embedded, or the very same pages as pictures.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "foundation/vec2.h"
#include "picture/image.h"

namespace foreslice::picture {

struct PaperSize {
    double width_mm = 210;  ///< 20..2000
    double height_mm = 297;
    friend bool operator==(const PaperSize&, const PaperSize&) = default;
};
inline constexpr PaperSize a4_paper{210, 297};          ///< ISO 216
inline constexpr PaperSize letter_paper{215.9, 279.4};  ///< ANSI/ASME Y14.1 A, 8.5 x 11 in
inline constexpr PaperSize turned(PaperSize paper) {
    return {paper.height_mm, paper.width_mm};
}

/// A rectangle on the page; y grows downwards.
struct MmRect {
    double x = 0, y = 0, width = 0, height = 0;
};

enum class Weight { regular, semibold };
enum class Align { left, middle, right };

struct TextStyle {
    double size_pt = 10;  ///< 1/72 inch
    Weight weight = Weight::regular;
    unsigned rgb = 0x000000;  ///< 0xrrggbb
    Align align = Align::left;
    bool even_digits = false;  ///< all digits equally wide, for columns of figures
};

struct Pen {
    double width_mm = 0.2;
    unsigned rgb = 0x000000;
    std::vector<double> dashes_mm = {};  ///< on, off, on ...; none: a full line
};

/// What a PDF says about itself.
struct PaperTitle {
    std::string title = {};
    std::string subject = {};
    std::string date =
        "2000-01-01T00:00:00Z";  ///< ISO 8601; fixed, so that the same pages are the same bytes
};

/// All text is UTF-8 (broken bytes become U+FFFD, control characters blanks), left to right, set in the
/// bundled typeface with kerning by HarfBuzz.
class Paper {
  public:
    /// Pages of a PDF. Throws InputError when the typeface is missing.
    static Paper pdf(PaperSize size, const PaperTitle& title);
    /// Pages as pictures on white, `px_per_mm` 0.5..40 (11.811 is 300 to the inch).
    static Paper pictures(PaperSize size, double px_per_mm);
    ~Paper();
    Paper(Paper&&) noexcept;
    Paper& operator=(Paper&&) noexcept;

    PaperSize size() const;
    /// Ends this page and begins the next; the first begins by itself.
    void next_page();
    int page_count() const;

    double width_mm(std::string_view text, const TextStyle& style) const;
    /// Height of a capital letter.
    double cap_height_mm(const TextStyle& style) const;
    /// Writes on the baseline through `at` (its left end, middle or right end); returns the width.
    double text(Vec2 at, std::string_view text, const TextStyle& style);
    /// The text itself if it fits, else cut with an ellipsis.
    std::string fitted(std::string_view text, const TextStyle& style, double limit_mm) const;
    /// The text in lines no wider than `limit_mm`, broken at blanks; a word that is wider is cut.
    std::vector<std::string> wrapped(std::string_view text, const TextStyle& style, double limit_mm) const;

    void line(Vec2 from, Vec2 to, const Pen& pen);
    /// Rounded joints and ends. Fewer than two points: nothing.
    void polyline(const std::vector<Vec2>& points, const Pen& pen);
    void outline(const MmRect& rect, const Pen& pen, double corner_mm = 0);
    void fill(const MmRect& rect, unsigned rgb, double corner_mm = 0);
    void fill_polygon(const std::vector<Vec2>& corners, unsigned rgb);
    void circle(Vec2 middle, double radius_mm, const Pen& pen);
    void disc(Vec2 middle, double radius_mm, unsigned rgb);
    /// The picture stretched over the rectangle, alpha and all.
    void image(const Image& picture, const MmRect& onto);
    /// Whatever `draw` draws, only inside the rectangle.
    void clipped(const MmRect& inside, const std::function<void()>& draw);

    /// The finished file; nothing can be drawn after it. Only for pages made by pdf().
    std::string pdf_bytes();
    /// The finished pages; nothing can be drawn after it. Only for pages made by pictures().
    std::vector<Image> images();
    /// Atomic. Throws InputError when the file cannot be written.
    void write_pdf(const std::filesystem::path& path);

  private:
    struct Parts;
    explicit Paper(std::unique_ptr<Parts> parts);
    std::unique_ptr<Parts> parts_;
};

}  // namespace foreslice::picture
