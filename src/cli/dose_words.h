// Doses as they are typed on the command line.
#pragma once

#include <string>
#include <string_view>

#include "colour/dose_units.h"
#include "design/design.h"

namespace foreslice::cli {

/// "g/kg" (of oils), "g/kg-batter", "%", "tsp/lb", "drops/kg".
std::string_view typed_word_of(colour::DoseUnit unit);
/// "g per kg of oils", "level tsp per lb of oils" ...
std::string_view words_of(colour::DoseUnit unit);

/// "ultramarine-blue=1tsp/lb"; a bare number is g per kg of oils. `dispersion` counts for drops. Throws
/// InputError saying what is allowed; the library is not asked.
design::ColourantDose dose_from(const std::string& text, const colour::Dispersion& dispersion);
/// "1:3,oil"; "1:1" is in oil.
colour::Dispersion dispersion_from(const std::string& text);

}  // namespace foreslice::cli
