// Whether a font file is all there, before a reader that believes every offset in it is let at it.
#pragma once

#include <string_view>

namespace foreslice::picture {

/// Whether the bytes begin with the directory of an OpenType or TrueType font (ISO/IEC 14496-22, 4.3) and all
/// tables that it names lie inside them.
bool is_whole_font(std::string_view bytes);

}  // namespace foreslice::picture
