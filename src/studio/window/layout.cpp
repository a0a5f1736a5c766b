#include "studio/window/layout.h"

#include <algorithm>
#include <cmath>

namespace foreslice::studio {

Layout window_layout(float width_px, float height_px, float scale, float notes_height) {
    const float gap = std::round(10 * scale);
    const float title_height = std::round(50 * scale), ribbon_height = std::round(88 * scale);
    const float status_height = std::round(30 * scale);
    const float column = std::round(std::min(392 * scale, width_px * 0.4F));
    Layout out;
    out.title = {0, 0, width_px, title_height};
    out.ribbon = {gap, title_height, width_px - 2 * gap, ribbon_height};
    out.status = {0, height_px - status_height, width_px, status_height};
    const float top = out.ribbon.bottom() + gap, body = out.status.y - top;
    out.sheet = {gap, top, width_px - column - 3 * gap, body};
    const float notes = std::min(notes_height, std::max(std::floor(body * 0.22F), std::round(118 * scale)));
    out.controls = {out.sheet.right() + gap, top, column, body - notes - (notes > 0 ? gap : 0)};
    out.notes = {out.controls.x, out.controls.bottom() + gap, column, notes};
    return out;
}

namespace {

constexpr double least_share = 0.5, most_share = 0.72;  // of the poured figure's scale in the face's
constexpr double request_step = 0.125;                  // px per mm: resizing asks for few different pictures

double stepped(double px_per_mm) {
    return std::max(request_step, std::floor(px_per_mm / request_step) * request_step);
}

float length(double mm, double px_per_mm) {
    return static_cast<float>(std::round(mm * px_per_mm));
}

// What both arrangements have to fit in, px.
struct Room {
    Area inside;
    double width_mm, height_mm;
    double labels, gap, caption;
    double wide() const { return inside.width - labels; }
    double high() const { return inside.height; }
    double between() const {
        return caption + gap;
    }  // the upper figure's caption, and air for the wire's way
};

// Layers left, face right, standing on one line.
Figures beside(const Room& room, double px_per_mm) {
    Figures out;
    out.px_per_mm = stepped(px_per_mm);
    const double left_over = (room.wide() - room.gap - room.width_mm * out.px_per_mm) / room.width_mm;
    out.poured_px_per_mm = std::min(left_over, most_share * out.px_per_mm);
    const float face_width = length(room.width_mm, out.px_per_mm);
    const float face_height = length(room.height_mm, out.px_per_mm);
    const float poured_width = length(room.width_mm, out.poured_px_per_mm);
    const float poured_height = length(room.height_mm, out.poured_px_per_mm);
    const auto labels = static_cast<float>(room.labels), gap = static_cast<float>(room.gap);
    const float used = labels + poured_width + gap + face_width;
    const float x = std::round(room.inside.x + (room.inside.width - used) / 2);
    const float floor_y = std::round(room.inside.y + (room.inside.height + face_height) / 2);
    out.face = {x + labels + poured_width + gap, floor_y - face_height, face_width, face_height};
    out.poured = {x + labels, floor_y - poured_height, poured_width, poured_height};
    return out;
}

// Face above, layers below it: for wide, low moulds.
Figures above(const Room& room, double px_per_mm) {
    Figures out;
    out.px_per_mm = stepped(px_per_mm);
    const double left_over = (room.high() - room.between() - room.height_mm * out.px_per_mm) / room.height_mm;
    out.poured_px_per_mm = std::min(left_over, out.px_per_mm);
    const float face_width = length(room.width_mm, out.px_per_mm);
    const float face_height = length(room.height_mm, out.px_per_mm);
    const float poured_width = length(room.width_mm, out.poured_px_per_mm);
    const float poured_height = length(room.height_mm, out.poured_px_per_mm);
    const auto labels = static_cast<float>(room.labels), between = static_cast<float>(room.between());
    const float x = std::round(room.inside.x + labels + (room.inside.width - labels - face_width) / 2);
    const float used = face_height + between + poured_height;
    out.face = {x, std::round(room.inside.y + (room.inside.height - used) / 2), face_width, face_height};
    out.poured = {x, out.face.bottom() + between, poured_width, poured_height};
    return out;
}

}  // namespace

Figures sheet_figures(const Area& inside, double width_mm, double height_mm, float scale) {
    const auto px = [&](float points) { return static_cast<double>(std::round(points * scale)); };
    const Room room{inside, width_mm, height_mm, px(158), px(34), px(40)};
    const double both = 1 + least_share;
    const double side_by_side =
        std::min(room.high() / height_mm, (room.wide() - room.gap) / (width_mm * both));
    const double stacked =
        std::min((room.high() - room.between()) / (height_mm * both), room.wide() / width_mm);
    Figures out = side_by_side >= stacked ? beside(room, side_by_side) : above(room, stacked);
    const auto air = static_cast<float>(room.gap / 2);
    const float label_top = out.poured.y - std::min(air, out.poured.y - inside.y);
    out.labels = {out.poured.x - static_cast<float>(room.labels), label_top, static_cast<float>(room.labels),
                  out.poured.bottom() - label_top};
    return out;
}

std::vector<float> spread_labels(std::vector<float> wanted, float height, float top, float bottom) {
    if (wanted.empty()) return wanted;
    const float needed = height * static_cast<float>(wanted.size());
    if (needed > bottom - top) height = (bottom - top) / static_cast<float>(wanted.size());
    // From the lowest on the screen upwards, then back down: order is kept and both ends hold.
    float limit = bottom - height / 2;
    for (float& y : wanted) {
        y = std::min(y, limit);
        limit = y - height;
    }
    limit = top + height / 2;
    for (auto y = wanted.rbegin(); y != wanted.rend(); ++y) {
        *y = std::max(*y, limit);
        limit = *y + height;
    }
    return wanted;
}

}  // namespace foreslice::studio
