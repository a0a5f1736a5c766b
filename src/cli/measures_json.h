// The measures of a face as commands print them.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "design/design.h"
#include "picture/measures.h"

namespace foreslice::cli {

/// As many digits as mean anything.
double rounded(double value);
nlohmann::ordered_json json_of_measures(const picture::FaceMeasures& measures, const design::Design& design);

}  // namespace foreslice::cli
