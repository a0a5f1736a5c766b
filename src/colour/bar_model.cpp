#include "colour/bar_model.h"

#include <algorithm>
#include <cmath>

namespace foreslice::colour {
namespace {

/// d f / d t of the Lab function at t = X / Xn.
double lab_slope(double t) {
    constexpr double epsilon = 216.0 / 24389.0, kappa = 24389.0 / 27.0;
    return t > epsilon ? 1 / (3 * std::cbrt(t * t)) : kappa / 116;
}

/// XYZ of a reflectance that is one in a single band.
const std::array<Xyz, band_count>& band_weights() {
    static const std::array<Xyz, band_count> weights = [] {
        std::array<Xyz, band_count> all;
        for (std::size_t i = 0; i < band_count; ++i) {
            Spectrum one{};
            one[i] = 1;
            all[i] = xyz_of(one, Illuminant::d65);
        }
        return all;
    }();
    return weights;
}

}  // namespace

double bar_reflectance(double k, double s) {
    static const Surface surface;
    return saunderson(reflectance_finite(k, s, model_thickness_mm, bar_backing_reflectance), surface);
}

BandResponse band_response(double k, double s) {
    const double r = bar_reflectance(k, s);
    const double dk = 1e-6 * (k + 1e-4), ds = 1e-6 * (s + 1e-4);
    return {r, (bar_reflectance(k + dk, s) - r) / dk, (bar_reflectance(k, s + ds) - r) / ds};
}

LabResponse lab_response(const Spectrum& reflectance) {
    static const Xyz white = white_of(Illuminant::d65);
    const auto& weights = band_weights();
    const Xyz xyz = xyz_of(reflectance, Illuminant::d65);
    LabResponse out{lab_of(xyz, white), {}};
    const double fx = lab_slope(xyz.x / white.x) / white.x, fy = lab_slope(xyz.y / white.y) / white.y,
                 fz = lab_slope(xyz.z / white.z) / white.z;
    for (std::size_t i = 0; i < band_count; ++i) {
        const double x = fx * weights[i].x, y = fy * weights[i].y, z = fz * weights[i].z;
        out.by_reflectance[0][i] = 116 * y;
        out.by_reflectance[1][i] = 500 * (x - y);
        out.by_reflectance[2][i] = 200 * (y - z);
    }
    return out;
}

std::array<std::array<double, 3>, 3> de00_scale(const Lab& at) {
    // dE00^2 is a quadratic form near `at`: six differences give it, a Cholesky step its root.
    constexpr double h = 0.05;
    const auto d2 = [&](double l, double a, double b) {
        const double d = ciede2000(at, {at.l + h * l, at.a + h * a, at.b + h * b}) / h;
        return d * d;
    };
    const double ll = d2(1, 0, 0), aa = d2(0, 1, 0), bb = d2(0, 0, 1);
    const double la = (d2(1, 1, 0) - ll - aa) / 2, lb = (d2(1, 0, 1) - ll - bb) / 2,
                 ab = (d2(0, 1, 1) - aa - bb) / 2;
    std::array<std::array<double, 3>, 3> u{};
    u[0][0] = std::sqrt(std::max(ll, 1e-6));
    u[0][1] = la / u[0][0];
    u[0][2] = lb / u[0][0];
    u[1][1] = std::sqrt(std::max(aa - u[0][1] * u[0][1], 1e-6));
    u[1][2] = (ab - u[0][1] * u[0][2]) / u[1][1];
    u[2][2] = std::sqrt(std::max(bb - u[0][2] * u[0][2] - u[1][2] * u[1][2], 1e-6));
    return u;
}

}  // namespace foreslice::colour
