// The lamps under which commands show a colour beside daylight.
#pragma once

#include <array>

#include "colour/colorimetry.h"

namespace foreslice::cli {

inline constexpr std::array lamps{colour::Illuminant::d50, colour::Illuminant::a, colour::Illuminant::led_b3,
                                  colour::Illuminant::fl11};

}  // namespace foreslice::cli
