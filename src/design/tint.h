// From a portion's doses, the base and the age to what the portion looks like.
#pragma once

#include <vector>

#include "colour/ageing.h"
#include "colour/pigment.h"
#include "design/design.h"
#include "design/limits.h"

namespace foreslice::design {

colour::BarState bar_state_of(const Design& design);
/// kg of batter that a kg of this design's oils becomes.
double batter_kg_per_kg_oils(const Design& design);

/// What an amount in this unit may be.
Range range_of(colour::DoseUnit unit);
/// Grams per kg of oils of a dose in whatever unit it is stated; 0 for a stated dose of a colourant that the
/// library does not have.
double g_per_kg_oils_of(const ColourantDose& dose, const Design& design,
                        const colour::ColourantLibrary& library);
/// The portion's doses, colourants first, the white last; no zero doses, nothing the library does not have.
std::vector<colour::Dose> doses_of(const Portion& portion, const Design& design,
                                   const colour::ColourantLibrary& library);

/// At the design's age, in a bar of the design's thickness.
colour::PortionColour colour_of(const Portion& portion, const Design& design,
                                const colour::ColourantLibrary& library);
/// The same with what may come out lightest and darkest.
colour::ColourBand colour_band_of(const Portion& portion, const Design& design,
                                  const colour::ColourantLibrary& library);

/// 0..1: how much the top of this portion glitters. Effect pigments show their lustre on the top only: cut
/// faces of an opaque bar bury the plates (common practice, no source). Saturates with dose.
double top_sparkle_of(const Portion& portion, const Design& design, const colour::ColourantLibrary& library);

}  // namespace foreslice::design
