// The backward map of a run of legs, tabulated just finely enough: a quadtree of cells over one lattice. In
// each leaf the map is the bicubic polynomial through 4 x 4 lattice points; cells split until the polynomial
// agrees with traced points inside them. Where even the finest lattice does not (the film in the wake, the
// rim of a wire that stays in the batter), the cell gets a small table of its own.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "flow/film_tables.h"
#include "flow/leg_flow.h"
#include "flow/rim_table.h"

namespace foreslice::flow {

/// Straight legs the wire does one after another: the unit that is solved, tabulated and kept.
struct Run {
    std::vector<LegFlow> legs;
    Steps steps = Steps::exact;  ///< of tracing

    bool still() const;
    /// Where the batter at each point after the last leg was before the first, by tracing; at most
    /// FieldBatch::most points, quickest when they lie together.
    void trace_back(Vec2* points_mm, int count) const;
};

class RunMap {
  public:
    RunMap(std::shared_ptr<const Run> run, const Box& box, double tolerance_mm, WorkerPool& pool,
           Progress& progress);

    /// Where the batter at each point after the run was before it; quickest when the points lie together.
    void before(Vec2* points_mm, std::size_t count) const;
    Vec2 before(Vec2 point_mm) const {
        before(&point_mm, 1);
        return point_mm;
    }
    const Run& run() const { return *run_; }
    std::size_t traced_points() const;
    /// Cells of the finest lattice that have a table of their own, of all.
    double own_table_share() const;

  private:
    static constexpr int levels = 4;  // strides 8, 4, 2, 1
    static constexpr int coarsest = 1 << (levels - 1);

    void split(double tolerance, WorkerPool& pool, Progress& progress);
    std::vector<std::uint32_t> points_to_try(const std::vector<Cell>& cells, int stride) const;
    void trace_points(std::vector<std::uint32_t> wanted, int stride, WorkerPool& pool, Progress& progress);
    std::vector<std::uint8_t> agreeing(const std::vector<Cell>& cells, int stride, double tolerance,
                                       WorkerPool& pool) const;
    /// `centre_origin`: traced origin of the centre of a finest cell; not used for coarser ones.
    bool agrees(const Cell& cell, int stride, Vec2 centre_origin, double tolerance) const;
    bool near_wire(const Cell& cell, int stride) const;
    Vec2 from_lattice(double fx, double fy, int stride) const;
    void add_rims(double tolerance, WorkerPool& pool, Progress& progress);
    /// A point in finest cells, and what is known there.
    struct Place {
        double fx, fy;
        std::int32_t leaf;
    };
    Place place_of(Vec2 point) const;
    bool look_up(const Place& place, Vec2 point, Vec2& move) const;
    void some_before(Vec2* points_mm, std::size_t count) const;

    std::shared_ptr<const Run> run_;
    Box box_;
    int nx_ = 0, ny_ = 0;  // finest cells, multiples of `coarsest`
    double fx_per_mm_ = 0, fy_per_mm_ = 0;
    std::vector<float> moves_;  // displacement at lattice points, in pairs
    std::vector<std::uint8_t> known_;
    std::vector<std::int32_t> leaf_;  // a finest cell: -1 - level of its leaf, or the index of its own table
    FilmTables films_;
    std::vector<RimTable> rims_;       // one for each round wire of the tool, if it stays in the batter
    const ToolShape* tool_ = nullptr;  // the run's
    Vec2 wire_before_, wire_after_;    // its centre, before the first leg and after the last
    double radius2_ = 0;
    std::size_t traced_points_ = 0;
};

}  // namespace foreslice::flow
