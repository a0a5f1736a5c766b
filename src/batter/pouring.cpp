#include "batter/pouring.h"

#include <cmath>
#include <numbers>

#include "batter/rheology.h"

namespace foreslice::batter {
namespace {

constexpr double jug_speed_m_per_s = 0.1;  // of the stream as it leaves the jug; a choice
constexpr double bearing_number = 14;      // of a rough sphere: 2 / 0.143
constexpr double pouring_rate_per_s = 10;  // shear rate

}  // namespace

Plunge plunge_of(double viscosity_pa_s, double yield_stress_pa, double density_kg_per_m3, double height_mm,
                 double rate_ml_per_s) {
    const double pi = std::numbers::pi;
    const double flow_m3_per_s = 1e-6 * rate_ml_per_s;
    const double speed =
        std::sqrt(jug_speed_m_per_s * jug_speed_m_per_s + 2 * gravity_m_per_s2 * 1e-3 * height_mm);
    const double strength_pa = bearing_number * yield_stress_pa;
    Plunge plunge{1e3 * speed, 1e3 * std::sqrt(flow_m3_per_s / (pi * speed)), 0};
    if (density_kg_per_m3 * speed * speed < strength_pa) return plunge;
    const double momentum_n = density_kg_per_m3 * flow_m3_per_s * speed;
    plunge.depth_mm =
        1e3 * 3 * momentum_n / (8 * pi * viscosity_pa_s) * std::sqrt(density_kg_per_m3 / strength_pa);
    return plunge;
}

Plunge plunge_of(const Rheology& rheology, double density_kg_per_m3, double height_mm, double rate_ml_per_s) {
    Plunge plunge = plunge_of(plastic_viscosity_pa_s(rheology, pouring_rate_per_s), rheology.yield_stress_pa,
                              density_kg_per_m3, height_mm, rate_ml_per_s);
    if (plunge.depth_mm < 2 * plunge.stream_radius_mm) plunge.depth_mm = 0;
    return plunge;
}

double yield_length_mm(double yield_stress_pa, double density_kg_per_m3) {
    return 1e3 * yield_stress_pa / (density_kg_per_m3 * gravity_m_per_s2);
}

double rest_slope(double yield_stress_pa, double density_kg_per_m3, double depth_mm) {
    return yield_length_mm(yield_stress_pa, density_kg_per_m3) / depth_mm;
}

Mound mound_at_rest(double yield_stress_pa, double density_kg_per_m3, double area_per_side_mm2) {
    const double twice = 2 * yield_length_mm(yield_stress_pa, density_kg_per_m3);
    const double reach = std::pow(1.5 * area_per_side_mm2 / std::sqrt(twice), 2.0 / 3.0);
    return {reach, std::sqrt(twice * reach)};
}

}  // namespace foreslice::batter
