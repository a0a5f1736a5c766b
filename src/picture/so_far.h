// The work as it stands part of the way through.
#pragma once

#include <vector>

#include "design/design.h"
#include "flow/flow.h"

namespace foreslice::picture {

/// The strokes up to the share `path_share` (0..1) of their whole way; those not begun are left out.
std::vector<flow::Stroke> strokes_so_far(std::vector<flow::Stroke> strokes, double path_share);

/// The design when only the first `pours` (1 to all; pours that go in together are not parted) are in the
/// mould: as full as it is then, with the strokes that are drawn by then and nothing on top. A design of its
/// own that design::validate() accepts when it accepts the whole one and the mould is at least 5 mm full.
design::Design design_so_far(const design::Design& design, std::size_t pours);

}  // namespace foreslice::picture
