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

double longest_side(const Corners& c) {
    return std::max({length(c.top_right - c.top_left), length(c.low_right - c.low_left),
                     length(c.top_left - c.low_left), length(c.top_right - c.low_right)});
}

enum class Inside { bilinear, maybe_bilinear, unknown };

// What the corners tell of the inside. The map may be bent by as much as moves a boundary by an eighth of a
// pixel. Where it stretches much the corners may lie on either side of a film: the middle must be asked.
Inside inside_of(const Corners& c, double pixel_mm) {
    const double longest = longest_side(c);
    const double twist = length(c.top_left + c.low_right - c.top_right - c.low_left);
    if (twist > std::max(pixel_mm, 0.5 * longest)) return Inside::unknown;
    if (longest < 8 * pixel_mm) return Inside::bilinear;
    return longest < 80 * pixel_mm ? Inside::maybe_bilinear : Inside::unknown;
}

bool middle_agrees(const Corners& c, Vec2 middle) {
    const Vec2 mean = 0.25 * (c.top_left + c.top_right + c.low_left + c.low_right);
    return length(middle - mean) < 0.125 * longest_side(c);
}

// For a row of pixels: bilinear, or unknown.
template <class CornersOf, class Place>
std::vector<Inside> insides(const FlowMap& map, std::size_t width, double pixel_mm,
                            const CornersOf& corners_of, const Place& place) {
    std::vector<Inside> inside(width);
    std::vector<Vec2> middles;
    for (std::size_t i = 0; i < width; ++i) {
        inside[i] = inside_of(corners_of(i), pixel_mm);
        if (inside[i] == Inside::maybe_bilinear) middles.push_back(place(i, 0.5, 0.5));
    }
    map.to_origins_mm(middles.data(), middles.size());
    auto middle = middles.begin();
    for (std::size_t i = 0; i < width; ++i)
        if (inside[i] == Inside::maybe_bilinear)
            inside[i] = middle_agrees(corners_of(i), *middle++) ? Inside::bilinear : Inside::unknown;
    return inside;
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
        Vec2* points = &corners[row * (w + 1)];
        for (int i = 0; i <= w; ++i) points[i] = {i * dx, box.height_mm - static_cast<double>(row) * dy};
        map.to_origins_mm(points, static_cast<std::size_t>(w) + 1);
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
        const auto corners_of = [&](std::size_t i) {
            const Vec2* top = &corners[row * (static_cast<std::size_t>(w) + 1) + i];
            const Vec2* low = top + (w + 1);
            return Corners{top[0], top[1], low[0], low[1]};
        };
        const auto place = [&](std::size_t i, double s, double t) {
            return Vec2{(static_cast<double>(i) + s) * dx,
                        box.height_mm - (static_cast<double>(row) + t) * dy};
        };
        const auto inside = insides(map, static_cast<std::size_t>(w), pixel_mm, corners_of, place);
        std::vector<Vec2> asked;  // samples that the map itself must give, and where they go
        std::vector<std::size_t> asked_for;
        const auto put = [&](std::size_t at, Vec2 origin) {
            out.x_mm[at] = static_cast<float>(origin.x);
            out.y_mm[at] = static_cast<float>(origin.y);
        };
        for (std::size_t i = 0; i < static_cast<std::size_t>(w); ++i) {
            const Corners c = corners_of(i);
            const std::size_t pixel = row * static_cast<std::size_t>(w) + i;
            for (int q = 0; q < side; ++q)
                for (int p = 0; p < side; ++p) {
                    const double s = (p + 0.5) / side, t = (q + 0.5) / side;
                    const std::size_t at = pixel * samples + static_cast<std::size_t>(q * side + p);
                    if (inside[i] == Inside::bilinear) {
                        put(at, (1 - t) * ((1 - s) * c.top_left + s * c.top_right) +
                                    t * ((1 - s) * c.low_left + s * c.low_right));
                    } else {
                        asked.push_back(place(i, s, t));
                        asked_for.push_back(at);
                    }
                }
            out.log_stretch[pixel] =
                static_cast<float>(std::max(0.0, std::log(greatest_stretch(c, pixel_mm))));
        }
        map.to_origins_mm(asked.data(), asked.size());
        for (std::size_t k = 0; k < asked.size(); ++k) put(asked_for[k], asked[k]);
        progress.advance();
    });
    return out;
}

}  // namespace foreslice::flow
