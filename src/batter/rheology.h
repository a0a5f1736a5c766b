// How thick a batter is: the Herschel-Bulkley law and the trade's words for trace.
#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace foreslice::batter {

inline constexpr double gravity_m_per_s2 = 9.80665;  ///< standard gravity (CGPM 1901)

/// Herschel-Bulkley fluid: shear stress = yield_stress + consistency * rate^index once it flows, rigid below.
/// Newtonian when yield_stress_pa = 0 and flow_index = 1; Bingham when flow_index = 1.
struct Rheology {
    double consistency_pa_sn = 1.0;  ///< K, Pa s^n, > 0
    double flow_index = 1.0;         ///< n, dimensionless, 0.1 to 1.5
    double yield_stress_pa = 0.0;    ///< tau_y, Pa, >= 0

    friend bool operator==(const Rheology&, const Rheology&) = default;
    bool newtonian() const { return yield_stress_pa == 0 && flow_index == 1; }
};

enum class Trace { emulsion, thin, light, medium, thick, very_thick };
inline constexpr std::array all_traces{Trace::emulsion, Trace::thin,  Trace::light,
                                       Trace::medium,   Trace::thick, Trace::very_thick};

/// The preset for a trace. A choice bracketed by the rheology of foods that pour alike, not a measurement of
/// soap batter: no published flow curve of cold-process batter was found. Figures and foods: rheology.cpp.
Rheology rheology_of(Trace trace);
/// "emulsion", "thin", "light", "medium", "thick", "very thick".
std::string_view name_of(Trace trace);
/// The food that the preset behaves like, e.g. "stirred yoghurt".
std::string_view behaves_like(Trace trace);
std::optional<Trace> trace_from_name(std::string_view name);

/// Shear stress (Pa) at a shear rate (1/s, > 0) once flowing.
double shear_stress_pa(const Rheology& rheology, double shear_rate_per_s);
/// K rate^(n-1): the viscous part of the effective viscosity (Pa s) at a shear rate (1/s, > 0).
double plastic_viscosity_pa_s(const Rheology& rheology, double shear_rate_per_s);
/// tau_y d / (mu U) with mu = plastic viscosity at the working rate U/d. d in mm, U in mm/s, both > 0.
double bingham_number(const Rheology& rheology, double wire_diameter_mm, double speed_mm_per_s);
/// rho U d / mu_effective (yield stress included) at the working rate; creeping flow wants it below about 1.
double reynolds_number(const Rheology& rheology, double density_kg_per_m3, double wire_diameter_mm,
                       double speed_mm_per_s);
/// Height (mm) of a surface trail that stays: a ripple of amplitude A holds when tau_y >= rho g A / e
/// (half-space solution of a sinusoidal load; its greatest shear stress is load/e at depth 1/k).
double trail_height_that_stays_mm(const Rheology& rheology, double density_kg_per_m3);

}  // namespace foreslice::batter
