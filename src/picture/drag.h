// Small flows beside a stream or a sheet, as a stage in a box: a stream function drags batter along an
// upright line and lets it flow back on both sides.
#pragma once

#include <optional>
#include <vector>

#include "flow/flow.h"
#include "foundation/vec2.h"
#include "picture/section.h"

namespace foreslice::picture {

/// One upright line that batter was dragged along. Own model: psi = D f P((x - x0)/f) B(y) with P(s) = s
/// exp(-s^2/2), mirrored at both walls so that nothing crosses them, and B rising and falling as a squared
/// sine.
struct DragLine {
    double x_mm = 0;      ///< of the line
    double reach_mm = 1;  ///< f: how far to either side
    double down_mm = 0;   ///< D: how far the batter on the line goes down; negative: up
    double low_mm = 0;    ///< lower and upper end of the line
    double high_mm = 0;
};

/// The backward map of the flow of all lines at once, tabulated. Keeps areas to about 1e-4, carries the
/// walls, the floor and the top onto themselves.
class Dragged final : public SectionStage {
  public:
    Dragged(const flow::Box& box, const std::vector<DragLine>& lines);
    std::optional<Bit> back(Vec2& point_mm) const override;

  private:
    const Vec2& node(int i, int j) const { return moved_mm_[static_cast<std::size_t>(j * (nx_ + 1) + i)]; }

    flow::Box box_;
    int nx_, ny_;
    std::vector<Vec2> moved_mm_;  ///< displacement at lattice nodes, row by row from the floor
};

}  // namespace foreslice::picture
