// The face as it is shown to people: the bar on its ground, a title above, the portions beside it, a scale
// below, like a plate in a book.
#include <algorithm>
#include <cmath>
#include <string>

#include "picture/bar.h"
#include "picture/caption.h"
#include "picture/draw.h"
#include "picture/face.h"
#include "picture/legend.h"
#include "picture/palette.h"
#include "picture/text.h"

namespace foreslice::picture {
namespace {

// In units of a nominal px.
constexpr double page_margin = 40, title_size = 29, subtitle_size = 15, note_size = 13;
constexpr double head_height = 84, gutter = 36, foot_height = 52;

// 1 for a bar up to 640 px high or wide, growing with it beyond that.
double unit_for(const Image& face) {
    return std::max(1.0, std::max(face.width_px, face.height_px) / 640.0);
}

std::string subtitle(const design::Design& design, const FaceRequest& request) {
    const std::string pours = pour_words(design), worked = top_words(design);
    const std::string top = worked.empty() ? std::string() : std::string(" · ") + worked;
    return batter_words(design) + " · " + (pours.empty() ? "" : pours + " · ") +
           (request.stage == Stage::poured ? words::as_poured : wire_words(design) + top);
}

// The longest of 1, 2, 5, 10 ... mm that takes up to a third of the face.
double scale_length_mm(double width_mm) {
    double length = std::pow(10.0, std::floor(std::log10(width_mm / 3)));
    for (double factor : {5.0, 2.0})
        if (factor * length <= width_mm / 3) return factor * length;
    return length;
}

struct Layout {
    double unit, margin, gutter;
    bool legend_below;
    Rect ground;
    double legend_x, legend_y;
    int page_width, page_height;
};

Layout layout(const Image& bar, const Image& face, const Legend& legend, double title_width) {
    Layout l{};
    l.unit = unit_for(face);
    l.margin = std::round(page_margin * l.unit);
    l.gutter = gutter * l.unit;
    l.legend_below = face.width_px > 1.5 * face.height_px;
    const double least = l.legend_below ? legend.width_px() : 0;
    l.ground = {l.margin, std::round(l.margin + head_height * l.unit),
                std::max<double>(bar.width_px, std::max(least, 230 * l.unit)),
                static_cast<double>(bar.height_px)};
    const double ground_bottom = l.ground.y + l.ground.height;
    l.legend_x = l.legend_below ? l.margin : l.ground.x + l.ground.width + l.gutter;
    l.legend_y = l.legend_below ? ground_bottom + (foot_height + 14) * l.unit : l.ground.y;
    const double legend_bottom = l.legend_y + legend.height_px() + 30 * l.unit;
    const double right = std::max(l.legend_x + legend.width_px(), l.ground.x + l.ground.width);
    l.page_width = static_cast<int>(std::ceil(std::max(right, l.margin + title_width) + l.margin));
    l.page_height = static_cast<int>(
        std::ceil(std::max(ground_bottom + foot_height * l.unit, legend_bottom) + 0.45 * l.margin));
    return l;
}

void draw_head(Image& page, const Layout& l, const std::string& title, const std::string& under) {
    const double room = page.width_px - 2 * l.margin;
    const Font &bold = Font::semibold(), &plain = Font::regular();
    bold.draw(page, l.margin - 1, l.margin + 27 * l.unit, title_size * l.unit, ink_of(ink_rgb),
              bold.fitted(title, title_size * l.unit, room));
    plain.draw(page, l.margin, l.margin + 54 * l.unit, subtitle_size * l.unit, ink_of(quiet_ink_rgb),
               plain.fitted(under, subtitle_size * l.unit, room));
}

void draw_scale(Image& page, const Layout& l, double px_per_mm, double width_mm) {
    const double length_mm = scale_length_mm(width_mm);
    const double x = l.ground.x, y = std::round(l.ground.y + l.ground.height + 22 * l.unit);
    const double thick = std::max(1.0, std::round(1.5 * l.unit)), tick = std::round(4 * l.unit);
    const auto ink = ink_of(ink_rgb);
    fill(page, {x, y, length_mm * px_per_mm, thick}, ink);
    fill(page, {x, y - tick, thick, 2 * tick + thick}, ink);
    fill(page, {x + length_mm * px_per_mm - thick, y - tick, thick, 2 * tick + thick}, ink);
    Font::regular().draw(page, x + length_mm * px_per_mm + 9 * l.unit, y + 5 * l.unit, note_size * l.unit,
                         ink, short_number(length_mm, 3) + " mm");
}

void draw_foot(Image& page, const Layout& l, const design::Design& design, const Face& face,
               const FaceRequest& request) {
    const auto box = design::box_of(design);
    draw_scale(page, l, request.px_per_mm, box.width_mm);
    const Font& plain = Font::regular();
    const double size = note_size * l.unit, baseline = std::round(l.ground.y + l.ground.height + 27 * l.unit);
    const std::string bar =
        "bar " + std::to_string(request.bar) + " of " + std::to_string(design::bar_count(design));
    plain.draw(page, l.ground.x + l.ground.width - plain.width_px(bar, size), baseline, size, ink_of(ink_rgb),
               bar);
    if (!face.solve.converged)
        plain.draw(page, l.ground.x, baseline + 20 * l.unit, size, ink_of(0xa03020), words::not_converged);
}

}  // namespace

Image presented(const design::Design& design, const Face& face, const FaceRequest& request) {
    const double unit = unit_for(face.image);
    const Legend legend(design, face, unit);
    const Image bar = bar_picture(design, face, request);
    const std::string under = subtitle(design, request);
    const double head_width =
        std::min(720 * unit, std::max(Font::semibold().width_px(design.name, title_size * unit),
                                      Font::regular().width_px(under, subtitle_size * unit)));
    const Layout l = layout(bar, face.image, legend, head_width);
    Image page(l.page_width, l.page_height, code_of_rgb(paper_rgb));
    draw_head(page, l, design.name, under);
    const double aside = (l.ground.width - bar.width_px) / 2;
    draw_on_ground(page, l.ground, bar, static_cast<int>(l.ground.x + aside), static_cast<int>(l.ground.y));
    legend.draw(page, l.legend_x, l.legend_y);
    Font::regular().draw(page, l.legend_x, l.legend_y + legend.height_px() + 12 * l.unit, 11.5 * l.unit,
                         ink_of(quiet_ink_rgb), words::dose_units);
    draw_foot(page, l, design, face, request);
    return page;
}

}  // namespace foreslice::picture
