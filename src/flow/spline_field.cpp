#include "flow/spline_field.h"

#include <algorithm>
#include <array>

namespace foreslice::flow {
namespace {

// Solves (c[i-1] + 4 c[i] + c[i+1]) / 6 = f[i] in place along lines of n+1 values with the given stride,
// with c[-1] = c[1] at the start and either the same mirror or c[n] = f[n] (zero curvature) at the end. Lines
// that lie `apart` go side by side, since along a line each value waits for the one before.
void prefilter(double* f, int n, std::ptrdiff_t stride, int lines, std::ptrdiff_t apart, bool natural_end,
               std::vector<double>& pivots) {
    pivots.resize(static_cast<std::size_t>(n) + 1);
    const auto at = [&](int i, int line) -> double& { return f[i * stride + line * apart]; };
    double pivot = 0.5;  // upper / diagonal of row 0: 4 c0 + 2 c1 = 6 f0
    pivots[0] = pivot;
    for (int line = 0; line < lines; ++line) at(0, line) *= 1.5;
    for (int i = 1; i < n; ++i) {
        pivot = 1 / (4 - pivot);
        pivots[static_cast<std::size_t>(i)] = pivot;
        for (int line = 0; line < lines; ++line) at(i, line) = (6 * at(i, line) - at(i - 1, line)) * pivot;
    }
    if (!natural_end) {
        const double last = 1 / (4 - 2 * pivot);
        for (int line = 0; line < lines; ++line) at(n, line) = (6 * at(n, line) - 2 * at(n - 1, line)) * last;
    }
    for (int i = n - 1; i >= 0; --i) {
        const double share = pivots[static_cast<std::size_t>(i)];
        for (int line = 0; line < lines; ++line) at(i, line) -= share * at(i + 1, line);
    }
}

struct Weights {
    std::array<double, 4> value, slope;
};

inline Weights weights(double t) {
    const double t2 = t * t, t3 = t2 * t, r = 1 - t;
    return {{r * r * r / 6, (3 * t3 - 6 * t2 + 4) / 6, (-3 * t3 + 3 * t2 + 3 * t + 1) / 6, t3 / 6},
            {-r * r / 2, (3 * t2 - 4 * t) / 2, (-3 * t2 + 2 * t + 1) / 2, t2 / 2}};
}

}  // namespace

SplineField::SplineField(const Grid& grid, const std::vector<double>& psi, double scale)
    : nx_(grid.nx), ny_(grid.ny), stride_(grid.nx + 3), per_hx_(1 / grid.hx), per_hy_(1 / grid.hy) {
    std::vector<double> c(psi), pivots;
    for (double& value : c) value *= scale;
    constexpr int together = 8;
    for (int j = 0; j <= ny_; j += together)
        prefilter(c.data() + grid.node(0, j), nx_, 1, std::min(together, ny_ + 1 - j), nx_ + 1, false,
                  pivots);
    prefilter(c.data(), ny_, nx_ + 1, nx_ + 1, 1, true, pivots);
    coefficients_.resize(static_cast<std::size_t>(stride_) * (ny_ + 3));
    for (int j = 0; j <= ny_; ++j) {
        const double* from = c.data() + grid.node(0, j);
        float* to = coefficients_.data() + static_cast<std::size_t>(j + 1) * stride_;
        for (int i = 0; i <= nx_; ++i) to[i + 1] = static_cast<float>(from[i]);
        to[0] = to[2];
        to[nx_ + 2] = to[nx_];
    }
    const auto row = [&](int j) { return coefficients_.data() + static_cast<std::size_t>(j + 1) * stride_; };
    std::copy_n(row(1), stride_, row(-1));
    for (int i = 0; i < stride_; ++i) row(ny_ + 1)[i] = 2 * row(ny_)[i] - row(ny_ - 1)[i];
}

double SplineField::value(Vec2 point) const {
    if (zero()) return 0;
    const double fx = std::clamp(point.x * per_hx_, 0.0, static_cast<double>(nx_));
    const double fy = std::clamp(point.y * per_hy_, 0.0, static_cast<double>(ny_));
    const int i = std::min(static_cast<int>(fx), nx_ - 1), j = std::min(static_cast<int>(fy), ny_ - 1);
    const Weights wx = weights(fx - i), wy = weights(fy - j);
    const float* c = coefficients_.data() + static_cast<std::size_t>(j) * stride_ + i;
    double sum = 0;
    for (std::size_t q = 0; q < 4; ++q, c += stride_)
        for (std::size_t p = 0; p < 4; ++p) sum += wy.value[q] * wx.value[p] * static_cast<double>(c[p]);
    return sum;
}

Vec2 SplineField::gradient(Vec2 point) const {
    if (zero()) return {};
    const double fx = std::clamp(point.x * per_hx_, 0.0, static_cast<double>(nx_));
    const double fy = std::clamp(point.y * per_hy_, 0.0, static_cast<double>(ny_));
    const int i = std::min(static_cast<int>(fx), nx_ - 1), j = std::min(static_cast<int>(fy), ny_ - 1);
    const Weights wx = weights(fx - i), wy = weights(fy - j);
    const float* c = coefficients_.data() + static_cast<std::size_t>(j) * stride_ + i;
    double dx = 0, dy = 0;
    for (std::size_t q = 0; q < 4; ++q, c += stride_) {
        const double c0 = c[0], c1 = c[1], c2 = c[2], c3 = c[3];
        dx += wy.value[q] * (wx.slope[0] * c0 + wx.slope[1] * c1 + wx.slope[2] * c2 + wx.slope[3] * c3);
        dy += wy.slope[q] * (wx.value[0] * c0 + wx.value[1] * c1 + wx.value[2] * c2 + wx.value[3] * c3);
    }
    return {dx * per_hx_, dy * per_hy_};
}

SplineField::Jet SplineField::jet(Vec2 point) const {
    Jet out;
    if (zero()) return out;
    const double fx = std::clamp(point.x * per_hx_, 0.0, static_cast<double>(nx_));
    const double fy = std::clamp(point.y * per_hy_, 0.0, static_cast<double>(ny_));
    const int i = std::min(static_cast<int>(fx), nx_ - 1), j = std::min(static_cast<int>(fy), ny_ - 1);
    const double tx = fx - i, ty = fy - j;
    const Weights wx = weights(tx), wy = weights(ty);
    const std::array<double, 4> bend_x{1 - tx, 3 * tx - 2, 1 - 3 * tx, tx},
        bend_y{1 - ty, 3 * ty - 2, 1 - 3 * ty, ty};
    const float* c = coefficients_.data() + static_cast<std::size_t>(j) * stride_ + i;
    for (std::size_t q = 0; q < 4; ++q, c += stride_) {
        double value = 0, slope = 0, bend = 0;
        for (std::size_t p = 0; p < 4; ++p) {
            const double coefficient = c[p];
            value += wx.value[p] * coefficient;
            slope += wx.slope[p] * coefficient;
            bend += bend_x[p] * coefficient;
        }
        out.value += wy.value[q] * value;
        out.x += wy.value[q] * slope;
        out.y += wy.slope[q] * value;
        out.xx += wy.value[q] * bend;
        out.xy += wy.slope[q] * slope;
        out.yy += bend_y[q] * value;
    }
    out.x *= per_hx_;
    out.y *= per_hy_;
    out.xx *= per_hx_ * per_hx_;
    out.xy *= per_hx_ * per_hy_;
    out.yy *= per_hy_ * per_hy_;
    return out;
}

}  // namespace foreslice::flow
