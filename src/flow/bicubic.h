// Interpolation of displacements that are stored as pairs (dx, dy) on a lattice.
#pragma once

#include <array>
#include <cstddef>

#include "foundation/vec2.h"

namespace foreslice::flow {

#if defined(__GNUC__)

namespace lanes {
typedef float Two __attribute__((vector_size(8), aligned(4), may_alias));
typedef float Four __attribute__((vector_size(16)));
}  // namespace lanes

/// The bicubic (Lagrange) through 4 x 4 pairs, rows `row` pairs apart and columns `column` pairs apart, at
/// (s, t) in steps from the first. Spelt out in lanes: maps are asked for millions of points.
inline Vec2 bicubic(const float* pairs, std::ptrdiff_t row, std::ptrdiff_t column, double s, double t) {
    using lanes::Four;
    using lanes::Two;
    // Weights of the cubic through four equally spaced points at 0..3, across and up in two lanes.
    const Four a{static_cast<float>(s), static_cast<float>(t), 0, 0};
    const Four b = a - 1, c = a - 2, d = a - 3, ab = a * b, cd = c * d;
    constexpr float sixth = 1.0F / 6, half = 0.5F;
    const Four w0 = b * cd * -sixth, w1 = a * cd * half, w2 = ab * d * -half, w3 = ab * c * sixth;
    const Four left = __builtin_shufflevector(w0, w1, 0, 0, 4, 4),
               right = __builtin_shufflevector(w2, w3, 0, 0, 4, 4);
    const std::ptrdiff_t step = 2 * column;
    const auto two_from = [step](const float* at) {
        return __builtin_shufflevector(*reinterpret_cast<const Two*>(at),
                                       *reinterpret_cast<const Two*>(at + step), 0, 1, 2, 3);
    };
    const float *low = pairs, *mid = low + 2 * row, *high = mid + 2 * row, *top = high + 2 * row;
    const std::ptrdiff_t far = 2 * step;
    const Four first =
        (w0[1] * two_from(low) + w1[1] * two_from(mid)) + (w2[1] * two_from(high) + w3[1] * two_from(top));
    const Four last = (w0[1] * two_from(low + far) + w1[1] * two_from(mid + far)) +
                      (w2[1] * two_from(high + far) + w3[1] * two_from(top + far));
    const Four both = first * left + last * right;
    return {static_cast<double>(both[0] + both[2]), static_cast<double>(both[1] + both[3])};
}

#else

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

#endif

}  // namespace foreslice::flow
