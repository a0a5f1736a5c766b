// Pictures shown small. picture::halved() mixes light and is for pictures that are kept; this mixes codes, as
// a graphics card does, and takes a fraction of the time. It is done here and not by the driver: one that
// draws in software compiles a program for it at the first picture, and a frame would wait for that.
#pragma once

#include "picture/image.h"

namespace foreslice::studio {

/// Half as large each way, the mean of four; an odd last row or column is left out.
picture::Image half_of(const picture::Image& image);

}  // namespace foreslice::studio
