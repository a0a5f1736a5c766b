// What a batter does when it is poured: how deep a stream plunges, how steep a heap stays, what its yield
// stress can hold up against gravity.
#pragma once

#include "batter/rheology.h"

namespace foreslice::batter {

/// A stream from a jug where it meets the surface, and how deep it goes. Lengths mm, speed mm/s.
struct Plunge {
    double speed_mm_per_s = 0;
    double stream_radius_mm = 0;
    double depth_mm = 0;  ///< below the surface, not yet capped by the floor; 0: it comes to rest on top
};

/// A stream of `rate_ml_per_s` that falls `height_mm` into batter of its own kind. Own model of three
/// formulas, from memory where a name is given: the fall speeds the stream up from 0.1 m/s; in the pool it
/// slows down like a round laminar jet of momentum flux J far from its source, u = 3 J / (8 pi mu x) (Landau
/// 1944; Schlichting 1933); it stops where its ram pressure is what a rough sphere's bearing strength would
/// be, 14 times the yield stress (from the critical yield number 0.143 of Beris et al. 1985). Above that
/// limit on arrival, or when it would go less deep than twice the stream's radius, it does not plunge. `mu`
/// is the plastic viscosity at 10 1/s, the upper end of what a pour makes. Height and rate > 0.
Plunge plunge_of(const Rheology& rheology, double density_kg_per_m3, double height_mm, double rate_ml_per_s);
/// The same for a given viscosity (Pa s) and yield stress (Pa), without the last rule; tau_y = 0 gives
/// infinity.
Plunge plunge_of(double viscosity_pa_s, double yield_stress_pa, double density_kg_per_m3, double height_mm,
                 double rate_ml_per_s);

/// tau_y / (rho g), mm: the length that all shapes at rest are measured in.
double yield_length_mm(double yield_stress_pa, double density_kg_per_m3);
/// Steepest surface (mm per mm) of a layer so deep (mm, > 0) that rests: tau_y / (rho g h) (Liu & Mei 1989,
/// J. Fluid Mech. 207, from memory).
double rest_slope(double yield_stress_pa, double density_kg_per_m3, double depth_mm);

/// A plane heap at rest on a floor, one half of it.
struct Mound {
    double reach_mm = 0;   ///< from its crest to its toe
    double height_mm = 0;  ///< of its crest
};
/// h^2 = 2 tau_y / (rho g) (toe - x), which holds V = 2/3 sqrt(2 tau_y / (rho g)) L^(3/2) a side (Liu & Mei
/// 1989, from memory). `area_per_side_mm2` and the yield stress must be > 0.
Mound mound_at_rest(double yield_stress_pa, double density_kg_per_m3, double area_per_side_mm2);

}  // namespace foreslice::batter
