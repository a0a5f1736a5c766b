// A stream function between the nodes: a tensor product of cubic B-splines through the node values. Its
// velocity is exactly divergence-free and C1, and since psi = 0 along the walls no point ever crosses one.
#pragma once

#include <vector>

#include "flow/grid.h"
#include "foundation/vec2.h"

namespace foreslice::flow {

class SplineField {
  public:
    SplineField() = default;
    /// `psi`: all nodes, multiplied by `scale`. Ends: zero slope at the no-slip walls and floor, zero
    /// curvature at the free-slip top.
    SplineField(const Grid& grid, const std::vector<double>& psi, double scale);

    bool zero() const { return coefficients_.empty(); }
    const float* coefficients() const { return coefficients_.data(); }  ///< (ny+3) rows of (nx+3)
    double value(Vec2 point_mm) const;
    /// (psi_x, psi_y); points outside are moved to the nearest edge.
    Vec2 gradient(Vec2 point_mm) const;

    /// Value, first and second derivatives at a point inside the box.
    struct Jet {
        double value = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
    };
    Jet jet(Vec2 point_mm) const;

  private:
    int nx_ = 0, ny_ = 0, stride_ = 0;
    double per_hx_ = 0, per_hy_ = 0;
    std::vector<float> coefficients_;  // (ny+3) rows of (nx+3)
};

}  // namespace foreslice::flow
