// Strain rates of a stream function on the grid, and the transposed operation.
#pragma once

#include <vector>

#include "flow/grid.h"

namespace foreslice::flow {

/// Twice the strain-rate components, 1/s: `cell` = 2 u_x = 2 psi_xy (nx * ny values), `node` = u_y + v_x =
/// psi_yy - psi_xx ((nx+1)(ny+1) values; on no-slip walls by the mirrored ghost node, zero on the free top).
struct Strain {
    std::vector<double> cell, node;
};

/// `psi`: all (nx+1)(ny+1) nodes, zero on the side walls and the floor.
void strain_of(const Grid& grid, const std::vector<double>& psi, Strain& strain);

/// Loads on the interior nodes, (ny-1) rows of (nx-1): the transpose of strain_of applied to `stress`, whose
/// values already carry their integration weights.
void loads_of(const Grid& grid, const Strain& stress, std::vector<double>& loads);

/// Multiplies strains by their integration weights: the cell's area for cells, the share of it inside the box
/// for nodes.
void weigh(const Grid& grid, Strain& strain);

}  // namespace foreslice::flow
