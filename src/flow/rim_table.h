// The backward map close to a wire that stays in the batter when a run ends. What lies there was carried
// along by the wire, the further the closer it lies: no square lattice resolves it, but over the angle round
// the wire and the logarithm of the gap to its surface the map is smooth, but for the film behind.
#pragma once

#include <cstdint>
#include <vector>

#include "flow/leg_flow.h"
#include "foundation/progress.h"
#include "foundation/worker_pool.h"

namespace foreslice::flow {

struct Run;

class RimTable {
  public:
    /// Traces the batter within `width_mm` of a wire of `radius_mm` that is at `centre_mm` after the run.
    /// Cells that do not agree with a traced point within `tolerance_mm` are left out.
    RimTable(const Run& run, Vec2 centre_mm, double radius_mm, double width_mm, double tolerance_mm,
             WorkerPool& pool, Progress& progress);

    /// Displacement to before the run; false for points inside the wire, further off than the table reaches,
    /// or in a cell that was left out.
    bool look_up(Vec2 point_mm, Vec2& displacement_mm) const;
    std::size_t traced_points() const { return traced_points_; }

  private:
    /// Place of a point in the table, in cells: round the wire and outwards.
    struct Place {
        double round = 0, outward = 0;
    };
    Place place_of(Vec2 from_centre_mm, double distance_mm) const;
    Vec2 point_at(Place place) const;
    void trace(const Run& run, WorkerPool& pool, Progress& progress);
    void test(const Run& run, double tolerance_mm, WorkerPool& pool, Progress& progress);
    Vec2 interpolated(Place place) const;

    Vec2 centre_mm_;
    double radius_mm_, width_mm_;
    std::vector<float> moves_;         // pairs; a row for each place outwards
    std::vector<std::uint8_t> holds_;  // a cell: whether its test agreed
    std::size_t traced_points_ = 0;
};

}  // namespace foreslice::flow
