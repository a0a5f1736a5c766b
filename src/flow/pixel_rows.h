// Asks a flow map for the origins of pictures row by row: what the corners of a pixel tell is interpolated,
// the rest is asked of the map.
#pragma once

#include "flow/flow.h"
#include "foundation/vec2.h"

namespace foreslice::flow {

struct PixelCorners {
    Vec2 top_left, top_right, low_left, low_right;
};

class PixelRows {
  public:
    /// Pixels of `size_mm` side by side from the left wall; row 0 hangs from `top_mm`. Keeps the map's
    /// address.
    PixelRows(const FlowMap& map, int width_px, Vec2 size_mm, double top_mm)
        : map_(map), width_px_(width_px), size_mm_(size_mm), top_mm_(top_mm) {}

    /// Origins of the upper corners of a row: width + 1 of them.
    void corners(int row, Vec2* origins_mm) const;
    /// Origins of across * across samples a pixel on a square lattice, row by row, the pixels one after
    /// another. `above`, `below`: the corners of this row and of the next.
    void samples(int row, const Vec2* above, const Vec2* below, int across, float* x_mm, float* y_mm) const;

  private:
    Vec2 place(int column, int row, double s, double t) const {
        return {(column + s) * size_mm_.x, top_mm_ - (row + t) * size_mm_.y};
    }

    const FlowMap& map_;
    int width_px_;
    Vec2 size_mm_;
    double top_mm_;
};

}  // namespace foreslice::flow
