// When each stroke is drawn, as pure functions from one document to the next: after which pour, and before
// which other stroke. Strokes are kept in the order in which they are drawn, so that the first in the list is
// the first by the hand.
#pragma once

#include <cstddef>
#include <vector>

#include "design/design.h"

namespace foreslice::studio {

/// After how many pours a stroke may be drawn: what lies in the mould then is deep enough for its tool, and
/// no pours that go in together are held apart. Rising; the last is all of them, and is always there. Nothing
/// for a stroke that is not there.
std::vector<std::size_t> moments_for_stroke(const design::Design& design, std::size_t stroke);

/// Draws a stroke after so many pours, in front of the strokes of later moments. Where its clearances at
/// floor and top would leave it no way to go through less batter, they become smaller. `stroke`: its place
/// before, and after. Nothing happens where the stroke or such a moment is not there.
design::Design with_stroke_after(design::Design design, std::size_t& stroke, std::size_t pours);

/// Whether two strokes that follow each other are drawn at the same moment, so that either may be first.
bool strokes_can_swap(const design::Design& design, std::size_t earlier);
/// Draws stroke `earlier` + 1 before stroke `earlier`.
design::Design with_strokes_swapped(design::Design design, std::size_t earlier);

}  // namespace foreslice::studio
