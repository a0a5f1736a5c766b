#include "picture/loaf_page.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "picture/caption.h"
#include "picture/palette.h"
#include "picture/text.h"

namespace foreslice::picture {
namespace {

// In units of a nominal px.
constexpr double page_margin = 44, head_height = 88, gap = 20, caption_height = 66, strip_foot = 78;
constexpr double name_size = 17, note_size = 13;
constexpr double hatch_step = 9, hatch_width = 1.6, hatch_strength = 0.30;
constexpr double most_strip_scale = 1.6;

}  // namespace

void veil(Image& image, const Rect& part, double unit) {
    const auto paper = ink_of(paper_rgb), ink = ink_of(quiet_ink_rgb);
    const double step = hatch_step * unit, width = hatch_width * unit;
    const int right = std::min(image.width_px, static_cast<int>(std::ceil(part.x + part.width)));
    const int bottom = std::min(image.height_px, static_cast<int>(std::ceil(part.y + part.height)));
    for (int y = std::max(0, static_cast<int>(part.y)); y < bottom; ++y)
        for (int x = std::max(0, static_cast<int>(part.x)); x < right; ++x) {
            const double off = std::abs(std::fmod(static_cast<double>(x + y), step) - step / 2);
            std::uint8_t& alpha =
                image.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                                static_cast<std::size_t>(x)) +
                           3];
            const std::uint8_t soap = alpha;  // above a worked top there is air, which stays clear
            if (soap == 0) continue;
            alpha = 255;
            blend(image, x, y, paper, veil_strength);
            blend(image, x, y, ink, hatch_strength * std::clamp(width / 2 + 0.5 - off, 0.0, 1.0));
            alpha = soap;
        }
}

LoafPage::LoafPage(std::string heading, std::string note, std::vector<LoafCell> cells, double px_per_mm)
    : heading_(std::move(heading)), note_(std::move(note)), cells_(std::move(cells)), px_per_mm_(px_per_mm) {
    for (const auto& cell : cells_) {
        cell_width_ = std::max(cell_width_, cell.picture.width_px);
        cell_height_ = std::max(cell_height_, cell.picture.height_px);
    }
    unit_ = std::max(1.0, std::min(cell_width_, cell_height_) / 320.0);
    cell_width_ = std::max(cell_width_, static_cast<int>(190 * unit_));
    const auto count = static_cast<double>(cells_.size());
    columns_ = std::clamp(static_cast<int>(std::ceil(std::sqrt(1.7 * count * cell_height_ / cell_width_))), 1,
                          static_cast<int>(cells_.size()));
    // No row with a single slice below full ones, where one more column would take it in.
    const int rows = (static_cast<int>(cells_.size()) + columns_ - 1) / columns_;
    columns_ = (static_cast<int>(cells_.size()) + rows - 1) / rows;
}

double LoafPage::content_width() const {
    return columns_ * (cell_width_ + gap * unit_) - gap * unit_;
}

double LoafPage::strip_width_px(double length_mm) const {
    return std::max(8.0, std::floor(std::min(content_width(), most_strip_scale * px_per_mm_ * length_mm)));
}

void LoafPage::add_strip(LoafStrip strip) {
    strip_ = std::move(strip);
    for (const auto& mark : strip_.marks)
        if (mark.uncertain)
            veil(strip_.picture,
                 {mark.from_mm * strip_.px_per_mm, 0, (mark.to_mm - mark.from_mm) * strip_.px_per_mm,
                  static_cast<double>(strip_.picture.height_px)},
                 unit_);
}

double LoafPage::strip_bottom() const {
    return (page_margin + head_height + strip_foot) * unit_ + strip_.picture.height_px;
}

