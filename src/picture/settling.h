// What gravity leaves of a surface's shape.
#pragma once

#include "picture/surface.h"

namespace foreslice::picture {

/// The shape at which batter with the yield length tau_y / (rho g) comes to rest. Long slopes flow down until
/// |d(h^2)/dx| <= 2 tau_y / (rho g) (thin layer, Liu & Mei 1989, from memory); what stands out from that
/// stays up to an amplitude of e tau_y / (rho g) (ripple on a deep bed: greatest shear stress of the
/// half-space solution, worked out for this project). The area is kept; yield length 0 gives a level surface.
Surface settled(const Surface& shape, double yield_length_mm);

/// `shape` moved up or down as a whole, and cut off at the floor and the ceiling, until it holds the area.
Surface fitted(const Surface& shape, double area_mm2, double ceiling_mm);
/// The shape's distance from level, times `share`.
Surface flattened(const Surface& shape, double share);

}  // namespace foreslice::picture
