// Finds doses for an aim colour by a plain pattern search; a tool for choosing the demo's doses.
#pragma once

#include <string>
#include <vector>

#include "colour/pigment.h"

namespace foreslice::testing {

struct FittedDoses {
    std::vector<colour::Dose> doses;
    colour::PortionColour colour;
    double de00 = 0;  ///< to the aim
};

/// Doses of the named colourants, each from 0 to its usual most, that bring the bar nearest to `aim`; a
/// hundredth of a dE00 per unit of relative dose keeps needless powder out. `fixed` doses are given, not
/// sought. Throws std::runtime_error for unknown ids.
FittedDoses fit_doses(const colour::ColourantLibrary& library, const std::vector<std::string>& ids,
                      const std::vector<colour::Dose>& fixed, colour::EncodedSrgb aim);

}  // namespace foreslice::testing
