#include "picture/pdf_page.h"

#include <cairo-pdf.h>
#include <cairo.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <numbers>

#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/pdf_typeface.h"

namespace foreslice::picture {
namespace {

constexpr double mm_per_pt = 25.4 / 72, pt_per_mm = 72 / 25.4;

cairo_status_t append_bytes(void* closure, const unsigned char* data, unsigned length) {
    static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

double size_mm(const TextStyle& style) {
    return style.size_pt * mm_per_pt;
}

void set_ink(cairo_t* cairo, unsigned rgb) {
    cairo_set_source_rgb(cairo, ((rgb >> 16U) & 255U) / 255.0, ((rgb >> 8U) & 255U) / 255.0,
                         (rgb & 255U) / 255.0);
}

void set_pen(cairo_t* cairo, const Pen& pen) {
    set_ink(cairo, pen.rgb);
    cairo_set_line_width(cairo, pen.width_mm);
    cairo_set_dash(cairo, pen.dashes_mm.data(), static_cast<int>(pen.dashes_mm.size()), 0);
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_MITER);
    cairo_set_line_cap(cairo, CAIRO_LINE_CAP_BUTT);
}

void trace_rect(cairo_t* cairo, const MmRect& r, double corner_mm) {
    const double c = std::min({corner_mm, r.width / 2, r.height / 2});
    cairo_new_path(cairo);
    if (c <= 0) {
        cairo_rectangle(cairo, r.x, r.y, r.width, r.height);
        return;
    }
    constexpr double quarter = std::numbers::pi / 2;
    cairo_arc(cairo, r.x + r.width - c, r.y + c, c, -quarter, 0);
    cairo_arc(cairo, r.x + r.width - c, r.y + r.height - c, c, 0, quarter);
    cairo_arc(cairo, r.x + c, r.y + r.height - c, c, quarter, 2 * quarter);
    cairo_arc(cairo, r.x + c, r.y + c, c, 2 * quarter, 3 * quarter);
    cairo_close_path(cairo);
}

void trace_points(cairo_t* cairo, const std::vector<Vec2>& points) {
    cairo_new_path(cairo);
    for (const Vec2 p : points) cairo_line_to(cairo, p.x, p.y);
}

bool opaque(const Image& picture) {
    for (std::size_t i = 3; i < picture.rgba.size(); i += 4)
        if (picture.rgba[i] != 255) return false;
    return true;
}

/// cairo's own layout: native-endian 0xAARRGGBB, colour multiplied by alpha.
cairo_surface_t* surface_of(const Image& picture) {
    cairo_surface_t* surface = cairo_image_surface_create(
        opaque(picture) ? CAIRO_FORMAT_RGB24 : CAIRO_FORMAT_ARGB32, picture.width_px, picture.height_px);
    cairo_surface_flush(surface);
    unsigned char* data = cairo_image_surface_get_data(surface);
    const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface));
    const auto width = static_cast<std::size_t>(picture.width_px);
    for (std::size_t y = 0; y < static_cast<std::size_t>(picture.height_px); ++y)
        for (std::size_t x = 0; x < width; ++x) {
            const std::uint8_t* p = &picture.rgba[4 * (y * width + x)];
            const auto with_alpha = [&](unsigned v) { return (v * p[3] + 127) / 255; };
            const std::uint32_t code = (std::uint32_t{p[3]} << 24U) | (with_alpha(p[0]) << 16U) |
                                       (with_alpha(p[1]) << 8U) | with_alpha(p[2]);
            std::memcpy(data + y * stride + 4 * x, &code, 4);
        }
    cairo_surface_mark_dirty(surface);
    return surface;
}

Image image_of(cairo_surface_t* surface) {
    cairo_surface_flush(surface);
    Image out(cairo_image_surface_get_width(surface), cairo_image_surface_get_height(surface), {});
    const unsigned char* data = cairo_image_surface_get_data(surface);
    const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface));
    const auto width = static_cast<std::size_t>(out.width_px);
    for (std::size_t y = 0; y < static_cast<std::size_t>(out.height_px); ++y)
        for (std::size_t x = 0; x < width; ++x) {
            std::uint32_t code = 0;
            std::memcpy(&code, data + y * stride + 4 * x, 4);
            std::uint8_t* p = &out.rgba[4 * (y * width + x)];
            p[0] = static_cast<std::uint8_t>(code >> 16U);
            p[1] = static_cast<std::uint8_t>(code >> 8U);
            p[2] = static_cast<std::uint8_t>(code);
            p[3] = 255;
        }
    return out;
}

}  // namespace

struct Paper::Parts {
    PaperSize size;
    double px_per_mm = 0;  ///< 0: a PDF
    std::string bytes;     ///< of the PDF; outlives its surface
    std::vector<cairo_surface_t*> surfaces;
    cairo_t* cairo = nullptr;
    int pages = 1;

