#include "picture/contact_paper.h"

#include <algorithm>
#include <cmath>

#include "foundation/error.h"
#include "picture/caption.h"

namespace foreslice::picture {
namespace {

// mm on the paper
constexpr double margin = 14, head = 20, foot = 14, gap = 12, caption = 12;
constexpr double mark_length = 5, mark_distance = 1.5;
constexpr unsigned ink = 0x2b2926, quiet = 0x6b665f;

void require_room(const ContactPaper& sheet, const PaperBar& bar) {
    const double width = sheet.paper.width_mm - 2 * margin;
    const double height = sheet.paper.height_mm - margin - head - foot - caption;
    if (bar.width_mm <= width && bar.height_mm <= height) return;
    throw InputError(
        "", "paper",
        foreslice::quoted(bar.title) + " is " + short_number(bar.width_mm, 4) + " x " +
            short_number(bar.height_mm, 4) + " mm and does not fit the paper at its true size",
        "up to " + short_number(width, 4) + " x " + short_number(height, 4) + " mm, or larger paper");
}

void draw_marks(Paper& paper, const MmRect& face) {
    const Pen pen{0.1, 0x000000};
    for (const double x : {face.x, face.x + face.width})
        for (const double side : {-1.0, 1.0}) {
            const double y = side < 0 ? face.y : face.y + face.height;
            paper.line({x, y + side * mark_distance}, {x, y + side * (mark_distance + mark_length)}, pen);
        }
    for (const double y : {face.y, face.y + face.height})
        for (const double side : {-1.0, 1.0}) {
            const double x = side < 0 ? face.x : face.x + face.width;
            paper.line({x + side * mark_distance, y}, {x + side * (mark_distance + mark_length), y}, pen);
        }
}

void draw_page_frame(Paper& paper, const ContactPaper& sheet, int page, int pages) {
    const double width = sheet.paper.width_mm, bottom = sheet.paper.height_mm - 8;
    paper.text({margin, margin + 5}, paper.fitted(sheet.heading, {15, Weight::semibold}, width - 2 * margin),
               {15, Weight::semibold, ink});
    paper.text({margin, margin + 11}, paper.fitted(sheet.note, {8.5}, width - 2 * margin),
               {8.5, Weight::regular, quiet});
    const double rule = width - 2 * margin > 160 ? 100 : 50;
    const Pen pen{0.25, ink};
    paper.line({margin, bottom}, {margin + rule, bottom}, pen);
    for (double mm = 0; mm <= rule; mm += 10)
        paper.line({margin + mm, bottom - (std::fmod(mm, 50) == 0 ? 3.0 : 1.8)}, {margin + mm, bottom}, pen);
    paper.text({margin + rule + 4, bottom},
               short_number(rule, 3) + " mm when printed at its true size (100 %)",
               {7.5, Weight::regular, quiet});
    if (pages > 1)
        paper.text({width - margin, bottom}, std::to_string(page + 1) + " / " + std::to_string(pages),
                   {7.5, Weight::regular, quiet, Align::right});
}

}  // namespace

std::vector<PaperPlace> places_on(const ContactPaper& sheet, const std::vector<PaperBar>& bars) {
    std::vector<PaperPlace> places;
    int page = 0;
    double x = margin, y = margin + head, row = 0;
    for (const auto& bar : bars) {
        require_room(sheet, bar);
        if (x > margin && x + bar.width_mm > sheet.paper.width_mm - margin) {
            x = margin;
            y += row + caption + gap;
            row = 0;
        }
        if (y > margin + head && y + bar.height_mm + caption > sheet.paper.height_mm - foot) {
            ++page;
            x = margin;
            y = margin + head;
            row = 0;
        }
        places.push_back({page, {x, y, bar.width_mm, bar.height_mm}});
        x += bar.width_mm + gap;
        row = std::max(row, bar.height_mm);
    }
    return places;
}

void draw_contact_paper(Paper& paper, const ContactPaper& sheet, const std::vector<PaperBar>& bars) {
    const auto places = places_on(sheet, bars);
    const int pages = places.empty() ? 1 : places.back().page + 1;
    int page = 0;
    draw_page_frame(paper, sheet, page, pages);
    for (std::size_t i = 0; i < bars.size(); ++i) {
        if (places[i].page != page) {
            paper.next_page();
            page = places[i].page;
            draw_page_frame(paper, sheet, page, pages);
        }
        const MmRect& face = places[i].face;
        paper.image(bars[i].face, face);
        if (sheet.crop_marks) draw_marks(paper, face);
        const double y = face.y + face.height + (sheet.crop_marks ? mark_distance + mark_length + 3.6 : 5.0);
        paper.text({face.x, y}, paper.fitted(bars[i].title, {9, Weight::semibold}, face.width),
                   {9, Weight::semibold, ink});
        paper.text({face.x, y + 3.8}, paper.fitted(bars[i].note, {7}, face.width),
                   {7, Weight::regular, quiet});
    }
}

}  // namespace foreslice::picture
