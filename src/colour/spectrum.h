// Spectra on the room's one wavelength grid.
#pragma once

#include <array>
#include <cstddef>

namespace foreslice::colour {

inline constexpr std::size_t band_count = 36;
inline constexpr int first_lambda_nm = 380;
inline constexpr int lambda_step_nm = 10;  // 380, 390 ... 730 nm

/// One value a band; what it measures (reflectance 0..1, K or S per mm ...) stands in the variable's name.
using Spectrum = std::array<double, band_count>;

inline constexpr int lambda_nm(std::size_t band) {
    return first_lambda_nm + lambda_step_nm * static_cast<int>(band);
}

}  // namespace foreslice::colour
