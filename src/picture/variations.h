// One design with one or two of its fields running through values: faces and measures side by side.
#pragma once

#include <string>
#include <vector>

#include "design/design.h"
#include "design/field_paths.h"
#include "foundation/progress.h"
#include "picture/face.h"
#include "picture/measures.h"

namespace foreslice::picture {

inline constexpr std::size_t most_variations = 144;

struct Variation {
    std::vector<std::string> values;  ///< one an axis
    design::Design design;
    FaceMeasures measures;
    flow::SolveReport solve;
};

/// The first axis runs fastest. Designs only; throws InputError for a field or value that cannot be (naming
/// the value), for no axis or more than two, and for more than most_variations.
std::vector<Variation> variations_of(const design::Design& design, const std::vector<design::FieldAxis>& axes,
                                     const colour::ColourantLibrary& library);

/// Measures all of them. Throws as FaceMaker::measure() does.
void measure_all(FaceMaker& maker, std::vector<Variation>& variations, const FaceRequest& request,
                 Progress& progress);

/// A labelled grid of the faces: one axis in rows of cards, two as columns and rows.
Image variations_sheet(FaceMaker& maker, const design::Design& design,
                       const std::vector<design::FieldAxis>& axes, const std::vector<Variation>& variations,
                       const FaceRequest& request, Progress& progress);

/// One line a face, comma-separated (RFC 4180): the values, then the measures.
std::string variations_csv(const design::Design& design, const std::vector<design::FieldAxis>& axes,
                           const std::vector<Variation>& variations);

}  // namespace foreslice::picture
