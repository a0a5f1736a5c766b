#include "picture/cards.h"

#include <algorithm>
#include <cmath>

#include "picture/draw.h"
#include "picture/palette.h"
#include "picture/text.h"

namespace foreslice::picture {
namespace {

// In units of a nominal px.
constexpr double page_margin = 44, gap = 24, head_height = 84;
constexpr double title_size = 15, line_size = 12.5, label_size = 22, axis_size = 15;
constexpr double title_step = 19, line_step = 17, text_gap = 12;
constexpr std::size_t lines_a_text = 3;

// Wider than high, with as few empty places in the last row as can be.
int columns_for(int count) {
    const double wanted = std::sqrt(1.9 * count);
    int best = 1;
    double least = 1e9;
    for (int columns = static_cast<int>(std::ceil(0.75 * wanted)); columns <= std::ceil(1.3 * wanted);
         ++columns) {
        const int empty = (columns - count % columns) % columns;
        const double cost = empty + std::abs(columns - wanted);
        if (cost >= least) continue;
        least = cost;
        best = columns;
    }
    return best;
}

struct Size {
    int width = 0, height = 0;
};

Size largest(const std::vector<Card>& cards) {
    Size size{1, 1};
    for (const auto& card : cards) {
        size.width = std::max(size.width, card.bar.width_px);
        size.height = std::max(size.height, card.bar.height_px);
    }
    return size;
}

double unit_of(const Size& bar) {
    return std::clamp(bar.width / 230.0, 0.8, 4.0);
}

double text_height(const Card& card, double room, double unit) {
    double height = text_gap;
    if (!card.title.empty())
        height += title_step *
                  static_cast<double>(
                      Font::semibold().wrapped(card.title, title_size * unit, room, lines_a_text).size());
    for (const auto& line : card.lines)
        height += line_step * static_cast<double>(
                                  Font::regular().wrapped(line, line_size * unit, room, lines_a_text).size());
    return height * unit;
}

// What stands under a bar.
void draw_text(Image& page, const Card& card, double x, double top, double room, double unit) {
    double y = top + (text_gap + 9) * unit;
    double indent = 0;
    if (!card.label.empty())
        indent =
            Font::semibold().draw(page, x, y + 3 * unit, label_size * unit, ink_of(ink_rgb), card.label) +
            9 * unit;
    const auto put = [&](const Font& font, const std::string& text, double size, double step, unsigned ink) {
        for (const auto& line : font.wrapped(text, size * unit, room - indent, lines_a_text)) {
            font.draw(page, x + indent, y, size * unit, ink_of(ink), line);
            y += step * unit;
        }
    };
    if (!card.title.empty()) put(Font::semibold(), card.title, title_size, title_step, ink_rgb);
    for (const auto& line : card.lines) put(Font::regular(), line, line_size, line_step, quiet_ink_rgb);
}

void draw_bar(Image& page, const Image& bar, const Size& cell, double x, double y) {
    const Rect ground{x, y, static_cast<double>(cell.width), static_cast<double>(cell.height)};
    draw_on_ground(page, ground, bar, static_cast<int>(x) + (cell.width - bar.width_px) / 2,
                   static_cast<int>(y) + cell.height - bar.height_px);
}

void draw_head(Image& page, const std::string& heading, const std::string& note, double unit) {
    const double margin = page_margin * unit, room = page.width_px - 2 * margin;
    const Font &bold = Font::semibold(), &plain = Font::regular();
    bold.draw(page, margin - 1, margin + 22 * unit, 25 * unit, ink_of(ink_rgb),
              bold.fitted(heading, 25 * unit, room));
    double y = margin + 46 * unit;
    for (const auto& line : plain.wrapped(note, 13.5 * unit, room, lines_a_text)) {
        plain.draw(page, margin, y, 13.5 * unit, ink_of(quiet_ink_rgb), line);
        y += 18 * unit;
    }
}

}  // namespace

Image card_sheet(const std::string& heading, const std::string& note, const std::vector<Card>& cards,
                 int columns) {
    const Size cell = largest(cards);
    const double unit = unit_of(cell);
    const int count = std::max(1, static_cast<int>(cards.size()));
    if (columns <= 0) columns = columns_for(count);
    columns = std::clamp(columns, 1, count);
    const int rows = (count + columns - 1) / columns;
    double words = 0;
    for (const auto& card : cards) words = std::max(words, text_height(card, cell.width - 32 * unit, unit));
    const double step_x = cell.width + gap * unit, step_y = cell.height + words + gap * unit;
    const double margin = page_margin * unit, top = margin + head_height * unit;
    Image page(static_cast<int>(2 * margin + columns * step_x - gap * unit),
               static_cast<int>(top + rows * step_y + 0.3 * margin), code_of_rgb(paper_rgb));
    draw_head(page, heading, note, unit);
    for (int i = 0; i < static_cast<int>(cards.size()); ++i) {
        const int column = i % columns, row = i / columns;
        const double x = std::round(margin + column * step_x), y = std::round(top + row * step_y);
        const Card& card = cards[static_cast<std::size_t>(i)];
        draw_bar(page, card.bar, cell, x, y);
        draw_text(page, card, x, y + cell.height, cell.width, unit);
    }
    return page;
}

namespace {

// Where the columns and rows of a grid stand.
struct GridPlan {
    Size cell;
    double unit, step_x, step_y, left, top;
    int columns, rows;
};

GridPlan plan_of(const Axis& across, const Axis& down, const std::vector<Card>& cards) {
    GridPlan plan{};
    plan.cell = largest(cards);
    plan.unit = unit_of(plan.cell);
    plan.columns = static_cast<int>(across.values.size());
    plan.rows = static_cast<int>(down.values.size());
    double words = 0, label = 0;
    for (const auto& card : cards) words = std::max(words, text_height(card, plan.cell.width, plan.unit));
    for (const auto& value : down.values)
        label = std::max(label, Font::semibold().width_px(value, axis_size * plan.unit));
    label = std::max(label, Font::regular().width_px(down.name, line_size * plan.unit));
    plan.step_x = plan.cell.width + gap * plan.unit;
    plan.step_y = plan.cell.height + words + gap * plan.unit;
    plan.left = std::ceil(page_margin * plan.unit + (label > 0 ? label + 18 * plan.unit : 0));
    plan.top = std::ceil((page_margin + head_height + 36) * plan.unit);
    return plan;
}

void draw_axes(Image& page, const GridPlan& plan, const Axis& across, const Axis& down) {
    const double unit = plan.unit;
    const auto ink = ink_of(ink_rgb), quiet = ink_of(quiet_ink_rgb);
    Font::regular().draw(page, plan.left, plan.top - 30 * unit, line_size * unit, quiet, across.name);
    for (int i = 0; i < plan.columns; ++i)
        Font::semibold().draw(page, plan.left + i * plan.step_x, plan.top - 10 * unit, axis_size * unit, ink,
                              across.values[static_cast<std::size_t>(i)]);
    Font::regular().draw(page, page_margin * unit, plan.top + 14 * unit, line_size * unit, quiet, down.name);
    for (int j = 0; j < plan.rows; ++j)
        Font::semibold().draw(page, page_margin * unit,
                              plan.top + j * plan.step_y + 0.5 * plan.cell.height + 5 * unit,
                              axis_size * unit, ink, down.values[static_cast<std::size_t>(j)]);
}

}  // namespace

Image card_grid(const std::string& heading, const std::string& note, const Axis& across, const Axis& down,
                const std::vector<Card>& cards) {
    const GridPlan plan = plan_of(across, down, cards);
    const double right = plan.left + plan.columns * plan.step_x - gap * plan.unit;
    const double least = 520 * plan.unit;  // room for the heading
    Image page(static_cast<int>(std::max(right + page_margin * plan.unit, least)),
               static_cast<int>(plan.top + plan.rows * plan.step_y + 12 * plan.unit), code_of_rgb(paper_rgb));
    draw_head(page, heading, note, plan.unit);
    draw_axes(page, plan, across, down);
    for (int i = 0; i < static_cast<int>(cards.size()); ++i) {
        const int column = i % plan.columns, row = i / plan.columns;
        const double x = std::round(plan.left + column * plan.step_x);
        const double y = std::round(plan.top + row * plan.step_y);
        Card card = cards[static_cast<std::size_t>(i)];
        draw_bar(page, card.bar, plan.cell, x, y);
        card.title.clear();
        draw_text(page, card, x, y + plan.cell.height, plan.cell.width, plan.unit);
    }
    return page;
}

}  // namespace foreslice::picture