Image LoafPage::drawn() const {
    const double step_y = cell_height_ + caption_height * unit_;
    const int rows = (static_cast<int>(cells_.size()) + columns_ - 1) / columns_;
    const double margin = page_margin * unit_;
    const double width = std::max(content_width(), 640 * unit_);
    Image page(static_cast<int>(std::ceil(width + 2 * margin)),
               static_cast<int>(std::ceil(strip_bottom() + rows * step_y + 0.35 * margin)),
               code_of_rgb(paper_rgb));
    draw_head(page);
    draw_strip(page);
    for (std::size_t i = 0; i < cells_.size(); ++i) {
        const auto column = static_cast<double>(static_cast<int>(i) % columns_);
        const int row = static_cast<int>(i) / columns_;
        draw_cell(page, cells_[i], std::round(margin + column * (cell_width_ + gap * unit_)),
                  std::round(strip_bottom() + row * step_y));
    }
    return page;
}

void LoafPage::draw_head(Image& page) const {
    const double margin = page_margin * unit_, room = page.width_px - 2 * margin;
    const Font &bold = Font::semibold(), &plain = Font::regular();
    bold.draw(page, margin - 1, margin + 28 * unit_, 30 * unit_, ink_of(ink_rgb),
              bold.fitted(heading_, 30 * unit_, room));
    plain.draw(page, margin, margin + 57 * unit_, 15 * unit_, ink_of(quiet_ink_rgb),
               plain.fitted(note_, 15 * unit_, room));
}

void LoafPage::draw_strip(Image& page) const {
    const Rect at{std::round(page_margin * unit_), std::round((page_margin + head_height) * unit_),
                  static_cast<double>(strip_.picture.width_px),
                  static_cast<double>(strip_.picture.height_px)};
    shadow(page, {at.x + 2 * unit_, at.y + 5 * unit_, at.width - 4 * unit_, at.height}, 6 * unit_, 0.22);
    place(page, strip_.picture, static_cast<int>(at.x), static_cast<int>(at.y));
    draw_marks(page, at);
    Font::regular().draw(page, at.x, at.y + at.height + 50 * unit_, note_size * unit_, ink_of(quiet_ink_rgb),
                         words::lengthwise);
}

// Cuts as fine lines with a tick below, numbers between them where there is room.
void LoafPage::draw_marks(Image& page, const Rect& at) const {
    const Font& bold = Font::semibold();
    const double thick = std::max(1.0, std::round(unit_)), size = 14 * unit_;
    for (const auto& mark : strip_.marks) {
        const double from = at.x + mark.from_mm * strip_.px_per_mm, to = at.x + mark.to_mm * strip_.px_per_mm;
        if (mark.from_mm > 0) {
            fill(page, {std::round(from) - thick / 2, at.y, thick, at.height}, ink_of(0xffffff), 0.55);
            fill(page, {std::round(from) - thick / 2, at.y + at.height, thick, 7 * unit_}, ink_of(ink_rgb));
        }
        const double width = bold.width_px(mark.name, size);
        if (width + 4 * unit_ < to - from)
            bold.draw(page, (from + to - width) / 2, at.y + at.height + 22 * unit_, size, ink_of(ink_rgb),
                      mark.name);
    }
}

void LoafPage::draw_cell(Image& page, const LoafCell& cell, double x, double y) const {
    const Image& picture = cell.picture;
    const Rect ground{x, y, static_cast<double>(cell_width_), static_cast<double>(cell_height_)};
    draw_on_ground(page, ground, picture, static_cast<int>(x) + (cell_width_ - picture.width_px) / 2,
                   static_cast<int>(y) + cell_height_ - picture.height_px);
    const Font &bold = Font::semibold(), &plain = Font::regular();
    const double baseline = y + cell_height_ + 24 * unit_, room = cell_width_;
    const double name = bold.draw(page, x, baseline, name_size * unit_, ink_of(ink_rgb),
                                  bold.fitted(cell.name, name_size * unit_, room));
    const double note_room = room - name - 10 * unit_;
    plain.draw(page, x + name + 10 * unit_, baseline, note_size * unit_, ink_of(quiet_ink_rgb),
               plain.fitted(cell.note, note_size * unit_, note_room));
    if (cell.near_arms)
        plain.draw(
            page, x, baseline + 19 * unit_, note_size * unit_, ink_of(quiet_ink_rgb),
            plain.fitted(cell.uncertain ? words::trimmed_end : words::near_arms, note_size * unit_, room));
}

}  // namespace foreslice::picture
