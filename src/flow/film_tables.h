// Small tables of the backward map for cells that a lattice of quarter millimetres does not resolve: the film
// in the wake, the rim of a wire that stays in the batter. A film is sharp across the wire's way and smooth
// along it, so cells are taken together along the way and divided finely only across; where that does not do,
// a cell gets a square table of its own.
#pragma once

#include <cstdint>
#include <limits>
#include <vector>

#include "flow/leg_flow.h"
#include "foundation/progress.h"
#include "foundation/worker_pool.h"

namespace foreslice::flow {

struct Run;

/// With a tolerance beyond this a table is taken as it is: a preview must not wait for traced points.
inline constexpr double preview_tolerance_mm = 0.15;

/// Gradients of the map beyond this are too uneven over a cell to earn it more tolerance.
inline constexpr double steepest_gradient = 3;

/// Square cells of a lattice over the box.
struct CellGrid {
    int nx = 0, ny = 0;
    Vec2 size_mm;  ///< of one cell
    Vec2 corner_mm(int i, int j) const { return {i * size_mm.x, j * size_mm.y}; }
};

struct Cell {
    int i, j;
};

class FilmTables {
  public:
    static constexpr std::int32_t no_table = std::numeric_limits<std::int32_t>::max();

    /// Traces what `cells` need. `leaf` (nx * ny entries) gets for each of them the index of its table, or
    /// `no_table` where none is close enough.
    void add(const Run& run, const CellGrid& grid, const std::vector<Cell>& cells, double tolerance_mm,
             std::vector<std::int32_t>& leaf, WorkerPool& pool, Progress& progress);

    /// Displacement at a place given in cells.
    Vec2 displacement(std::int32_t table, double fx, double fy) const;
    std::size_t size() const { return tables_.size(); }
    std::size_t traced_points() const { return traced_points_; }

  private:
    /// A lattice of (sides_x + 1) * (sides_y + 1) displacements over some cells.
    struct Table {
        int i = 0, j = 0, wide = 1, high = 1;
        int sides_x = 4, sides_y = 4;
        std::size_t first = 0;  // pair in pairs_
    };
    struct Traced;
    static Traced traced(const Run& run, const CellGrid& grid, Table table, int tests_x, int tests_y,
                         const Traced* coarser);
    static bool holds(const Traced& traced, double tolerance_mm);
    static std::vector<Traced> tables_for(const Run& run, const CellGrid& grid,
                                          const std::vector<Cell>& block, bool upright, double tolerance_mm);
    static Vec2 interpolated(const Table& table, const float* pairs, double fx, double fy);

    std::vector<Table> tables_;
    std::vector<float> pairs_;
    std::size_t traced_points_ = 0;
};

}  // namespace foreslice::flow