    Parts() = default;
    Parts(const Parts&) = delete;
    Parts& operator=(const Parts&) = delete;
    ~Parts() {
        if (cairo != nullptr) cairo_destroy(cairo);
        for (cairo_surface_t* surface : surfaces) cairo_surface_destroy(surface);
    }

    void begin(cairo_surface_t* surface, double unit) {
        if (cairo != nullptr) cairo_destroy(cairo);
        surfaces.push_back(surface);
        cairo = cairo_create(surface);
        cairo_scale(cairo, unit, unit);
    }
    void begin_picture() {
        const auto px = [this](double mm) { return static_cast<int>(std::lround(mm * px_per_mm)); };
        begin(cairo_image_surface_create(CAIRO_FORMAT_RGB24, px(size.width_mm), px(size.height_mm)),
              px_per_mm);
        cairo_set_source_rgb(cairo, 1, 1, 1);
        cairo_paint(cairo);
    }
    void check() const {
        const cairo_status_t status = cairo_status(cairo);
        if (status != CAIRO_STATUS_SUCCESS)
            throw std::runtime_error(std::string("cairo: ") + cairo_status_to_string(status));
    }
};

Paper::Paper(std::unique_ptr<Parts> parts) : parts_(std::move(parts)) {}
Paper::~Paper() = default;
Paper::Paper(Paper&&) noexcept = default;
Paper& Paper::operator=(Paper&&) noexcept = default;

Paper Paper::pdf(PaperSize size, const PaperTitle& title) {
    auto parts = std::make_unique<Parts>();
    parts->size = size;
    cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(
        append_bytes, &parts->bytes, size.width_mm * pt_per_mm, size.height_mm * pt_per_mm);
    cairo_pdf_surface_restrict_to_version(surface, CAIRO_PDF_VERSION_1_5);
    const auto say = [surface](cairo_pdf_metadata_t what, const std::string& text) {
        if (!text.empty()) cairo_pdf_surface_set_metadata(surface, what, sound_utf8(text).c_str());
    };
    say(CAIRO_PDF_METADATA_TITLE, title.title);
    say(CAIRO_PDF_METADATA_SUBJECT, title.subject);
    say(CAIRO_PDF_METADATA_CREATOR, "Foreslice");
    say(CAIRO_PDF_METADATA_CREATE_DATE, title.date);
    parts->begin(surface, pt_per_mm);
    return Paper(std::move(parts));
}

Paper Paper::pictures(PaperSize size, double px_per_mm) {
    auto parts = std::make_unique<Parts>();
    parts->size = size;
    parts->px_per_mm = px_per_mm;
    parts->begin_picture();
    return Paper(std::move(parts));
}

PaperSize Paper::size() const {
    return parts_->size;
}

void Paper::next_page() {
    ++parts_->pages;
    if (parts_->px_per_mm > 0)
        parts_->begin_picture();
    else
        cairo_show_page(parts_->cairo);
}

int Paper::page_count() const {
    return parts_->pages;
}

double Paper::width_mm(std::string_view text, const TextStyle& style) const {
    return PdfTypeface::of(style.weight).shaped(text, style.even_digits).advance * size_mm(style);
}

double Paper::cap_height_mm(const TextStyle& style) const {
    return PdfTypeface::of(style.weight).cap_height_em() * size_mm(style);
}

double Paper::text(Vec2 at, std::string_view text, const TextStyle& style) {
    const PdfTypeface& typeface = PdfTypeface::of(style.weight);
    ShapedLine line = typeface.shaped(text, style.even_digits);
    if (line.glyphs.empty()) return 0;
    const double em = size_mm(style), width = line.advance * em;
    const double left = style.align == Align::left    ? at.x
                        : style.align == Align::right ? at.x - width
                                                      : at.x - width / 2;
    for (cairo_glyph_t& glyph : line.glyphs) {
        glyph.x = left + glyph.x * em;
        glyph.y = at.y + glyph.y * em;
    }
    cairo_t* cairo = parts_->cairo;
    set_ink(cairo, style.rgb);
    cairo_set_font_face(cairo, typeface.face());
    cairo_set_font_size(cairo, em);
    cairo_show_text_glyphs(cairo, line.utf8.data(), static_cast<int>(line.utf8.size()), line.glyphs.data(),
                           static_cast<int>(line.glyphs.size()), line.clusters.data(),
                           static_cast<int>(line.clusters.size()), cairo_text_cluster_flags_t{});
    parts_->check();
    return width;
}

std::string Paper::fitted(std::string_view text, const TextStyle& style, double limit_mm) const {
    if (width_mm(text, style) <= limit_mm) return std::string(text);
    std::string cut = sound_utf8(text);
    while (!cut.empty()) {
        while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xc0U) == 0x80U) cut.pop_back();
        if (!cut.empty()) cut.pop_back();
        while (!cut.empty() && cut.back() == ' ') cut.pop_back();
        if (width_mm(cut + "…", style) <= limit_mm) break;
    }
    return cut + "…";
}

