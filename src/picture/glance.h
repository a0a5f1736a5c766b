// What a coverage tells at a glance: cheap enough for hundreds of faces. measures.h has the careful figures.
#pragma once

#include <vector>

#include "colour/pigment.h"
#include "picture/coverage.h"
#include "picture/likeness.h"

namespace foreslice::picture {

struct Glance {
    double contrast_de00 = 0;           ///< where two materials meet, mean over the length; 0: they never do
    double muddy_percent = 0;           ///< of the face: mixed pixels among nothing but mixed pixels, so that
                                        ///< an edge between two bands does not count
    std::vector<double> face_percent;   ///< a material: of the face
    std::vector<double> plain_percent;  ///< a material: of the face, where it holds most of a pixel and is
                                        ///< seen as itself
    FaceSignature signature{};
};

/// `contrast_de00`: [a * materials + b], as contrasts_of() makes it.
Glance glance_at(const Coverage& coverage, const std::vector<colour::PortionColour>& colours,
                 const std::vector<double>& contrast_de00);
/// CIEDE2000 between every two of some colours, row by row.
std::vector<double> contrasts_of(const std::vector<colour::PortionColour>& colours);

}  // namespace foreslice::picture
