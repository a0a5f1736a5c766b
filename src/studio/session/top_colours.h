// What a worked top shows from straight above, without light and shade: for the bar mock-up, which has a lamp
// of its own.
#pragma once

#include "picture/face.h"

namespace foreslice::studio {

/// The materials at the surface and the seeds on it, for a face with a top. x goes to the right, and the cut
/// is the upper edge. Glitter is left out: how it shines depends on where one looks from.
picture::Image top_colours(const picture::Face& face);

}  // namespace foreslice::studio
