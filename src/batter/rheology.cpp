#include "batter/rheology.h"

#include <cmath>
#include <cstddef>
#include <numbers>

namespace foreslice::batter {
namespace {

struct Preset {
    Trace trace;
    std::string_view name;
    std::string_view behaves_like;
    Rheology rheology;
};

// A choice, not a measurement: no published flow curve of cold-process batter was found. Each row is placed
// so that foods whose flow curves are published, and which pour like a batter at that trace, bracket it at
// the rates a wire makes (U/d = 5 to 25 1/s), and so that the height of a trail that stays (see
// trail_height_that_stays_mm) grows from nothing to centimetres as the trade's words say. Bracketing foods,
// Herschel-Bulkley (yield stress Pa, K Pa s^n, n):
//   Dairy Sci. Technol. 89 (2009), Table VI, read: low-fat yoghurt with 3 % inulin at 4 C, day 1: 8.00, 2.06,
//     0.62; day 28: 27.84, 4.01, 0.66; with a polysaccharide-forming culture: 5.25, 1.22, 0.73 and 11.06,
//     0.94, 0.86.
//   Steffe 1996, Rheological Methods in Food Process Engineering, appendix, from memory: tomato ketchup 22.8
//     to 32, 18.7, 0.27; prepared mustard 34 to 78, 18.5, 0.39; mayonnaise K 6.4, n 0.55, yield 25 to 91 by
//     method; melted milk chocolate 1.2, 0.57, 0.57.
//   Handbook range, from memory: light cream 0.01 to 0.05 Pa s, vegetable oil 0.05 to 0.08 Pa s.
// All these materials thin with work and recover over minutes (thixotropy); that is left out.
constexpr std::array<Preset, all_traces.size()> presets{{
    {Trace::emulsion, "emulsion", "thin cream", {0.15, 1.0, 0.0}},
    {Trace::thin, "thin", "pouring custard", {0.6, 0.85, 0.5}},
    {Trace::light, "light", "drinking yoghurt", {1.2, 0.75, 3.0}},
    {Trace::medium, "medium", "stirred yoghurt", {3.0, 0.65, 10.0}},
    {Trace::thick, "thick", "old yoghurt or ketchup", {8.0, 0.5, 30.0}},
    {Trace::very_thick, "very thick", "mayonnaise or mustard", {18.0, 0.4, 70.0}},
}};

const Preset& preset_of(Trace trace) {
    return presets[static_cast<std::size_t>(trace)];
}

}  // namespace

Rheology rheology_of(Trace trace) {
    return preset_of(trace).rheology;
}

std::string_view name_of(Trace trace) {
    return preset_of(trace).name;
}

std::string_view behaves_like(Trace trace) {
    return preset_of(trace).behaves_like;
}

std::optional<Trace> trace_from_name(std::string_view name) {
    for (const Preset& preset : presets)
        if (preset.name == name) return preset.trace;
    return std::nullopt;
}

double shear_stress_pa(const Rheology& rheology, double shear_rate_per_s) {
    return rheology.yield_stress_pa +
           rheology.consistency_pa_sn * std::pow(shear_rate_per_s, rheology.flow_index);
}

double plastic_viscosity_pa_s(const Rheology& rheology, double shear_rate_per_s) {
    return rheology.consistency_pa_sn * std::pow(shear_rate_per_s, rheology.flow_index - 1);
}

double bingham_number(const Rheology& rheology, double wire_diameter_mm, double speed_mm_per_s) {
    const double rate_per_s = speed_mm_per_s / wire_diameter_mm;
    return rheology.yield_stress_pa / (plastic_viscosity_pa_s(rheology, rate_per_s) * rate_per_s);
}

double reynolds_number(const Rheology& rheology, double density_kg_per_m3, double wire_diameter_mm,
                       double speed_mm_per_s) {
    const double rate_per_s = speed_mm_per_s / wire_diameter_mm;
    const double viscosity_pa_s = shear_stress_pa(rheology, rate_per_s) / rate_per_s;
    return density_kg_per_m3 * speed_mm_per_s * wire_diameter_mm * 1e-6 / viscosity_pa_s;
}

double trail_height_that_stays_mm(const Rheology& rheology, double density_kg_per_m3) {
    // rho g A / e = tau_y; with rho = 1000 kg/m3 that is the trail rule of 3.61 Pa per mm of height.
    return 1000 * std::numbers::e * rheology.yield_stress_pa / (density_kg_per_m3 * gravity_m_per_s2);
}

}  // namespace foreslice::batter