std::vector<std::string> Paper::wrapped(std::string_view text, const TextStyle& style,
                                        double limit_mm) const {
    std::vector<std::string> lines;
    std::string line;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word(text.substr(at, end - at));
        at = end + 1;
        if (word.empty()) continue;
        std::string longer = line;
        longer.append(line.empty() ? "" : " ").append(word);
        if (width_mm(longer, style) <= limit_mm) {
            line = longer;
            continue;
        }
        if (!line.empty()) lines.push_back(line);
        line = fitted(word, style, limit_mm);
    }
    if (!line.empty()) lines.push_back(line);
    return lines;
}

void Paper::line(Vec2 from, Vec2 to, const Pen& pen) {
    set_pen(parts_->cairo, pen);
    trace_points(parts_->cairo, {from, to});
    cairo_stroke(parts_->cairo);
}

void Paper::polyline(const std::vector<Vec2>& points, const Pen& pen) {
    if (points.size() < 2) return;
    set_pen(parts_->cairo, pen);
    cairo_set_line_join(parts_->cairo, CAIRO_LINE_JOIN_ROUND);
    if (pen.dashes_mm.empty()) cairo_set_line_cap(parts_->cairo, CAIRO_LINE_CAP_ROUND);
    trace_points(parts_->cairo, points);
    cairo_stroke(parts_->cairo);
}

void Paper::outline(const MmRect& rect, const Pen& pen, double corner_mm) {
    set_pen(parts_->cairo, pen);
    trace_rect(parts_->cairo, rect, corner_mm);
    cairo_stroke(parts_->cairo);
}

void Paper::fill(const MmRect& rect, unsigned rgb, double corner_mm) {
    set_ink(parts_->cairo, rgb);
    trace_rect(parts_->cairo, rect, corner_mm);
    cairo_fill(parts_->cairo);
}

void Paper::fill_polygon(const std::vector<Vec2>& corners, unsigned rgb) {
    set_ink(parts_->cairo, rgb);
    trace_points(parts_->cairo, corners);
    cairo_close_path(parts_->cairo);
    cairo_fill(parts_->cairo);
}

void Paper::circle(Vec2 middle, double radius_mm, const Pen& pen) {
    set_pen(parts_->cairo, pen);
    cairo_new_path(parts_->cairo);
    cairo_arc(parts_->cairo, middle.x, middle.y, radius_mm, 0, 2 * std::numbers::pi);
    cairo_stroke(parts_->cairo);
}

void Paper::disc(Vec2 middle, double radius_mm, unsigned rgb) {
    set_ink(parts_->cairo, rgb);
    cairo_new_path(parts_->cairo);
    cairo_arc(parts_->cairo, middle.x, middle.y, radius_mm, 0, 2 * std::numbers::pi);
    cairo_fill(parts_->cairo);
}

void Paper::image(const Image& picture, const MmRect& onto) {
    if (picture.width_px <= 0 || picture.height_px <= 0) return;
    cairo_t* cairo = parts_->cairo;
    cairo_surface_t* surface = surface_of(picture);
    cairo_save(cairo);
    cairo_translate(cairo, onto.x, onto.y);
    cairo_scale(cairo, onto.width / picture.width_px, onto.height / picture.height_px);
    cairo_set_source_surface(cairo, surface, 0, 0);
    cairo_pattern_set_filter(cairo_get_source(cairo), CAIRO_FILTER_GOOD);
    cairo_pattern_set_extend(cairo_get_source(cairo), CAIRO_EXTEND_PAD);
    cairo_rectangle(cairo, 0, 0, picture.width_px, picture.height_px);
    cairo_fill(cairo);
    cairo_restore(cairo);
    cairo_surface_destroy(surface);
    parts_->check();
}

void Paper::clipped(const MmRect& inside, const std::function<void()>& draw) {
    cairo_save(parts_->cairo);
    cairo_rectangle(parts_->cairo, inside.x, inside.y, inside.width, inside.height);
    cairo_clip(parts_->cairo);
    draw();
    cairo_restore(parts_->cairo);
}

std::string Paper::pdf_bytes() {
    cairo_surface_finish(parts_->surfaces.front());
    if (const auto status = cairo_surface_status(parts_->surfaces.front()); status != CAIRO_STATUS_SUCCESS)
        throw std::runtime_error(std::string("cairo: ") + cairo_status_to_string(status));
    return parts_->bytes;
}

std::vector<Image> Paper::images() {
    std::vector<Image> out;
    for (cairo_surface_t* surface : parts_->surfaces) out.push_back(image_of(surface));
    return out;
}

void Paper::write_pdf(const std::filesystem::path& path) {
    write_file_atomically(path, pdf_bytes());
}

}  // namespace foreslice::picture
