#include "picture/lineup.h"

#include <algorithm>
#include <cmath>

#include "foundation/error.h"
#include "foundation/random.h"
#include "picture/bar.h"
#include "picture/caption.h"
#include "picture/draw.h"
#include "picture/light.h"
#include "picture/palette.h"
#include "picture/text.h"

namespace foreslice::picture {
namespace {

// Everything is drawn at twice the size and halved at the end: the slanting edges come out smooth.
constexpr int oversize = 2;

// In mm on the shelf.
constexpr double margin_mm = 26, gap_mm = 17, above_mm = 16, board_top_mm = 9, board_edge_mm = 19;
constexpr double between_shelves_mm = 12, head_mm = 30;
// A bar is seen a little from the right and from above; so much of its thickness shows to the side and
// upwards.
constexpr double side_share = 0.42, rise_share = 0.2;
constexpr double side_light = 0.70, top_light = 1.07;
constexpr unsigned wall_top_rgb = 0xece8e1, wall_low_rgb = 0xdcd6cc;
constexpr unsigned board_back_rgb = 0xc9b79c, board_front_rgb = 0xdccdb4;
constexpr unsigned edge_top_rgb = 0xcdbb9f, edge_low_rgb = 0xb9a688;

struct Sizes {
    double width_mm, height_mm, side_mm, rise_mm;
};

Sizes sizes_of(const LineupBar& bar, double scale) {
    const double margin = 2.0 * bar_margin_px(scale);
    return {(bar.bar.width_px - margin) / scale, (bar.bar.height_px - margin) / scale,
            side_share * bar.thickness_mm, rise_share * bar.thickness_mm};
}

// The part of a bar's picture that is soap, not shadow.
struct Body {
    Image soap;  ///< transparent where there is none
    int left, top;
};

Body body_of(const Image& bar, double scale) {
    const int margin = bar_margin_px(scale);
    const int reach = static_cast<int>(std::ceil(1.2 * scale));  // the top edge waves above its rest
    Body body;
    body.left = margin;
    body.top = margin - reach;
    body.soap = Image(bar.width_px - 2 * margin, bar.height_px - 2 * margin + reach, {});
    for (int y = 0; y < body.soap.height_px; ++y)
        for (int x = 0; x < body.soap.width_px; ++x) {
            const auto from =
                4 * (static_cast<std::size_t>(y + body.top) * static_cast<std::size_t>(bar.width_px) +
                     static_cast<std::size_t>(x + body.left));
            const auto to = 4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(body.soap.width_px) +
                                 static_cast<std::size_t>(x));
            for (std::size_t c = 0; c < 4; ++c) body.soap.rgba[to + c] = bar.rgba[from + c];
            if (body.soap.rgba[to + 3] < 200) body.soap.rgba[to + 3] = 0;  // shadow
        }
    return body;
}

void scale_light(std::uint8_t* rgba, double factor) {
    for (int c = 0; c < 3; ++c)
        rgba[c] = code_of(std::min(1.0F, static_cast<float>(factor) * linear_of(rgba[c])));
}

// The soap as it looks where one sees its side and its upper face: the rim of the cut face goes on backwards.
Image shaded(const Image& soap, double scale) {
    Image out = soap;
    const int rim = static_cast<int>(3 * scale);
    for (int y = 0; y < out.height_px; ++y)
        for (int x = 0; x < out.width_px; ++x) {
            std::uint8_t* pixel =
                &out.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(out.width_px) +
                               static_cast<std::size_t>(x))];
            scale_light(pixel, y < rim && x < out.width_px - rim / 2 ? top_light : side_light);
        }
    return out;
}

// A bar whose front stands with its lower left corner at (x, floor).
void draw_block(Image& page, const LineupBar& bar, double x, double floor, double scale) {
    const Sizes sizes = sizes_of(bar, scale);
    const Body body = body_of(bar.bar, scale);
    const Image behind = shaded(body.soap, scale);
    const double side_px = sizes.side_mm * scale, rise_px = sizes.rise_mm * scale;
    shadow(page,
           {x + 0.05 * side_px, floor - 1.2 * scale - 0.55 * rise_px, sizes.width_mm * scale + 1.05 * side_px,
            1.6 * scale},
           1.7 * scale, 0.55);
    shadow(page, {x + 2 * scale, floor - 0.6 * scale, sizes.width_mm * scale + 0.5 * side_px, 2.2 * scale},
           2.6 * scale, 0.35);
    const int left = static_cast<int>(std::lround(x));
    const int top = static_cast<int>(std::lround(floor)) - body.soap.height_px;
    const int steps = static_cast<int>(std::ceil(side_px));
    for (int step = steps; step > 0; --step)
        place(page, behind, left + step, top - static_cast<int>(std::lround(rise_px * step / side_px)));
    place(page, body.soap, left, top);
}

