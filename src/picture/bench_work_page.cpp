// The second page: the order of work beside the drawings, the dates and room for notes; and the page for what
// a collection shares.
#include <algorithm>
#include <array>
#include <cmath>

#include "picture/bench_diagram.h"
#include "picture/bench_layout.h"
#include "picture/bench_page.h"
#include "picture/bench_words.h"

namespace foreslice::picture {
namespace bench {
namespace {

constexpr double when_mm = 16;
constexpr TextStyle when_style{8.2, Weight::regular, quiet, Align::left, true};

/// How tightly the steps are set.
struct Setting {
    double body_pt, leading_mm, small_leading_mm, gap_mm;
    TextStyle body() const { return {body_pt, Weight::regular, ink}; }
    TextStyle small() const { return {body_pt - 1.2, Weight::regular, ink}; }
    TextStyle title() const { return {body_pt + 1.4, Weight::semibold, ink}; }
};
constexpr std::array settings{Setting{8.6, 3.55, 3.0, 1.5}, Setting{8.2, 3.3, 2.8, 1.0},
                              Setting{7.8, 3.1, 2.7, 0.6}, Setting{7.4, 2.95, 2.5, 0.3}};

double bottom_of(const Paper& paper) {
    return paper.size().height_mm - 11;
}

double step_height(const Paper& paper, const BenchStep& step, double width, const Setting& set) {
    double height = 5.4;
    const auto count = [&](const std::string& text, const TextStyle& style, double room) {
        return static_cast<double>(paper.wrapped(text, style, room).size());
    };
    for (const std::string& line : step.lines)
        height += set.leading_mm * count(line, set.body(), width - when_mm - 6);
    for (const std::string& warning : step.warnings)
        height += 0.8 + set.small_leading_mm * count(warning, set.small(), width - when_mm - 10);
    return height + set.gap_mm;
}

/// The loosest setting with which all steps fit.
const Setting& fitting(const Paper& paper, const BenchSheet& sheet, double width, double room) {
    for (const Setting& set : settings) {
        double height = 0;
        for (const BenchStep& step : sheet.steps) height += step_height(paper, step, width, set);
        if (height <= room) return set;
    }
    return settings.back();
}

double draw_step(Paper& paper, const BenchStep& step, double x, double y, double width, const Setting& set) {
    const double text_x = x + 6 + when_mm;
    tick_box(paper, {x, y + 0.4}, 3.8);
    paper.text({x + 6, y + 3.6}, step.when, when_style);
    paper.text({text_x, y + 3.6}, step.title, set.title());
    double at = y + 3.9 + set.leading_mm;
    for (const std::string& line : step.lines)
        at = lines(paper, text_x, at, width - when_mm - 6, set.leading_mm, line, set.body());
    for (const std::string& warning : step.warnings) {
        at += 0.4;
        warning_mark(paper, {text_x, at - 2.4}, 2.7);
        at = lines(paper, text_x + 4, at, width - when_mm - 10, set.small_leading_mm, warning, set.small()) +
             0.4;
    }
    return at - set.leading_mm + 1.5 + set.gap_mm;
}

double draw_dates(Paper& paper, const BenchSheet& sheet, double x, double y, double width) {
    y = heading(paper, x, y, width, "Calendar", "");
    for (const BenchFact& date : sheet.dates) {
        tick_box(paper, {x, y + 1.4}, 3.2);
        paper.text({x + 5, y + 4.2}, date.label, body);
        paper.text({x + 24, y + 4.2}, paper.fitted(date.value, bold(body), width - 24), bold(body));
        if (!date.note.empty())
            paper.text({x + 24, y + 7.4}, paper.fitted(date.note, note, width - 24), note);
        y += date.note.empty() ? 6 : 9;
    }
    return y + 3;
}

double draw_cost(Paper& paper, const BenchSheet& sheet, double x, double y, double width) {
    if (!sheet.cost) return y;
    const std::string money = sheet.money.empty() ? "" : " " + sheet.money;
    y = heading(paper, x, y, width, "Cost", sheet.cost->complete ? "" : "of what has a price");
    const TextStyle big{13, Weight::semibold, ink};
    paper.text({x, y + 5.2}, shown(sheet.cost_per_bar, 2) + money + " a bar", big);
    paper.text({x, y + 9}, shown(sheet.cost->total, 2) + money + " the batch", note);
    return y + 13;
}

double draw_drawings(Paper& paper, const BenchSheet& sheet, double x, double y, double width) {
    y = heading(paper, x, y, width, "Pours", "level after each, mm");
    const double pours_high = std::clamp(6.6 * static_cast<double>(sheet.pours.size()) + 4, 40.0, 84.0);
    draw_pours(paper, sheet, {x, y + 2, width, pours_high});
    y += pours_high + 5;
    const std::size_t most = 3;  // drawings of the wire; further ones are in the text
    const std::size_t count = std::min(most, sheet.wires.size());
    const double below = 10 + 8.3 * static_cast<double>(sheet.dates.size()) + (sheet.cost ? 20 : 0) +
                         cautions_height(paper, sheet, width);
    const double room = bottom_of(paper) - y - below;
    for (std::size_t i = 0; i < count; ++i) {
        const BenchWire& wire = sheet.wires[i];
        y = heading(paper, x, y, width, "Wire", wire.title + " · Ø " + shown(wire.diameter_mm, 1) + " mm");
        const double high = std::clamp(room / static_cast<double>(count) - 13, 22.0, 66.0);
        y += draw_wire(paper, sheet, wire, {x, y + 2, width, high}) + 4;
    }
    return y;
}

/// Warnings that no step shows.
void draw_other_warnings(Paper& paper, const BenchSheet& sheet, double x, double& y, double width) {
    for (const design::Warning& warning : sheet.warnings) {
        const std::string words = warning.sentence + " " + warning.cure;
        bool said = false;
        for (const BenchStep& step : sheet.steps)
            said =
                said || std::find(step.warnings.begin(), step.warnings.end(), words) != step.warnings.end();
        if (said) continue;
        if (y + 12 > bottom_of(paper)) return;
        warning_mark(paper, {x, y - 2.4}, 2.7);
        y = lines(paper, x + 4, y, width - 4, settings[0].small_leading_mm, words, settings[0].small()) + 0.8;
    }
}

void draw_notes(Paper& paper, double x, double y, double width) {
    if (bottom_of(paper) - y > 22) {
        y = heading(paper, x, y, width, "For next time", "");
        for (double line = y + 7; line < bottom_of(paper); line += 7.4)
            paper.line({x, line}, {x + width, line}, {0.15, rule});
    }
}

}  // namespace

void draw_work_page(Paper& paper, const BenchSheet& sheet) {
    const double inside = paper.size().width_mm - 2 * margin_mm, gutter = 7;
    const double right_width = std::min(68.0, 0.365 * inside), left_width = inside - right_width - gutter;
    const double right_x = margin_mm + left_width + gutter;
    double right = draw_drawings(paper, sheet, right_x, margin_mm, right_width);
    right = draw_dates(paper, sheet, right_x, right, right_width);
    right = draw_cost(paper, sheet, right_x, right, right_width);
    const double box = cautions_height(paper, sheet, right_width);
    if (right + box > bottom_of(paper) + 1) {
        paper.next_page();  // with the rest of the work below it
        right = margin_mm;
    }
    draw_cautions(paper, sheet, right_x, std::max(right, bottom_of(paper) - box), right_width);
    double y = heading(paper, margin_mm, margin_mm, left_width, "Order of work",
                       sheet.date.empty() ? sheet.title : sheet.title + " · " + sheet.date);
    y += 1.6;
    double width = left_width;
    const Setting& set = fitting(paper, sheet, width, bottom_of(paper) - y);
    for (const BenchStep& step : sheet.steps) {
        if (y + step_height(paper, step, width, set) > bottom_of(paper) + 0.5) {
            paper.next_page();
            width = inside;
            y = heading(paper, margin_mm, margin_mm, width, "Order of work, continued", sheet.title) + 1.6;
        }
        y = draw_step(paper, step, margin_mm, y, width, set);
    }
    y += 1.5;
    draw_other_warnings(paper, sheet, margin_mm, y, width);
    draw_notes(paper, margin_mm, y + 1, width);
}

}  // namespace bench

namespace {

using namespace bench;

double draw_paste(Paper& paper, const BenchCollection& collection, const batter::Masterbatch& paste, double x,
                  double y, double width) {
    const auto powder = batter::weighed(paste.powder_g, collection.powder_scale);
    const auto liquid = batter::weighed(paste.liquid_g, collection.powder_scale);
    const RowPlan plan = row_plan(x, width);
    y = heading(paper, x, y, width, paste.name + " paste",
                "1 part powder to " + shown(paste.parts_of_liquid, 1) + " parts " +
                    std::string(name_of(paste.liquid)) + ", with some to spare");
    BenchRow row = row_of(paste.id, paste.name, "", powder);
    weight_row(paper, plan, y, row);
    y += row_height_mm;
    weight_row(paper, plan, y, row_of("liquid", std::string(name_of(paste.liquid)), "", liquid));
    y += row_height_mm + 1.4;
    std::string doses;
    for (const auto& dose : paste.doses)
        doses += (doses.empty() ? "Weigh out: " : " · ") + dose.soap + ", " + dose.jug + " " +
                 shown(dose.paste_g, 1) + " g";
    return lines(paper, x, y + 2.4, width, 3.4, doses, {8, Weight::regular, ink}) + 3;
}

double draw_shortfalls(Paper& paper, const BenchCollection& collection, double x, double y, double width) {
    if (!collection.cost) return y;
    const std::string money = collection.money.empty() ? "" : " " + collection.money;
    y = heading(paper, x, y, width, "Needed and on the shelf",
                "together " + shown(collection.cost->total, 2) + money +
                    (collection.cost->complete ? "" : " of what has a price"));
    for (const batter::CostLine& line : collection.cost->lines) {
        if (y + 6 > paper.size().height_mm - 11) {
            paper.next_page();
            y = margin_mm;
        }
        const bool short_of = line.short_g > 0;
        const TextStyle style = short_of ? bold(body) : body;
        if (short_of) warning_mark(paper, {x, y + 1}, 3.2);
        paper.text({x + 6, y + 3.8}, paper.fitted(line.name, style, 0.4 * width), style);
        paper.text({x + 0.62 * width, y + 3.8}, shown(line.g, 1) + " g", aligned(style, Align::right));
        const std::string shelf = !line.in_stock_g ? "not counted"
                                  : short_of       ? shown(line.short_g, 1) + " g short"
                                                   : shown(*line.in_stock_g, 0) + " g there";
        paper.text({x + 0.84 * width, y + 3.8}, shelf, aligned(style, Align::right));
        paper.text({x + width, y + 3.8}, line.cost ? shown(*line.cost, 2) + money : "no price",
                   aligned(style, Align::right));
        y += 5.6;
    }
    return y + 3;
}

}  // namespace

void draw_collection(Paper& paper, const BenchCollection& collection) {
    const double width = paper.size().width_mm - 2 * margin_mm;
    const TextStyle title{25, Weight::semibold, ink};
    paper.text({margin_mm - 0.4, 20}, paper.fitted(collection.title, title, width), title);
    std::string soaps;
    for (const std::string& soap : collection.soaps) soaps += (soaps.empty() ? "" : " · ") + soap;
    double y = lines(paper, margin_mm, 27, width, 4.2, "For the bench: " + soaps, body) + 2;
    if (!collection.date.empty()) {
        write_in(paper, margin_mm, y + 2, 60, "Date", collection.date);
        y += 6;
    }
    for (const batter::Masterbatch& paste : collection.pastes) {
        if (y + 42 > paper.size().height_mm - 11) {
            paper.next_page();
            y = margin_mm;
        }
        y = draw_paste(paper, collection, paste, margin_mm, y, width);
    }
    draw_shortfalls(paper, collection, margin_mm, y, width);
}

}  // namespace foreslice::picture
