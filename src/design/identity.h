// A short code that names one exact design, for sheets and labels.
#pragma once

#include <string>

#include "design/design.h"

namespace foreslice::design {

/// "FS-7KQ2M-90XBD-3TZ": 64 bits of the content key of the design's file text, in Crockford's base 32 (no I,
/// L, O or U). Any change of any field, however small, gives another code; how the file was laid out does
/// not.
std::string identity_code(const Design& design);

}  // namespace foreslice::design
