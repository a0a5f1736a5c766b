// The parts of measured() that have a file of their own. Not for other rooms.
#pragma once

#include <cstdint>
#include <vector>

#include "picture/measures.h"

namespace foreslice::picture {

/// Band thickness over a lattice.
struct BandWidths {
    double median_mm = 0, fine_mm = 0;  ///< half and a tenth of the area are thinner
    double muddy_percent = 0;
    std::vector<std::uint8_t> muddy;  ///< a point: 1 where its band is too thin to be resolved
};
BandWidths band_widths(const PortionLattice& face, WorkerPool& pool);

/// How many feathers each portion has.
std::vector<int> feathers_of(const PortionLattice& face, const PortionLattice& poured, WorkerPool& pool);

/// One portion a cell: the one with most points, of equals the lowest index.
PortionLattice cells_of(const PortionLattice& lattice, WorkerPool& pool);

}  // namespace foreslice::picture
