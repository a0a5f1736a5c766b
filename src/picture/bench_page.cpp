// The first page: what is weighed. Tables beside the face, one card a jug, and the cautions.
#include "picture/bench_page.h"

#include <algorithm>
#include <cmath>

#include "picture/bench_diagram.h"
#include "picture/bench_layout.h"
#include "picture/bench_words.h"
#include "picture/draw.h"

namespace foreslice::picture {
namespace {

using namespace bench;

constexpr double qr_mm = 25, gutter_mm = 6, card_gap_mm = 2.2, foot_mm = 10;

double right_of(const Paper& paper) {
    return paper.size().width_mm - margin_mm;
}
double bottom_of(const Paper& paper) {
    return paper.size().height_mm - foot_mm;
}
double inside(const Paper& paper) {
    return paper.size().width_mm - 2 * margin_mm;
}

double draw_head(Paper& paper, const BenchSheet& sheet) {
    const double room = inside(paper) - qr_mm - 4;
    const TextStyle title{25, Weight::semibold, ink};
    paper.text({margin_mm - 0.4, 19}, paper.fitted(sheet.title, title, room), title);
    double y = lines(paper, margin_mm, 25.2, room, 4.2, "Bench sheet · " + sheet.subtitle, body);
    const double line = std::max(y + 3.4, 35.0), gap = 4;
    write_in(paper, margin_mm, line, 46, "Batch", sheet.batch_number);
    write_in(paper, margin_mm + 46 + gap, line, 46, "Date", sheet.date);
    write_in(paper, margin_mm + 92 + 2 * gap, line, 32, "By", "");
    write_in(paper, margin_mm + 124 + 3 * gap, line, room - 124 - 3 * gap, "Room temp.", "");
    const double x = right_of(paper) - qr_mm;
    draw_qr(paper, sheet.code, {x + 2.6, 7.8}, qr_mm);
    const TextStyle small{6.4, Weight::regular, quiet, Align::right};
    paper.text({right_of(paper), 35}, sheet.code, small);
    return line + 3.2;
}

constexpr double fact_mm = 15.6;  // high

// Facts stand two in a row.
double facts_mm(const BenchSheet& sheet) {
    const std::size_t rows = (sheet.facts.size() + 1) / 2;
    return fact_mm * static_cast<double>(rows);
}

double draw_facts(Paper& paper, const BenchSheet& sheet, double x, double y, double width) {
    const TextStyle value{14, Weight::semibold, ink, Align::left, true};
    const double column = width / 2;
    for (std::size_t i = 0; i < sheet.facts.size(); ++i) {
        const BenchFact& fact = sheet.facts[i];
        const std::size_t row = i / 2;
        const double left = x + (i % 2 == 0 ? 0 : column + 1.5), top = y + fact_mm * static_cast<double>(row);
        paper.text({left, top + 3}, fact.label, note);
        paper.text({left, top + 8.4}, fact.value, value);
        lines(paper, left, top + 11.8, column - 2, 2.9, fact.note, {6.6, Weight::regular, quiet});
    }
    return y + facts_mm(sheet);
}

double draw_face(Paper& paper, const BenchSheet& sheet, double x, double y, double width, double height) {
    if (sheet.face.width_px <= 0) return y;
    const double aspect = double(sheet.face.height_px) / sheet.face.width_px;
    const double wide = std::min(width, height / aspect), high = wide * aspect;
    paper.image(sheet.face, {x + (width - wide) / 2, y, wide, high});
    paper.outline({x + (width - wide) / 2, y, wide, high}, {0.25, quiet});
    return y + high;
}

double table_height(const BenchTable& table) {
    return 7 + row_height_mm * static_cast<double>(table.rows.size()) + (table.id == "lye" ? 9.2 : 2);
}

/// A line under the lye that is seen while it is weighed.
double draw_strip(Paper& paper, double x, double y, double width) {
    paper.fill({x, y - 1.2, width, 6.6}, ink, 0.8);
    const TextStyle white{9, Weight::semibold, 0xffffff};
    paper.text({x + 3, y + 3.2}, "Goggles, gloves, sleeves. Lye into water, never the other way.", white);
    return y + 7.4;
}

double draw_table(Paper& paper, const BenchTable& table, double x, double y, double width) {
    double at = heading(paper, x, y, width, table.title, table.note, "weighed");
    const RowPlan plan = row_plan(x, width);
    for (const BenchRow& row : table.rows) {
        weight_row(paper, plan, at, row);
        at += row_height_mm;
    }
    if (table.id == "lye") at = draw_strip(paper, x, at + 1.8, width);
    return at + 2;
}

/// Cards in two columns, rows as high as the higher of their two; onto further pages when need be.
void draw_jugs(Paper& paper, const BenchSheet& sheet, double y, int& page) {
    y = heading(paper, margin_mm, y, inside(paper), "Split and tint", sheet.pot, "ΔE for 0.1 g");
    y += 1.2;
    const double width = (inside(paper) - card_gap_mm) / 2;
    for (std::size_t i = 0; i < sheet.jugs.size(); i += 2) {
        const bool pair = i + 1 < sheet.jugs.size();
        double height = jug_height(paper, sheet.jugs[i], width);
        if (pair) height = std::max(height, jug_height(paper, sheet.jugs[i + 1], width));
        if (y + height > bottom_of(paper)) {
            footer(paper, sheet, "page " + std::to_string(page++));
            paper.next_page();
            y = margin_mm;
        }
        jug_card(paper, sheet.jugs[i], {margin_mm, y, width, height});
        if (pair) jug_card(paper, sheet.jugs[i + 1], {margin_mm + width + card_gap_mm, y, width, height});
        y += height + card_gap_mm;
    }
    std::string note_words = sheet.jugs_note;
    if (!sheet.weigh_best.empty()) {
        std::string best;
        for (const std::string& powder : sheet.weigh_best) best += (best.empty() ? "" : ", ") + powder;
        note_words = "Weigh with most care: " + best + ". " + note_words;
    }
    y = lines(paper, margin_mm, y + 1.6, inside(paper), 3, note_words, note);
    const double words_high =
        3.0 * static_cast<double>(paper.wrapped(sheet.not_this, note, inside(paper)).size());
    if (y + words_high > bottom_of(paper) + 2) {
        footer(paper, sheet, "page " + std::to_string(page++));
        paper.next_page();
        y = margin_mm;
    }
    const double words_top = std::max(y + 1, bottom_of(paper) - words_high + 1.5);
    if (words_top - y > 17) {
        y = heading(paper, margin_mm, y, inside(paper), "What really happened",
                    "trace, times, temperatures, changes");
        for (double line = y + 6.4; line < words_top - 3; line += 7)
            paper.line({margin_mm, line}, {right_of(paper), line}, {0.15, rule});
    }
    lines(paper, margin_mm, words_top + 1, inside(paper), 3.0, sheet.not_this, note);
}

}  // namespace

void draw_bench_sheet(Paper& paper, const BenchSheet& sheet) {
    int page = 1;
    const double top = draw_head(paper, sheet);
    const double left_width = std::min(70.0, 0.37 * inside(paper));
    const double table_x = margin_mm + left_width + gutter_mm, table_width = right_of(paper) - table_x;
    double tables_high = 0;
    for (const BenchTable& table : sheet.tables) tables_high += table_height(table);
    const double face_room = std::clamp(tables_high - facts_mm(sheet) - 6, 40.0, 84.0);
    double left = draw_face(paper, sheet, margin_mm, top, left_width, face_room) + 2.5;
    left = draw_facts(paper, sheet, margin_mm, left, left_width);
    double y = top;
    for (const BenchTable& table : sheet.tables) {
        if (y + table_height(table) > bottom_of(paper)) {
            footer(paper, sheet, "page " + std::to_string(page++));
            paper.next_page();
            y = left = margin_mm;
        }
        y = draw_table(paper, table, table_x, y, table_width);
    }
    draw_jugs(paper, sheet, std::max(left, y) + 1, page);
    footer(paper, sheet, "page " + std::to_string(page++));
    paper.next_page();
    draw_work_page(paper, sheet);
    footer(paper, sheet, "page " + std::to_string(page));
}

std::string bench_pdf(const std::vector<BenchSheet>& sheets, const BenchCollection* collection,
                      PaperSize size) {
    PaperTitle title;
    title.title = collection != nullptr ? collection->title : sheets.empty() ? "" : sheets.front().title;
    title.subject = "Bench sheet";
    Paper paper = Paper::pdf(size, title);
    bool fresh = true;
    const auto next = [&] {
        if (!fresh) paper.next_page();
        fresh = false;
    };
    if (collection != nullptr) {
        next();
        draw_collection(paper, *collection);
    }
    for (const BenchSheet& sheet : sheets) {
        next();
        draw_bench_sheet(paper, sheet);
    }
    return paper.pdf_bytes();
}

std::vector<Image> bench_pictures(const std::vector<BenchSheet>& sheets, const BenchCollection* collection,
                                  PaperSize size, double px_per_mm) {
    std::vector<Image> pages;
    const auto take = [&pages](Paper paper) {
        for (Image& page : paper.images()) pages.push_back(std::move(page));
    };
    if (collection != nullptr) {
        Paper paper = Paper::pictures(size, px_per_mm);
        draw_collection(paper, *collection);
        take(std::move(paper));
    }
    for (const BenchSheet& sheet : sheets) {
        Paper paper = Paper::pictures(size, px_per_mm);
        draw_bench_sheet(paper, sheet);
        take(std::move(paper));
    }
    return pages;
}

Image side_by_side(const std::vector<Image>& pages) {
    if (pages.size() == 1) return pages.front();
    constexpr int gap = 6;
    int width = 0, height = 0;
    for (const Image& page : pages) {
        width = std::max(width, page.width_px);
        height = std::max(height, page.height_px);
    }
    const int rows = static_cast<int>(pages.size() + 1) / 2;
    Image all(2 * width + gap, rows * (height + gap) - gap, {200, 196, 190});
    for (std::size_t i = 0; i < pages.size(); ++i)
        place(all, pages[i], static_cast<int>(i % 2) * (width + gap),
              static_cast<int>(i / 2) * (height + gap));
    return all;
}

}  // namespace foreslice::picture
