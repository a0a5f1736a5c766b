// The generated tables of tristimulus weights; used by colorimetry.cpp only.
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
extern const std::array<Weights, band_count> weights_fl11;

extern const std::array<Weights, band_count> weights_d65_10deg;
extern const std::array<Weights, band_count> weights_d50_10deg;
extern const std::array<Weights, band_count> weights_a_10deg;
extern const std::array<Weights, band_count> weights_led_b3_10deg;
extern const std::array<Weights, band_count> weights_fl11_10deg;

}  // namespace foreslice::colour
