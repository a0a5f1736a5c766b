#include "studio/window/layout.h"

#include <algorithm>
#include <cmath>

namespace foreslice::studio {

Layout window_layout(float width_px, float height_px, float scale, float notes_height) {
    const float gap = std::round(10 * scale);
    const float title_height = std::round(50 * scale), ribbon_height = std::round(66 * scale);
    const float status_height = std::round(30 * scale);
    const float column = std::round(std::min(392 * scale, width_px * 0.4F));
    Layout out;
    out.title = {0, 0, width_px, title_height};
    out.ribbon = {gap, title_height, width_px - 2 * gap, ribbon_height};
    out.status = {0, height_px - status_height, width_px, status_height};
    const float top = out.ribbon.bottom() + gap, body = out.status.y - top;
    out.sheet = {gap, top, width_px - column - 3 * gap, body};
    const float notes = std::min(notes_height, std::floor(body * 0.34F));
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

}  // namespace

Figures sheet_figures(const Area& inside, double width_mm, double height_mm, float scale) {
    const double labels = std::round(158 * scale), gap = std::round(34 * scale);
    const double caption = std::round(40 * scale);  // under the upper of two figures
    const double wide = inside.width - labels, high = inside.height;
    const double beside = std::min(high / height_mm, (wide - gap) / (width_mm * (1 + least_share)));
    const double above = std::min((high - caption) / (height_mm * (1 + least_share)), wide / width_mm);
    Figures out;
    const auto length = [](double mm, double px_per_mm) {
        return static_cast<float>(std::round(mm * px_per_mm));
    };
    if (beside >= above) {
        out.px_per_mm = stepped(beside);
        const double left_over = (wide - gap - width_mm * out.px_per_mm) / width_mm;
        out.poured_px_per_mm = std::min(left_over, most_share * out.px_per_mm);
    } else {
        out.px_per_mm = stepped(above);
        out.poured_px_per_mm = least_share * out.px_per_mm;
    }
    const float face_width = length(width_mm, out.px_per_mm), face_height = length(height_mm, out.px_per_mm);
    const float poured_width = length(width_mm, out.poured_px_per_mm);
    const float poured_height = length(height_mm, out.poured_px_per_mm);
    const auto caption_px = static_cast<float>(caption), gap_px = static_cast<float>(gap);
    const auto labels_px = static_cast<float>(labels);
    if (beside >= above) {
        const float used = labels_px + poured_width + gap_px + face_width;
        const float x = std::round(inside.x + (inside.width - used) / 2);
        const float floor_y = std::round(inside.y + (inside.height + face_height) / 2);
        out.face = {x + labels_px + poured_width + gap_px, floor_y - face_height, face_width, face_height};
        out.poured = {x + labels_px, floor_y - poured_height, poured_width, poured_height};
    } else {
        const float x = std::round(inside.x + labels_px + (inside.width - labels_px - face_width) / 2);
        out.face = {x, inside.y, face_width, face_height};
        out.poured = {x, out.face.bottom() + caption_px, poured_width, poured_height};
    }
    const float label_top = out.poured.y - std::min(gap_px / 2, out.poured.y - inside.y);
    out.labels = {out.poured.x - labels_px, label_top, labels_px, out.poured.bottom() - label_top};
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
