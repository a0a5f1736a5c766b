#include "colour/upsampling.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace foreslice::colour {
namespace {

constexpr Eigen::Index columns = static_cast<Eigen::Index>(band_count);
constexpr Eigen::Index unknowns = columns + 3;  // z and three Lagrange multipliers
using BandMatrix = Eigen::Matrix<double, 3, columns>;
using Unknowns = Eigen::Matrix<double, unknowns, 1>;
using System = Eigen::Matrix<double, unknowns, unknowns>;

/// Linear sRGB of a reflectance that is one in a single band, as columns: rgb = matrix * reflectance.
BandMatrix rgb_from_reflectance() {
    BandMatrix matrix;
    const Xyz white = white_of(Illuminant::d65);
    for (Eigen::Index i = 0; i < columns; ++i) {
        Spectrum one_band{};
        one_band[static_cast<std::size_t>(i)] = 1;
        const LinearSrgb rgb = linear_srgb_of(xyz_of(one_band, Illuminant::d65), white);
        matrix.col(i) << rgb.r, rgb.g, rgb.b;
    }
    return matrix;
}

/// The Hessian of the sum of (z[i+1] - z[i])^2, so that its gradient is this matrix times z.
Eigen::Matrix<double, columns, columns> slope_matrix() {
    Eigen::Matrix<double, columns, columns> d = Eigen::Matrix<double, columns, columns>::Zero();
    for (Eigen::Index i = 0; i + 1 < columns; ++i) {
        d(i, i) += 2;
        d(i + 1, i + 1) += 2;
        d(i, i + 1) -= 2;
        d(i + 1, i) -= 2;
    }
    return d;
}

struct Problem {
    const BandMatrix& matrix;
    const Eigen::Matrix<double, columns, columns>& slopes;
    Eigen::Vector3d aim;

    /// First-order conditions of the constrained minimum; all zero at the answer.
    Unknowns residual(const Unknowns& u) const {
        const auto z = u.head<columns>().array();
        const Eigen::Array<double, columns, 1> tanh_z = z.tanh();
        const Eigen::Array<double, columns, 1> slope_of_r = (1 - tanh_z.square()) / 2;
        Unknowns out;
        out.head<columns>() = slopes * u.head<columns>();
        out.head<columns>().array() += slope_of_r * (matrix.transpose() * u.tail<3>()).array();
        out.tail<3>() = matrix * ((tanh_z + 1) / 2).matrix() - aim;
        return out;
    }

    System jacobian(const Unknowns& u) const {
        const Eigen::Array<double, columns, 1> tanh_z = u.head<columns>().array().tanh();
        const Eigen::Array<double, columns, 1> slope_of_r = (1 - tanh_z.square()) / 2;
        const Eigen::Array<double, columns, 1> pull = (matrix.transpose() * u.tail<3>()).array();
        System j = System::Zero();
        j.topLeftCorner<columns, columns>() = slopes;
        j.topLeftCorner<columns, columns>().diagonal().array() -= 2 * slope_of_r * tanh_z * pull;
        const BandMatrix scaled = matrix * slope_of_r.matrix().asDiagonal();
        j.bottomLeftCorner<3, columns>() = scaled;
        j.topRightCorner<columns, 3>() = scaled.transpose();
        return j;
    }
};

/// Newton's method with the step halved as long as it does not bring the residual down.
Unknowns solved(const Problem& problem) {
    Unknowns u = Unknowns::Zero();
    Unknowns residual = problem.residual(u);
    for (int round = 0; round < 200 && residual.norm() > 1e-12; ++round) {
        const Unknowns step = problem.jacobian(u).partialPivLu().solve(residual);
        Unknowns next = u - step, next_residual = problem.residual(next);
        for (double share = 0.5; share > 1e-4 && !(next_residual.norm() < residual.norm()); share /= 2) {
            next = u - share * step;
            next_residual = problem.residual(next);
        }
        if (!(next_residual.norm() < residual.norm())) break;  // as good as round-off allows
        u = next;
        residual = next_residual;
    }
    return u;
}

}  // namespace

Spectrum reflectance_from(const LinearSrgb& rgb) {
    static const BandMatrix matrix = rgb_from_reflectance();
    static const Eigen::Matrix<double, columns, columns> slopes = slope_matrix();
    const auto inside = [](double v) { return std::clamp(v, 1e-4, 1 - 1e-4); };
    const Problem problem{matrix, slopes, {inside(rgb.r), inside(rgb.g), inside(rgb.b)}};
    const Unknowns u = solved(problem);
    Spectrum reflectance{};
    for (Eigen::Index i = 0; i < columns; ++i)
        reflectance[static_cast<std::size_t>(i)] = (std::tanh(u[i]) + 1) / 2;
    return reflectance;
}

}  // namespace foreslice::colour
