// Pictures that were looked at and kept; a new rendering must look the same to the eye.
#pragma once

#include <string>

#include "picture/image.h"

namespace foreslice::testing {

/// Compares with tests/data/golden/NAME.png by the mean CIEDE2000 over 4 x 4 px blocks and the worst block.
/// When they differ, the new picture is left in the temporary folder and the message says where.
void check_golden(const picture::Image& image, const std::string& name, double mean_limit,
                  double worst_limit);

}  // namespace foreslice::testing
