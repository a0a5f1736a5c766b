// What a hand does to the layers as they lie in the section, each as a pure function from one document to the
// next. Indices are checked: an index that is not there returns the design unchanged.
#pragma once

#include <cstddef>
#include <vector>

#include "design/design.h"

namespace foreslice::studio {

inline constexpr double least_layer_mm = 0.5;  ///< that dragging leaves of a layer, as if it lay level

/// Shares of the portions and parts of their pours such that the pours take areas in proportion to
/// `areas_mm2` (one a pour, each > 0).
design::Design with_areas(design::Design design, const std::vector<double>& areas_mm2);
/// Moves the edge between two pours up by `up_mm`: the lower one thickens by what the upper one loses, or the
/// other way round; at least `least_layer_mm` of each stays.
design::Design with_edge_moved(design::Design design, std::size_t lower, std::size_t upper, double up_mm);
/// Pours the last layer thicker or thinner, so that the mould is filled to `up_mm` more; the other layers
/// keep their depths.
design::Design with_level_moved(design::Design design, double up_mm);
/// Pours another portion in the place of one pour.
design::Design with_pour_of(design::Design design, std::size_t pour, const std::string& portion);
/// Moves one place of a falling stream to `x_mm`.
design::Design with_fall_at(design::Design design, std::size_t pour, std::size_t place, double x_mm);

}  // namespace foreslice::studio
