// The two-flux model of a scattering layer.
// P. Kubelka, F. Munk: Ein Beitrag zur Optik der Farbanstriche. Z. techn. Phys. 12, 1931.
// P. Kubelka: New contributions to the optics of intensely light-scattering materials, part I. JOSA 38, 1948.
// J. L. Saunderson: Calculation of the color of pigmented plastics. JOSA 32, 1942.
//
// Symbols: A = S + K, B = sqrt(K (K + 2 S)) = b S, p = A + B, r = S / p = R_inf, e = exp(-2 B X).
#include <algorithm>
#include <cmath>

#include "colour/pigment.h"

namespace foreslice::colour {
namespace {

/// What both finite formulas need, divided by B so that nothing cancels or divides by zero as K -> 0.
struct Layer {
    double r;               ///< reflectance of the infinitely thick layer
    double e;               ///< exp(-2 B X)
    double absorbed_per_b;  ///< (1 - e) / B, tends to 2 X
    double rest_per_b;      ///< (1 - r^2) / B = 2 / p
    double b;
};

Layer layer_of(double k, double s, double x) {
    const double b = std::sqrt(k * (k + 2 * s));
    const double p = s + k + b;
    const double y = 2 * b * x;
    return {s / p, std::exp(-y), y > 1e-12 ? -std::expm1(-y) / b : 2 * x, 2 / p, b};
}

}  // namespace

double reflectance_infinite(double k_over_s) {
    return 1 / (1 + k_over_s + std::sqrt(k_over_s * (k_over_s + 2)));
}

double k_over_s_of(double reflectance) {
    return (1 - reflectance) * (1 - reflectance) / (2 * reflectance);
}

double reflectance_finite(double absorption_per_mm, double scattering_per_mm, double thickness_mm,
                          double backing) {
    if (absorption_per_mm + scattering_per_mm <= 0 || thickness_mm <= 0) return backing;
    // R = (r (1 - e) + Rg (e - r^2)) / (1 - r^2 e - Rg r (1 - e)), numerator and denominator divided by B.
    const Layer l = layer_of(absorption_per_mm, scattering_per_mm, thickness_mm);
    const bool thin =
        l.e > 0.5;  // there e - r^2 would lose digits; written as (1 - r^2) - (1 - e) it does not
    const double seen_through = thin ? l.rest_per_b - l.absorbed_per_b : (l.e - l.r * l.r) / l.b;
    const double numerator = l.r * l.absorbed_per_b + backing * seen_through;
    const double denominator = l.rest_per_b + l.r * l.absorbed_per_b * (l.r - backing);
    return std::clamp(numerator / denominator, 0.0, 1.0);
}

double transmittance_finite(double absorption_per_mm, double scattering_per_mm, double thickness_mm) {
    if (absorption_per_mm + scattering_per_mm <= 0 || thickness_mm <= 0) return 1;
    const Layer l = layer_of(absorption_per_mm, scattering_per_mm, thickness_mm);
    return l.rest_per_b * std::exp(-l.b * thickness_mm) / (l.rest_per_b + l.r * l.r * l.absorbed_per_b);
}

double saunderson(double internal_reflectance, const Surface& surface) {
    const double body =
        (1 - surface.k1) * (1 - surface.k2) * internal_reflectance / (1 - surface.k2 * internal_reflectance);
    return surface.specular_included ? surface.k1 + body : body;
}

double saunderson_inverse(double measured_reflectance, const Surface& surface) {
    const double body = measured_reflectance - (surface.specular_included ? surface.k1 : 0);
    return body / ((1 - surface.k1) * (1 - surface.k2) + surface.k2 * body);
}

}  // namespace foreslice::colour
