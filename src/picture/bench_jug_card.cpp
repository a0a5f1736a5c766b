// A jug's card: how much plain batter it gets and every powder that goes in.
#include <algorithm>
#include <cmath>

#include "picture/bench_layout.h"
#include "picture/bench_words.h"

namespace foreslice::picture::bench {
namespace {

constexpr double head_mm = 10.6, powder_mm = 6.9, foot_mm = 1.2;
constexpr TextStyle powder_figure{11.5, Weight::semibold, strong, Align::right, true};

std::string jug_words(const BenchJug& jug) {
    std::string words = shown(jug.percent, 1) + " % · " + jug.volume + " · jug of " + jug.jug_size;
    if (!jug.top.empty()) words += " · " + jug.top + " for the top";
    return words;
}

void powder_row(Paper& paper, const BenchPowder& powder, double x, double y, double width) {
    tick_box(paper, {x + 6.6, y + 1.2}, 3.4);
    const double right = x + width - 15, text_x = x + 12;
    const std::string amount = powder.row.weight->text();
    const double room = right - text_x - paper.width_mm(amount, powder_figure) - 2;
    const TextStyle style{9, powder.matters ? Weight::semibold : Weight::regular, ink};
    paper.text({text_x, y + 3.4}, paper.fitted(powder.row.name, style, room), style);
    const std::string words = words_under(powder);
    paper.text({text_x, y + 6.1}, paper.fitted(words, note, room + 4), note);
    paper.text({right, y + 4.4}, amount, powder_figure);
    paper.text({right + 0.8, y + 4.4}, "g", unit);
    const std::string shift = powder.de00_per_tenth_g < 0.05 ? "" : "ΔE " + shown(powder.de00_per_tenth_g, 1);
    paper.text({x + width - 1.5, y + 4.3}, shift, aligned(powder.matters ? bold(note) : note, Align::right));
}

}  // namespace

double jug_height(const Paper&, const BenchJug& jug, double) {
    return head_mm + powder_mm * static_cast<double>(std::max<std::size_t>(1, jug.powders.size())) + foot_mm;
}

void jug_card(Paper& paper, const BenchJug& jug, const MmRect& area) {
    paper.outline(area, {0.25, quiet}, 1.2);
    const double x = area.x, y = area.y;
    paper.fill({x + 1.6, y + 1.8, 7.4, 7.4}, jug.rgb, 0.9);
    paper.outline({x + 1.6, y + 1.8, 7.4, 7.4}, {0.2, ink}, 0.9);
    const double figure_right = x + area.width - 7;
    const std::string amount = jug.plain.weight->text();
    const double amount_left = figure_right - paper.width_mm(amount, figure);
    tick_box(paper, {amount_left - 7, y + 2.3}, 4.4);
    const double room = amount_left - 9 - (x + 11);
    paper.text({x + 11, y + 5.2}, paper.fitted(jug.plain.name, bold(name), room), bold(name));
    paper.text({x + 11, y + 8.9}, paper.fitted(jug_words(jug), note, area.width - 13), note);
    paper.text({figure_right, y + 6.3}, amount, figure);
    paper.text({figure_right + 0.8, y + 6.3}, std::string(name_of(jug.plain.weight->scale.unit)), unit);
    double at = y + head_mm;
    for (const BenchPowder& powder : jug.powders) {
        powder_row(paper, powder, x, at, area.width);
        at += powder_mm;
    }
    if (jug.powders.empty()) paper.text({x + 12, at + 3.6}, "no colour: stays plain", note);
}

}  // namespace foreslice::picture::bench
