// The whole loaf: every bar in order at one scale, the trimmed ends, and the loaf cut lengthwise.
#pragma once

#include <string>
#include <vector>

#include "design/design.h"
#include "flow/flow.h"
#include "foundation/progress.h"
#include "picture/face.h"
#include "picture/image.h"

namespace foreslice::picture {

/// So far from the mould's end walls (mm) the arms that hold the wire and the walls themselves disturb the
/// flow, and a face is not what this program computes. Common practice, no source.
inline constexpr double arms_reach_mm = 15;

inline constexpr double least_loaf_px_per_mm = 1, most_loaf_px_per_mm = 12;

/// What a scale can show, and no finer: many faces are computed.
inline flow::Resolution resolution_for_loaf(double px_per_mm) {
    return px_per_mm > 6 ? flow::Resolution{} : flow::Resolution{72, 3, 0.1};
}

struct LoafRequest {
    double px_per_mm = 4;
    flow::Resolution resolution = resolution_for_loaf(4);
};

/// One slice as it comes off the loaf, from its start.
struct Slice {
    enum class Kind { first_end, bar, last_end };
    Kind kind = Kind::bar;
    int bar = 0;  ///< 1-based; 0 for an end
    double from_mm = 0, to_mm = 0;
    bool near_arms = false;  ///< its face lies within arms_reach_mm of an end wall
    /// Where its shown face lies: bars show the face towards the loaf's start, ends the one they were cut at.
    double face_z_mm() const { return kind == Kind::first_end ? to_mm : from_mm; }
    double thickness_mm() const { return to_mm - from_mm; }
};

/// Every slice in order; ends thinner than 0.05 mm are left out. The last end takes what is left over when no
/// further bar fits.
std::vector<Slice> slices_of(const design::Design& design);

struct Loaf {
    Image picture;
    flow::SolveReport solve;
};
/// Throws InputError as FaceMaker::make() does, for a scale beyond the limits above, and for a loaf without a
/// whole bar.
Loaf loaf_picture(FaceMaker& maker, const design::Design& design, const LoafRequest& request,
                  Progress& progress);

}  // namespace foreslice::picture
