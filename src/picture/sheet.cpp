#include "picture/sheet.h"

#include <algorithm>
#include <cmath>

#include "picture/draw.h"
#include "picture/palette.h"
#include "picture/text.h"

namespace foreslice::picture {
namespace {

// In units of a nominal px.
constexpr double page_margin = 44, gap = 26, head_height = 92, caption_height = 62;

int columns_for(std::size_t count) {
    return std::max(1, static_cast<int>(std::ceil(std::sqrt(1.5 * static_cast<double>(count)))));
}

struct Cell {
    int width = 0, height = 0;
};

Cell largest(const std::vector<SheetEntry>& entries) {
    Cell cell{240, 120};
    for (const auto& entry : entries) {
        cell.width = std::max(cell.width, entry.bar.width_px);
        cell.height = std::max(cell.height, entry.bar.height_px);
    }
    return cell;
}

void draw_entry(Image& page, const SheetEntry& entry, const Cell& cell, double x, double y, double unit) {
    const Rect ground{x, y, static_cast<double>(cell.width), static_cast<double>(cell.height)};
    draw_on_ground(page, ground, entry.bar, static_cast<int>(x) + (cell.width - entry.bar.width_px) / 2,
                   static_cast<int>(y) + cell.height - entry.bar.height_px);
    const Font &bold = Font::semibold(), &plain = Font::regular();
    const double bottom = y + cell.height, room = cell.width;
    bold.draw(page, x, bottom + 24 * unit, 16 * unit, ink_of(ink_rgb),
              bold.fitted(entry.title, 16 * unit, room));
    plain.draw(page, x, bottom + 43 * unit, 13 * unit, ink_of(quiet_ink_rgb),
               plain.fitted(entry.subtitle, 13 * unit, room));
}

}  // namespace

Image contact_sheet(const std::string& heading, const std::string& note,
                    const std::vector<SheetEntry>& entries, int columns) {
    const Cell cell = largest(entries);
    const double unit = std::max(1.0, cell.width / 420.0);
    if (columns <= 0) columns = columns_for(entries.size());
    columns = std::min(columns, std::max(1, static_cast<int>(entries.size())));
    const int rows = (static_cast<int>(entries.size()) + columns - 1) / columns;
    const double step_x = cell.width + gap * unit;
    const double step_y = cell.height + (caption_height + gap / 2) * unit;
    const double width = 2 * page_margin * unit + columns * step_x - gap * unit;
    const double height = (page_margin + head_height) * unit + rows * step_y + 0.4 * page_margin * unit;
    Image page(static_cast<int>(width), static_cast<int>(height), code_of_rgb(paper_rgb));
    const double margin = page_margin * unit;
    Font::semibold().draw(page, margin - 1, margin + 28 * unit, 30 * unit, ink_of(ink_rgb), heading);
    Font::regular().draw(page, margin, margin + 57 * unit, 15 * unit, ink_of(quiet_ink_rgb), note);
    for (std::size_t i = 0; i < entries.size(); ++i) {
        const auto column = static_cast<double>(static_cast<int>(i) % columns);
        const int row = static_cast<int>(i) / columns;
        draw_entry(page, entries[i], cell, std::round(margin + column * step_x),
                   std::round(margin + head_height * unit + row * step_y), unit);
    }
    return page;
}

}  // namespace foreslice::picture
