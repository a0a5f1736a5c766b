// Interpolation of displacements that are stored as pairs (dx, dy) on a lattice.
#pragma once

#include <array>
#include <cstddef>

#include "foundation/vec2.h"

namespace foreslice::flow {

/// Lagrange weights of the cubic through four equally spaced points at 0..3, at t.
inline std::array<float, 4> cubic_weights(float t) {
    const float a = t, b = t - 1, c = t - 2, d = t - 3;
    constexpr float sixth = 1.0F / 6, half = 0.5F;
    return {-b * c * d * sixth, a * c * d * half, -a * b * d * half, a * b * c * sixth};
}

/// The bicubic through 4 x 4 pairs, rows `row` pairs apart and columns `column` pairs apart, at (s, t) in
/// steps from the first.
inline Vec2 bicubic(const float* pairs, std::ptrdiff_t row, std::ptrdiff_t column, double s, double t) {
    const auto wx = cubic_weights(static_cast<float>(s)), wy = cubic_weights(static_cast<float>(t));
    float sum_x = 0, sum_y = 0;
    for (std::size_t q = 0; q < 4; ++q, pairs += 2 * row) {
        const float* b = pairs + 2 * column;
        const float* c = b + 2 * column;
        const float* d = c + 2 * column;
        sum_x += wy[q] * (wx[0] * pairs[0] + wx[1] * b[0] + wx[2] * c[0] + wx[3] * d[0]);
        sum_y += wy[q] * (wx[0] * pairs[1] + wx[1] * b[1] + wx[2] * c[1] + wx[3] * d[1]);
    }
    return {static_cast<double>(sum_x), static_cast<double>(sum_y)};
}

}  // namespace foreslice::flow
