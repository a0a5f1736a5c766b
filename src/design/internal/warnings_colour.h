// Risks that come from powders, base and colours. Not a public header.
#pragma once

#include <vector>

#include "design/validation.h"

namespace foreslice::design {

/// Added to `found`, portion by portion, then what concerns the whole design.
void warn_of_colours(const Design& design, const colour::ColourantLibrary& library,
                     std::vector<Warning>& found);

}  // namespace foreslice::design
