// Numbers as people write them.
#pragma once

#include <string>

namespace foreslice {

/// With up to `decimals` (0 to 17) places after the point, no trailing zeros, no "-0"; for values up to 1e40.
std::string rounded_number(double value, int decimals);

}  // namespace foreslice
