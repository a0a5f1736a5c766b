// The cross-section cut into nearly square cells. Stream function at nodes, normal velocities on cell faces:
// a staggered (MAC) grid, so the discrete flow is incompressible to round-off.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "flow/flow.h"

namespace foreslice::flow {

struct Grid {
    int nx = 0, ny = 0;     ///< cells across and up
    double hx = 0, hy = 0;  ///< cell size, mm

    Grid() = default;
    Grid(const Box& box, int cells_across)
        : nx(cells_across),
          ny(std::max(8, static_cast<int>(std::lround(cells_across * box.height_mm / box.width_mm)))),
          hx(box.width_mm / nx),
          hy(box.height_mm / ny) {}

    double width_mm() const { return nx * hx; }
    double height_mm() const { return ny * hy; }
    double h() const { return std::sqrt(hx * hy); }
    std::size_t cells() const { return static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny); }
    std::size_t nodes() const { return static_cast<std::size_t>(nx + 1) * static_cast<std::size_t>(ny + 1); }
    std::size_t cell(int i, int j) const { return static_cast<std::size_t>(j) * nx + i; }
    std::size_t node(int i, int j) const { return static_cast<std::size_t>(j) * (nx + 1) + i; }
    friend bool operator==(const Grid&, const Grid&) = default;
};

}  // namespace foreslice::flow
