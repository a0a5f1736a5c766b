// What a hand does to the wire's way on the picture, each as a pure function from one document to the next.
#pragma once

#include <cstddef>
#include <vector>

#include "design/design.h"

namespace foreslice::studio {

/// Moves a whole pass (counted from 0 in the order drawn) to `x_mm`: the first one by its margin, the others
/// by the spacing that brings this one there; the last of evenly spread passes by the margin.
design::Design with_pass_at(design::Design design, std::size_t stroke, std::size_t pass, double x_mm);
/// Moves the row of lower turns (or of upper ones) of passes, zigzag or loops to a height of the tool's
/// middle.
design::Design with_turns_at(design::Design design, std::size_t stroke, bool lower, double y_mm);
/// Replaces a stroke's way by one drawn with the mouse: what the hand trembled is smoothed away by no more
/// than `within_mm`. Fewer than two points that differ leave the design as it is.
design::Design with_drawn_way(design::Design design, std::size_t stroke, const std::vector<Vec2>& drawn_mm,
                              double within_mm);
/// A point of the way point by point, put in after point `after`; or taken out (two stay).
design::Design with_point(design::Design design, std::size_t stroke, std::size_t after, Vec2 at_mm);
design::Design without_point(design::Design design, std::size_t stroke, std::size_t point);
design::Design with_point_at(design::Design design, std::size_t stroke, std::size_t point, Vec2 at_mm);

/// Polyline with as few of its points as keep within a distance (Douglas and Peucker 1973).
std::vector<Vec2> simplified(const std::vector<Vec2>& points, double within);

}  // namespace foreslice::studio
