// The colour fields of the design file: doses, dispersions, the base. Not a public header.
#pragma once

#include "design/design.h"
#include "design/internal/json.h"

namespace foreslice::design {

ColourantDose read_dose(Fields& fields);
colour::Dispersion read_dispersion(Fields& fields);
Base read_base(Fields& fields);

/// Without the dispersion.
Json tree_of(const ColourantDose& dose);
Json tree_of(const colour::Dispersion& dispersion);
/// Empty for a base with nothing said.
Json tree_of(const Base& base);

}  // namespace foreslice::design
