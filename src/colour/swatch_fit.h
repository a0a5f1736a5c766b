// A colourant from photographed test bars of known doses: unit K and S that explain all of them at once.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "colour/colorimetry.h"
#include "colour/pigment.h"
#include "colour/pigment_shapes.h"

namespace foreslice::colour {

/// One test bar: what went in, what it looked like.
struct TestBar {
    double g_per_kg_oils = 0;        ///< of the colourant that is sought; > 0
    double white_g_per_kg_oils = 0;  ///< of the white
    LinearSrgb seen;                 ///< white-balanced, relative to a perfect white under D65
};

struct SwatchFit {
    Optics unit;               ///< smooth and not negative
    std::vector<double> de00;  ///< of each bar, model against photo
    double mean_de00 = 0, greatest_de00 = 0;
    bool scattering_known = false;  ///< bars with and without white (or of several doses) pin S down
};

/// K and S that explain every bar and otherwise bend as little as can be from a known pigment: from each of
/// the nearest `shapes`, and from none (K as the smoothest reflectances in the least-slope measure of Burns
/// 2017, LHTSS, one S for all wavelengths), least squares by Levenberg-Marquardt (MINPACK's lmder as ported
/// in Eigen); then the mean of these, each weighted by how well it does. `base` is the plain bar of the same
/// batter, `white` may be null when no bar holds any. Two bars, one without and one with white, are enough;
/// with one bar S is a guess. Takes some tenths of a second. Throws InputError for no bars, doses out of
/// range, or colours that are not finite.
SwatchFit fit_colourant(const Optics& base, const Colourant* white, const std::vector<TestBar>& bars,
                        std::span<const PigmentShape> shapes = pigment_shapes());

/// K of a plain bar that looks like `seen`, S as in `library_base` (a photograph of one bar cannot tell them
/// apart).
Optics fit_base(const Optics& library_base, const LinearSrgb& seen);

}  // namespace foreslice::colour
