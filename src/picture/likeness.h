// How alike two faces look from across the table: their colours averaged over a coarse grid.
#pragma once

#include <array>
#include <vector>

#include "colour/colorimetry.h"
#include "colour/pigment.h"
#include "picture/coverage.h"

namespace foreslice::picture {

inline constexpr std::size_t signature_columns = 10, signature_rows = 12;

/// Mean colour (of light, then as L*a*b*) of each field of a grid over the face, the top row first. Faces of
/// any size and shape can be compared.
using FaceSignature = std::array<colour::Lab, signature_columns * signature_rows>;

/// `colours`: of each material of the coverage.
FaceSignature signature_of(const Coverage& coverage, const std::vector<colour::PortionColour>& colours);

/// Mean CIEDE2000 between the fields of two faces. 0: the same; a few: cousins; 10 and more: another idea.
double unlike_de00(const FaceSignature& a, const FaceSignature& b);

/// Groups of faces that look alike. Faces are taken in the order given (the best first): each joins the
/// group of the first face before it that leads a group and is within `reach_de00`, or leads one of its own.
/// Where that would be more than `most_groups`, the reach grows until they are that many or a few less.
struct AlikeGroups {
    std::vector<std::vector<std::size_t>> groups;  ///< indices into the faces, each leader first
    double reach_de00 = 0;                         ///< that was used in the end
};
AlikeGroups grouped(const std::vector<const FaceSignature*>& faces, double reach_de00,
                    std::size_t most_groups);

}  // namespace foreslice::picture
