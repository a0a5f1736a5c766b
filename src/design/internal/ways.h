// The ways of a tool through the batter that are more than straight passes: zigzags, loops, and moving what
// would cut into the mould. Not public.
#pragma once

#include <vector>

#include "design/design.h"

namespace foreslice::design {

inline constexpr double touch_mm = 1e-9;  ///< rounding of a tool that just touches a wall

/// Heights of the tool's middle.
struct Heights {
    double in_air_mm;  ///< wholly clear of the batter
    double upper_mm;   ///< top clearance kept
    double lower_mm;   ///< floor clearance kept
};
Heights heights_of(double floor_clearance_mm, double top_clearance_mm, const Stroke& stroke,
                   const Design& design);
/// How far a comb or a strip reaches beyond a single wire to either side of its middle, mm.
double half_row_mm(const Stroke& stroke);

/// Both enter from the air and leave into it.
std::vector<Vec2> path_of_zigzag(const Zigzag& zigzag, const Stroke& stroke, const Design& design);
std::vector<Vec2> path_of_loops(const Loops& loops, const Stroke& stroke, const Design& design);

/// Where the tool's middle may go, mm; `most` may be less than `least` when the tool is wider than the mould.
struct Room {
    double least_x_mm, most_x_mm, least_y_mm;
};
Room room_of(const Stroke& stroke, const Design& design);

}  // namespace foreslice::design
