// Three-by-three matrices for the linear steps between colour spaces. Internal to the colour room.
#pragma once

#include <array>

namespace foreslice::colour {

using Vector3 = std::array<double, 3>;
using Matrix3 = std::array<Vector3, 3>;  ///< rows

constexpr Vector3 operator*(const Matrix3& m, const Vector3& v) {
    return {m[0][0] * v[0] + m[0][1] * v[1] + m[0][2] * v[2],
            m[1][0] * v[0] + m[1][1] * v[1] + m[1][2] * v[2],
            m[2][0] * v[0] + m[2][1] * v[1] + m[2][2] * v[2]};
}

/// By cofactors; the matrix must be regular (all of ours are constants that are).
constexpr Matrix3 inverse(const Matrix3& m) {
    const auto minor = [&](int r0, int r1, int c0, int c1) {
        return m[r0][c0] * m[r1][c1] - m[r0][c1] * m[r1][c0];
    };
    const double c00 = minor(1, 2, 1, 2), c01 = minor(1, 2, 2, 0), c02 = minor(1, 2, 0, 1);
    const double d = 1 / (m[0][0] * c00 + m[0][1] * c01 + m[0][2] * c02);
    return {{{c00 * d, minor(2, 0, 1, 2) * d, minor(0, 1, 1, 2) * d},
             {c01 * d, minor(2, 0, 2, 0) * d, minor(0, 1, 2, 0) * d},
             {c02 * d, minor(2, 0, 0, 1) * d, minor(0, 1, 0, 1) * d}}};
}

}  // namespace foreslice::colour