// Grain along the board, so faint that it is felt rather than seen.
void draw_board(Image& page, double left, double floor, double width, double scale, std::uint64_t seed) {
    const Rect top{left, floor - board_top_mm * 0.5 * scale, width, board_top_mm * scale};
    const Rect edge{left, top.y + top.height, width, board_edge_mm * scale};
    shadow(page, {left + 4 * scale, edge.y + edge.height - 4 * scale, width - 8 * scale, 6 * scale},
           5 * scale, 0.3);
    fill_passage(page, top, ink_of(board_back_rgb), ink_of(board_front_rgb));
    fill_passage(page, edge, ink_of(edge_top_rgb), ink_of(edge_low_rgb));
    for (int y = static_cast<int>(top.y); y < static_cast<int>(edge.y + edge.height); ++y)
        for (int x = static_cast<int>(left); x < static_cast<int>(left + width); ++x) {
            const double grain = smooth_field(seed, x / scale, y / scale, 60, 0.7) +
                                 0.6 * smooth_field(seed + 1, x / scale, y / scale, 140, 2.5);
            blend(page, x, y, {}, std::clamp(0.022 * (1.2 + grain), 0.0, 0.09));
        }
    fill(page, {left, edge.y, width, std::max(1.0, 0.25 * scale)}, ink_of(0xf3e9d8), 0.55);
}

void draw_label(Image& page, const LineupBar& bar, double x, double width, double edge_top, double scale) {
    const Font &bold = Font::semibold(), &plain = Font::regular();
    const double size = 5.2 * scale, small = 3.7 * scale, room = width + gap_mm * 0.8 * scale;
    const auto put = [&](const Font& font, const std::string& text, double text_size, double baseline,
                         unsigned ink) {
        const std::string shown = font.fitted(text, text_size, room);
        font.draw(page, x + (width - font.width_px(shown, text_size)) / 2, baseline, text_size, ink_of(ink),
                  shown);
    };
    put(bold, bar.name, size, edge_top + 8 * scale, 0x3a3026);
    put(plain, bar.note, small, edge_top + 14 * scale, 0x5d5040);
}

// Which bars stand on which shelf, and how large all of it is.
struct Plan {
    std::vector<std::vector<std::size_t>> shelves;
    double width_mm = 0, tallest_mm = 0;
    double shelf_mm() const {
        return above_mm + tallest_mm + 0.5 * board_top_mm + board_edge_mm + between_shelves_mm;
    }
    double height_mm() const { return head_mm + shelf_mm() * static_cast<double>(shelves.size()) + 4; }
};

double width_of(const std::vector<std::size_t>& shelf, const std::vector<LineupBar>& bars, double scale) {
    double width = -gap_mm;
    for (const std::size_t i : shelf) {
        const Sizes sizes = sizes_of(bars[i], scale);
        width += gap_mm + sizes.width_mm + sizes.side_mm;
    }
    return width;
}

Plan plan_of(const std::vector<LineupBar>& bars, double scale) {
    Plan plan;
    for (const auto& bar : bars) {
        const Sizes sizes = sizes_of(bar, scale);
        plan.tallest_mm = std::max(plan.tallest_mm, sizes.height_mm + sizes.rise_mm);
    }
    const auto count = static_cast<double>(bars.size());
    const auto shelves = static_cast<std::size_t>(std::max(1.0, std::round(std::sqrt(count / 3.0))));
    for (std::size_t shelf = 0; shelf < shelves; ++shelf) {
        plan.shelves.emplace_back();
        for (std::size_t i = shelf * bars.size() / shelves; i < (shelf + 1) * bars.size() / shelves; ++i)
            plan.shelves.back().push_back(i);
        plan.width_mm = std::max(plan.width_mm, width_of(plan.shelves.back(), bars, scale) + 2 * margin_mm);
    }
    plan.width_mm = std::max(plan.width_mm, 240.0);
    return plan;
}

