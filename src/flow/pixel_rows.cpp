#include "flow/pixel_rows.h"

#include <algorithm>
#include <vector>

namespace foreslice::flow {
namespace {

double longest_side(const PixelCorners& c) {
    return std::max({length(c.top_right - c.top_left), length(c.low_right - c.low_left),
                     length(c.top_left - c.low_left), length(c.top_right - c.low_right)});
}

enum class Inside { bilinear, maybe_bilinear, unknown };

// What the corners tell of the inside. The map may be bent by as much as moves a boundary by an eighth of a
// pixel. Where it stretches much the corners may lie on either side of a film: the middle must be asked.
Inside inside_of(const PixelCorners& c, double pixel_mm) {
    const double longest = longest_side(c);
    const double twist = length(c.top_left + c.low_right - c.top_right - c.low_left);
    if (twist > std::max(pixel_mm, 0.5 * longest)) return Inside::unknown;
    if (longest < 8 * pixel_mm) return Inside::bilinear;
    return longest < 80 * pixel_mm ? Inside::maybe_bilinear : Inside::unknown;
}

bool middle_agrees(const PixelCorners& c, Vec2 middle) {
    const Vec2 mean = 0.25 * (c.top_left + c.top_right + c.low_left + c.low_right);
    return length(middle - mean) < 0.125 * longest_side(c);
}

Vec2 between(const PixelCorners& c, double s, double t) {
    return (1 - t) * ((1 - s) * c.top_left + s * c.top_right) + t * ((1 - s) * c.low_left + s * c.low_right);
}

PixelCorners corners_of(const Vec2* above, const Vec2* below, int column) {
    return {above[column], above[column + 1], below[column], below[column + 1]};
}

}  // namespace

void PixelRows::corners(int row, Vec2* origins) const {
    for (int column = 0; column <= width_px_; ++column) origins[column] = place(column, row, 0, 0);
    map_.to_origins_mm(origins, static_cast<std::size_t>(width_px_) + 1);
}

void PixelRows::samples(int row, const Vec2* above, const Vec2* below, int across, float* x, float* y) const {
    std::vector<Inside> inside;
    std::vector<Vec2> asked;
    for (int column = 0; column < width_px_; ++column) {
        inside.push_back(inside_of(corners_of(above, below, column), size_mm_.x));
        if (inside.back() == Inside::maybe_bilinear) asked.push_back(place(column, row, 0.5, 0.5));
    }
    map_.to_origins_mm(asked.data(), asked.size());
    auto middle = asked.begin();
    for (int column = 0; column < width_px_; ++column) {
        Inside& here = inside[static_cast<std::size_t>(column)];
        if (here == Inside::maybe_bilinear)
            here = middle_agrees(corners_of(above, below, column), *middle++) ? Inside::bilinear
                                                                              : Inside::unknown;
    }
    asked.clear();
    std::vector<std::size_t> asked_for;  // where what is asked goes
    const auto put = [&](std::size_t at, Vec2 origin) {
        x[at] = static_cast<float>(origin.x);
        y[at] = static_cast<float>(origin.y);
    };
    std::size_t at = 0;
    for (int column = 0; column < width_px_; ++column) {
        const PixelCorners c = corners_of(above, below, column);
        for (int k = 0; k < across * across; ++k, ++at) {
            const int i = k % across, j = k / across;
            const double s = (i + 0.5) / across, t = (j + 0.5) / across;
            if (inside[static_cast<std::size_t>(column)] == Inside::bilinear) {
                put(at, between(c, s, t));
            } else {
                asked.push_back(place(column, row, s, t));
                asked_for.push_back(at);
            }
        }
    }
    map_.to_origins_mm(asked.data(), asked.size());
    for (std::size_t k = 0; k < asked.size(); ++k) put(asked_for[k], asked[k]);
}

}  // namespace foreslice::flow
