// The colour of a bar as a function of doses, with its derivatives: what matching and fitting iterate on.
// Internal to the colour room.
#pragma once

#include <array>

#include "colour/pigment.h"

namespace foreslice::colour {

inline constexpr double model_thickness_mm = 25;

/// One band's measured reflectance and its slopes in K and S.
struct BandResponse {
    double reflectance, by_k, by_s;
};
/// The reflectance alone.
double bar_reflectance(double k, double s);
BandResponse band_response(double k, double s);

/// L*, a*, b* under D65 with their slopes in the reflectance of each band.
struct LabResponse {
    Lab lab;
    std::array<Spectrum, 3> by_reflectance;
};
LabResponse lab_response(const Spectrum& reflectance);

/// How many dE00 a small step in L*, a*, b* is near `at`: the metric's square root by columns, so that
/// |scale * step| is about the difference.
std::array<std::array<double, 3>, 3> de00_scale(const Lab& at);

}  // namespace foreslice::colour
