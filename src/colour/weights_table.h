// The generated table of tristimulus weights; used by colorimetry.cpp only.
#pragma once

#include <array>

#include "colour/spectrum.h"

namespace foreslice::colour {

struct Weights {
    double x, y, z;
};

extern const std::array<Weights, band_count> weights_d65;
extern const std::array<Weights, band_count> weights_d50;
extern const std::array<Weights, band_count> weights_a;
extern const std::array<Weights, band_count> weights_led_b3;

}  // namespace foreslice::colour
