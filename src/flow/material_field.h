// Which batter lies in each cell of the grid while a tool moves, where portions are not equally thick: cells
// are traced back to where their batter lay before the strokes.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "flow/leg_flow.h"
#include "flow/run_map.h"

namespace foreslice::flow {

class MaterialField {
  public:
    MaterialField(const Grid& grid, const Box& box, Materials materials);

    /// After this the cells are looked up as they lie when the runs up to here are done.
    void add(std::shared_ptr<const RunMap> run);
    /// Must be called before cells(): tables what lies where after the runs so far.
    void settle(WorkerPool& pool);

    /// The batter in every quarter of a cell, as SplitState wants them, when the tool has gone `travel_mm`
    /// along `leg`, after the legs from `first` to before `last` of the same run, which begins where the
    /// settled runs end. Cells that the tool comes near to are traced one by one; those further off, where
    /// the flow is smooth, from every fourth.
    std::vector<std::uint8_t> cells(const LegFlow* first, const LegFlow* last, const LegFlow& leg,
                                    double travel_mm, WorkerPool& pool) const;

  private:
    std::uint8_t settled_at(Vec2 point_mm) const;
    std::vector<std::uint8_t> quarters(const std::vector<Vec2>& moves) const;
    Vec2 middle_mm(double i, double j) const { return {(i + 0.5) * grid_.hx, (j + 0.5) * grid_.hy}; }

    Grid grid_;
    Box box_;
    Materials materials_;
    std::vector<std::shared_ptr<const RunMap>> runs_;
    int across_ = 0, up_ = 0;  // squares of the table
    std::vector<std::uint8_t> table_;
};

}  // namespace foreslice::flow
