// The backward map of a run of legs, tabulated just finely enough: a quadtree of cells over one lattice. In
// each leaf the map is the bicubic polynomial through 4 x 4 lattice points; cells split until the polynomial
// agrees with traced points inside them. Where even the finest cells do not (the film in the wake), points
// are traced.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "flow/leg_flow.h"

namespace foreslice::flow {

/// Straight legs the wire does one after another: the unit that is solved, tabulated and kept.
struct Run {
    std::vector<LegFlow> legs;

    bool still() const;
    /// Where the batter at `point_mm` after the last leg was before the first, by tracing.
    Vec2 trace_back(Vec2 point_mm) const;
};

class RunMap {
  public:
    RunMap(std::shared_ptr<const Run> run, const Box& box, double tolerance_mm, WorkerPool& pool,
           Progress& progress);

    /// Where the batter at `point_mm` after the run was before it.
    Vec2 before(Vec2 point_mm) const;
    const Run& run() const { return *run_; }
    /// Share of the box whose points are traced one by one, and points traced to make the table.
    double traced_share() const { return traced_share_; }
    std::size_t table_points() const { return table_points_; }

  private:
    static constexpr int levels = 4;  // strides 8, 4, 2, 1
    static constexpr int coarsest = 1 << (levels - 1);
    static constexpr std::uint8_t direct = levels;

    void trace_points(const std::vector<std::uint32_t>& wanted, WorkerPool& pool, Progress& progress);
    Vec2 interpolated(double fx, double fy, int stride) const;
    void split(double tolerance, WorkerPool& pool, Progress& progress);
    struct Cell {
        int i, j;
    };
    std::vector<std::uint32_t> points_to_try(const std::vector<Cell>& cells, int stride) const;
    bool agrees(const Cell& cell, int stride, double tolerance) const;
    bool near_wire(int i, int j, int stride) const;

    std::shared_ptr<const Run> run_;
    Box box_;
    int nx_ = 0, ny_ = 0;  // finest cells, multiples of `coarsest`
    double fx_per_mm_ = 0, fy_per_mm_ = 0;
    std::vector<float> dx_, dy_;  // displacement at lattice points
    std::vector<std::uint8_t> known_;
    std::vector<std::uint8_t> leaf_level_;  // a finest cell: level of its leaf, or `direct`
    double traced_share_ = 0;
    std::size_t table_points_ = 0;
};

}  // namespace foreslice::flow
