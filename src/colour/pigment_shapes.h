// What absorption and scattering of real pigments look like over the spectrum: the shapes among which fitting
// seeks kin of a photographed colourant. Strengths mean nothing here.
#pragma once

#include <span>
#include <string_view>

#include "colour/spectrum.h"

namespace foreslice::colour {

struct PigmentShape {
    std::string_view name;  ///< with its source: "artist paint PB29 ultramarine blue", "set 2, red oxide"
    Spectrum absorption, scattering;  ///< relative to the scattering of the set's titanium white; above zero
};

/// Measured pigments of two open sets of acrylic paints: 15 of the Artist Paint Spectral Database (R. S.
/// Berns and co-workers, Rochester Institute of Technology; from a copy under the MIT licence) and 12 from a
/// masstone and a weighed tint each ("set 2": the public repository miciwan/PaintMixing, MIT licence; K and S
/// by the two-swatch closed form, below 420 and above 720 nm held).
std::span<const PigmentShape> pigment_shapes();

}  // namespace foreslice::colour
