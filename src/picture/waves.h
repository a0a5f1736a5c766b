// The unevenness that a hand leaves on a layer, and which portion a pour is of.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "design/design.h"

namespace foreslice::picture {

/// Height (mm, mean about zero) of the seeded wave on a pour's top edge at evenly spaced columns across the
/// mould. Correlated over about 25 mm across it and 60 mm along it.
std::vector<double> wave_mm(const design::Design& design, std::size_t pour, std::size_t columns, double z_mm);

}  // namespace foreslice::picture
