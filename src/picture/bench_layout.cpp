#include "picture/bench_layout.h"

#include <algorithm>
#include <cmath>

#include "picture/bench_words.h"

namespace foreslice::picture::bench {

TextStyle aligned(TextStyle style, Align align) {
    style.align = align;
    return style;
}

TextStyle bold(TextStyle style) {
    style.weight = Weight::semibold;
    return style;
}

void tick_box(Paper& paper, Vec2 corner, double side_mm) {
    paper.outline({corner.x, corner.y, side_mm, side_mm}, {0.3, ink}, 0.6);
}

double heading(Paper& paper, double x, double y, double width, const std::string& title,
               const std::string& aside, const std::string& right) {
    const double used = paper.text({x, y + 4.2}, title, head) + 3;
    const double at_right =
        right.empty() ? 0 : paper.text({x + width, y + 4.2}, right, aligned(note, Align::right)) + 2;
    if (!aside.empty())
        paper.text({x + used, y + 4.2}, paper.fitted(aside, note, width - used - at_right), note);
    paper.line({x, y + 6}, {x + width, y + 6}, {0.45, ink});
    return y + 6.6;
}

double lines(Paper& paper, double x, double baseline, double width, double leading, const std::string& text,
             const TextStyle& style) {
    for (const std::string& line : paper.wrapped(text, style, width)) {
        paper.text({x, baseline}, line, style);
        baseline += leading;
    }
    return baseline;
}

void write_in(Paper& paper, double x, double y, double width, const std::string& label,
              const std::string& value) {
    const double used = paper.text({x, y}, label, note);
    const double from = x + used + 1.5;
    paper.line({from, y + 0.6}, {x + width, y + 0.6}, {0.2, quiet});
    if (!value.empty())
        paper.text({from + 0.5, y - 0.2}, paper.fitted(value, bold(body), x + width - from), bold(body));
}

void warning_mark(Paper& paper, Vec2 corner, double size_mm) {
    const double half = 0.58 * size_mm;
    const Vec2 top{corner.x + half, corner.y};
    paper.fill_polygon({top, {corner.x + 2 * half, corner.y + size_mm}, {corner.x, corner.y + size_mm}}, ink);
    paper.line({top.x, corner.y + 0.36 * size_mm}, {top.x, corner.y + 0.7 * size_mm},
               {0.13 * size_mm, 0xffffff});
    paper.disc({top.x, corner.y + 0.84 * size_mm}, 0.075 * size_mm, 0xffffff);
}

RowPlan row_plan(double x, double width) {
    const double actual = 19;
    return {x, width, x + width - actual - 8, x + width - actual - 7.2, x + width - actual, actual};
}

void weight_row(Paper& paper, const RowPlan& plan, double y, const BenchRow& row) {
    if (row.strong) paper.fill({plan.x, y, plan.width, row_height_mm}, tint);
    tick_box(paper, {plan.x + 1, y + 2.1}, 4.4);
    const double text_x = plan.x + 8;
    const std::string amount = row.weight ? row.weight->text() : "";
    const double room = plan.figure_right - text_x - paper.width_mm(amount, figure) - 3;
    paper.text({text_x, y + 4.1}, paper.fitted(row.name, row.strong ? bold(name) : name, room),
               row.strong ? bold(name) : name);
    const double exact_wide = row.exact.empty() ? 0 : 14;
    const double note_room = plan.figure_right - text_x - std::max(exact_wide, 2.0);
    paper.text({text_x, y + 7.4}, paper.fitted(row.note, note, note_room), note);
    if (!row.exact.empty()) paper.text({plan.figure_right, y + 7.6}, row.exact, aligned(note, Align::right));
    paper.text({plan.figure_right, y + 5}, amount, figure);
    if (row.weight) paper.text({plan.unit_x, y + 5}, std::string(name_of(row.weight->scale.unit)), unit);
    paper.line({plan.actual_x + 1, y + 7}, {plan.x + plan.width - 0.5, y + 7}, {0.2, quiet});
    paper.line({plan.x, y + row_height_mm}, {plan.x + plan.width, y + row_height_mm}, {0.1, rule});
}

double cautions_height(const Paper& paper, const BenchSheet& sheet, double width) {
    double height = 10.4;
    for (const std::string& caution : sheet.cautions)
        height += 0.6 + 2.95 * static_cast<double>(paper.wrapped(caution, note, width - 8).size());
    return height + 1;
}

void draw_cautions(Paper& paper, const BenchSheet& sheet, double x, double y, double width) {
    paper.outline({x, y, width, cautions_height(paper, sheet, width)}, {0.7, ink}, 1.2);
    warning_mark(paper, {x + 2.4, y + 2.2}, 4.4);
    paper.text({x + 9.4, y + 5.8}, "Lye burns", head);
    double at = y + 11;
    const TextStyle style{7.2, Weight::regular, ink};
    for (const std::string& caution : sheet.cautions) {
        paper.disc({x + 3.4, at - 0.9}, 0.45, ink);
        at = lines(paper, x + 5.4, at, width - 8, 2.95, caution, style) + 0.6;
    }
}

void footer(Paper& paper, const BenchSheet& sheet, const std::string& page) {
    const double y = paper.size().height_mm - 6.5, right = paper.size().width_mm - margin_mm;
    const TextStyle small{6.6, Weight::regular, quiet};
    paper.text({margin_mm, y}, paper.fitted(sheet.title, small, 80), small);
    paper.text({paper.size().width_mm / 2, y}, sheet.code, aligned(small, Align::middle));
    paper.text({right, y}, page, aligned(small, Align::right));
}

}  // namespace foreslice::picture::bench
