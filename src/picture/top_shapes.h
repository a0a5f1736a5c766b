// What tools and spoons leave on a top, as heights over one section of the loaf. Seeded likenesses of a
// hand's work: no source. All change smoothly along the loaf.
#pragma once

#include <cstdint>

#include "design/design.h"
#include "picture/top_step.h"

namespace foreslice::picture {

/// Thickness of a heap that is spooned on, before it slumps: a row of domes along the loaf that run into each
/// other, >= 0, of the given area.
Profile heap_mm(const design::Spooned& spooned, double width_mm, double area_mm2, std::uint64_t seed,
                double z_mm);

/// The rise that a stroke gives the surface: about `height_mm` from furrow to ridge; its mean is not zero.
Profile worked_mm(const design::TopStroke& stroke, double width_mm, std::uint64_t seed, double z_mm);

}  // namespace foreslice::picture