void draw_shelf(Image& page, const std::vector<LineupBar>& bars, const std::vector<std::size_t>& shelf,
                double floor, double scale) {
    const double left = 0.5 * margin_mm * scale, width = page.width_px - margin_mm * scale;
    draw_board(page, left, floor, width, scale, 40 + static_cast<std::uint64_t>(floor));
    const double edge_top = floor + 0.5 * board_top_mm * scale;
    double x = (page.width_px - width_of(shelf, bars, scale) * scale) / 2;
    for (const std::size_t i : shelf) {
        const Sizes sizes = sizes_of(bars[i], scale);
        draw_block(page, bars[i], x, floor, scale);
        draw_label(page, bars[i], x, sizes.width_mm * scale, edge_top, scale);
        x += (sizes.width_mm + sizes.side_mm + gap_mm) * scale;
    }
}

}  // namespace

Image lineup_picture(const std::string& heading, const std::string& note, const std::vector<LineupBar>& bars,
                     double px_per_mm) {
    if (!(px_per_mm >= least_lineup_px_per_mm && px_per_mm <= most_lineup_px_per_mm))
        throw InputError("", "px-per-mm",
                         "a line-up of " + plain_number(px_per_mm) + " px per mm cannot be drawn",
                         plain_number(least_lineup_px_per_mm) + " to " + plain_number(most_lineup_px_per_mm));
    const double scale = oversize * px_per_mm;
    const Plan plan = plan_of(bars, scale);
    Image page(static_cast<int>(plan.width_mm * scale), static_cast<int>(plan.height_mm() * scale), {});
    fill_passage(page, {0, 0, static_cast<double>(page.width_px), static_cast<double>(page.height_px)},
                 ink_of(wall_top_rgb), ink_of(wall_low_rgb));
    const double margin = 0.5 * margin_mm * scale;
    Font::semibold().draw(page, margin, 15 * scale, 9 * scale, ink_of(ink_rgb),
                          Font::semibold().fitted(heading, 9 * scale, page.width_px - 2 * margin));
    Font::regular().draw(page, margin, 23 * scale, 4.6 * scale, ink_of(quiet_ink_rgb),
                         Font::regular().fitted(note, 4.6 * scale, page.width_px - 2 * margin));
    double y = head_mm * scale;
    for (const auto& shelf : plan.shelves) {
        draw_shelf(page, bars, shelf, std::round(y + (above_mm + plan.tallest_mm) * scale), scale);
        y += plan.shelf_mm() * scale;
    }
    return halved(page);
}

int middle_bar_of(const design::Design& design) {
    return std::max(1, (design::bar_count(design) + 1) / 2);
}

FamilyFace family_face(FaceMaker& maker, const design::Design& design, double px_per_mm,
                       const flow::Resolution& resolution, Progress& progress) {
    FaceRequest request;
    request.bar = middle_bar_of(design);
    request.px_per_mm = oversize * px_per_mm;
    request.resolution = resolution;
    const Face face = maker.make(design, request, progress);
    FamilyFace out;
    out.bar = {bar_picture(design, face, request), design.cut.bar_thickness_mm, design.name,
               short_number(design.mould.width_mm, 3) + " × " + short_number(design.mould.fill_mm, 3) +
                   " mm · " + short_batter_words(design)};
    out.signature = signature_of(*face.coverage, face.colours);
    out.solve = face.solve;
    return out;
}

std::vector<AlikePair> alike_pairs(const std::vector<FaceSignature>& faces, double within_de00) {
    std::vector<AlikePair> pairs;
    for (std::size_t a = 0; a < faces.size(); ++a)
        for (std::size_t b = a + 1; b < faces.size(); ++b)
            if (const double unlike = unlike_de00(faces[a], faces[b]); unlike < within_de00)
                pairs.push_back({a, b, unlike});
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const auto& a, const auto& b) { return a.unlike_de00 < b.unlike_de00; });
    return pairs;
}

}  // namespace foreslice::picture
