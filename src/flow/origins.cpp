#include <algorithm>
#include <cmath>

#include "flow/flow.h"
#include "flow/pixel_rows.h"

namespace foreslice::flow {
namespace {

constexpr int side = 3;  // samples a pixel: side * side; what lies between them follows from their steps

// Greatest singular value of the map's gradient over a pixel, from its corners.
double greatest_stretch(const PixelCorners& c, double pixel_mm) {
    const Vec2 across = (0.5 / pixel_mm) * ((c.top_right - c.top_left) + (c.low_right - c.low_left));
    const Vec2 up = (0.5 / pixel_mm) * ((c.top_left - c.low_left) + (c.top_right - c.low_right));
    const double a = dot(across, across), b = dot(across, up), d = dot(up, up);
    return std::sqrt(0.5 * (a + d + std::sqrt((a - d) * (a - d) + 4 * b * b)));
}

}  // namespace

OriginRaster FlowEngine::origins(const FlowMap& map, const Box& box, double px_per_mm, Progress& progress) {
    OriginRaster out;
    out.px_per_mm = px_per_mm;
    out.width_px = std::max(1, static_cast<int>(std::lround(box.width_mm * px_per_mm)));
    out.height_px = std::max(1, static_cast<int>(std::lround(box.height_mm * px_per_mm)));
    const int w = out.width_px, h = out.height_px;
    const PixelRows rows(map, w, {box.width_mm / w, box.height_mm / h}, box.height_mm);
    const auto corners_a_row = static_cast<std::size_t>(w) + 1;
    std::vector<Vec2> corners(corners_a_row * (static_cast<std::size_t>(h) + 1));
    progress.begin_stage("carrying the layers", 2 * h + 1);
    worker_pool().parallel_for(static_cast<std::size_t>(h) + 1, [&](std::size_t row) {
        rows.corners(static_cast<int>(row), &corners[row * corners_a_row]);
        progress.advance();
    });
    const std::size_t pixels = static_cast<std::size_t>(w) * h;
    constexpr std::size_t samples = side * side;
    out.first.resize(pixels + 1);
    out.first[pixels] = static_cast<std::uint32_t>(pixels * samples);
    out.x_mm.resize(pixels * samples);
    out.y_mm.resize(pixels * samples);
    out.log_stretch.resize(pixels);
    worker_pool().parallel_for(static_cast<std::size_t>(h), [&](std::size_t row) {
        const Vec2* above = &corners[row * corners_a_row];
        const Vec2* below = above + corners_a_row;
        const std::size_t first = row * static_cast<std::size_t>(w);
        rows.samples(static_cast<int>(row), above, below, side, &out.x_mm[first * samples],
                     &out.y_mm[first * samples]);
        for (int i = 0; i < w; ++i) {
            const std::size_t pixel = first + static_cast<std::size_t>(i);
            out.first[pixel] = static_cast<std::uint32_t>(pixel * samples);
            const PixelCorners c{above[i], above[i + 1], below[i], below[i + 1]};
            out.log_stretch[pixel] =
                static_cast<float>(std::max(0.0, std::log(greatest_stretch(c, 1 / px_per_mm))));
        }
        progress.advance();
    });
    return out;
}

}  // namespace foreslice::flow
