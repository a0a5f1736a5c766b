#include "studio/session/top_colours.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "colour/colorimetry.h"
#include "picture/top_view.h"

namespace foreslice::studio {
namespace {

constexpr double top_px_per_mm = 5;

void put(picture::Image& image, int x, int y, const colour::EncodedSrgb& colour) {
    if (x < 0 || y < 0 || x >= image.width_px || y >= image.height_px) return;
    auto* rgba = &image.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                                  static_cast<std::size_t>(x))];
    rgba[0] = colour.r;
    rgba[1] = colour.g;
    rgba[2] = colour.b;
}

void put_seed(picture::Image& image, const picture::TopSeed& seed, const colour::EncodedSrgb& colour) {
    const double a = std::max(0.5, 0.5 * seed.length_mm * top_px_per_mm);
    const double b = std::max(0.5, 0.5 * seed.width_mm * top_px_per_mm);
    const double c = std::cos(seed.angle_rad), s = std::sin(seed.angle_rad);
    const int x0 = static_cast<int>(seed.x_mm * top_px_per_mm),
              y0 = static_cast<int>(seed.depth_mm * top_px_per_mm);
    const int reach = static_cast<int>(std::max(a, b)) + 1;
    for (int y = y0 - reach; y <= y0 + reach; ++y)
        for (int x = x0 - reach; x <= x0 + reach; ++x) {
            const double dx = x + 0.5 - seed.x_mm * top_px_per_mm,
                         dy = y + 0.5 - seed.depth_mm * top_px_per_mm;
            if (std::hypot((c * dx + s * dy) / a, (c * dy - s * dx) / b) <= 1) put(image, x, y, colour);
        }
}

}  // namespace

picture::Image top_colours(const picture::Face& face) {
    const picture::TopView& top = *face.top;
    const double width_mm = top.column_mm * static_cast<double>(top.columns - 1);
    picture::Image image(std::max(1, static_cast<int>(std::lround(width_mm * top_px_per_mm))),
                         std::max(1, static_cast<int>(std::lround(top.depth_mm() * top_px_per_mm))), {});
    std::vector<colour::EncodedSrgb> own;  // in the light that the face is seen in
    for (const auto& material : face.colours) own.push_back(colour::encoded(material.linear));
    const auto node = [](int pixel, double step_mm, std::size_t count) {
        const auto nearest = static_cast<std::size_t>(std::lround((pixel + 0.5) / top_px_per_mm / step_mm));
        return std::min(nearest, count - 1);
    };
    for (int y = 0; y < image.height_px; ++y)
        for (int x = 0; x < image.width_px; ++x) {
            const std::size_t at =
                node(y, top.row_mm, top.rows) * top.columns + node(x, top.column_mm, top.columns);
            put(image, x, y, own[top.material[at]]);
        }
    for (const auto& seed : top.seeds) put_seed(image, seed, colour::encoded(face.bits[seed.kind]));
    return image;
}

}  // namespace foreslice::studio
