// Two variants in words: what their designs do differently, and what that makes of their faces.
#pragma once

#include <string>
#include <vector>

#include "colour/pigment.h"
#include "design/design.h"
#include "picture/measures.h"
#include "studio/session/quantity.h"

namespace foreslice::studio {

/// "layers 2 and 4 swapped", "salt white: white 2 → 3.5 g/kg", in the order of the file. Names and notes of
/// the designs are left out.
std::vector<std::string> design_changes(const design::Design& before, const design::Design& after,
                                        const colour::ColourantLibrary* library);

/// "muddy share 6 % to 11 %", the largest changes first as people would notice them. Measures that hardly
/// change are left out; so are portions that one of the designs does not have.
std::vector<std::string> measure_changes(const design::Design& before, const picture::FaceMeasures& one,
                                         const design::Design& after, const picture::FaceMeasures& other,
                                         const ShownUnits& units);

/// "layers 2 and 4 swapped, white 2 → 3.5 g/kg; muddy share 6 % to 11 %": the first of both.
std::string in_one_line(const std::vector<std::string>& design, const std::vector<std::string>& measures,
                        std::size_t most_of_each);

}  // namespace foreslice::studio
