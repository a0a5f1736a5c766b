#include <algorithm>
#include <array>
#include <cmath>

#include "flow/flow.h"

namespace foreslice::flow {
namespace {

constexpr int side = 4;  // samples a pixel: side * side

struct Corners {
    Vec2 top_left, top_right, low_left, low_right;
};

// Greatest singular value of the map's gradient over a pixel, from its corners.
double greatest_stretch(const Corners& c, double pixel_mm) {
    const Vec2 across = (0.5 / pixel_mm) * ((c.top_right - c.top_left) + (c.low_right - c.low_left));
    const Vec2 up = (0.5 / pixel_mm) * ((c.top_left - c.low_left) + (c.top_right - c.low_right));
    const double a = dot(across, across), b = dot(across, up), d = dot(up, up);
    return std::sqrt(0.5 * (a + d + std::sqrt((a - d) * (a - d) + 4 * b * b)));
}

// Whether the corners tell what happens inside: the map is close to bilinear and does not leap.
bool corners_suffice(const Corners& c, double pixel_mm) {
    const Vec2 twist = c.top_left + c.low_right - c.top_right - c.low_left;
    const double longest = std::max({length(c.top_right - c.top_left), length(c.low_right - c.low_left),
                                     length(c.top_left - c.low_left), length(c.top_right - c.low_right)});
    return length(twist) < pixel_mm && longest < 8 * pixel_mm;
}

}  // namespace

OriginRaster FlowEngine::origins(const FlowMap& map, const Box& box, double px_per_mm, Progress& progress) {
    OriginRaster out;
    out.px_per_mm = px_per_mm;
    out.width_px = std::max(1, static_cast<int>(std::lround(box.width_mm * px_per_mm)));
    out.height_px = std::max(1, static_cast<int>(std::lround(box.height_mm * px_per_mm)));
    const int w = out.width_px, h = out.height_px;
    const double dx = box.width_mm / w, dy = box.height_mm / h, pixel_mm = 1 / px_per_mm;
    std::vector<Vec2> corners(static_cast<std::size_t>(w + 1) * (h + 1));
    progress.begin_stage("carrying the layers", 2 * h + 1);
    worker_pool().parallel_for(static_cast<std::size_t>(h) + 1, [&](std::size_t row) {
        for (int i = 0; i <= w; ++i)
            corners[row * (w + 1) + i] =
                map.origin_mm({i * dx, box.height_mm - static_cast<double>(row) * dy});
        progress.advance();
    });
    const std::size_t pixels = static_cast<std::size_t>(w) * h;
    constexpr std::size_t samples = side * side;
    out.first.resize(pixels + 1);
    for (std::size_t p = 0; p <= pixels; ++p) out.first[p] = static_cast<std::uint32_t>(p * samples);
    out.x_mm.resize(pixels * samples);
    out.y_mm.resize(pixels * samples);
    out.log_stretch.resize(pixels);
    worker_pool().parallel_for(static_cast<std::size_t>(h), [&](std::size_t row) {
        for (int i = 0; i < w; ++i) {
            const Vec2* top = &corners[row * (w + 1) + i];
            const Vec2* low = top + (w + 1);
            const Corners c{top[0], top[1], low[0], low[1]};
            const bool enough = corners_suffice(c, pixel_mm);
            const std::size_t pixel = row * w + i;
            for (int q = 0; q < side; ++q)
                for (int p = 0; p < side; ++p) {
                    const double s = (p + 0.5) / side, t = (q + 0.5) / side;
                    const Vec2 origin =
                        enough ? (1 - t) * ((1 - s) * c.top_left + s * c.top_right) +
                                     t * ((1 - s) * c.low_left + s * c.low_right)
                               : map.origin_mm(
                                     {(i + s) * dx, box.height_mm - (static_cast<double>(row) + t) * dy});
                    const std::size_t at = pixel * samples + static_cast<std::size_t>(q * side + p);
                    out.x_mm[at] = static_cast<float>(origin.x);
                    out.y_mm[at] = static_cast<float>(origin.y);
                }
            out.log_stretch[pixel] =
                static_cast<float>(std::max(0.0, std::log(greatest_stretch(c, pixel_mm))));
        }
        progress.advance();
    });
    return out;
}

}  // namespace foreslice::flow
