// The parts of photo files that the picture decoder leaves out. Internal to the colour room.
#pragma once

#include <string>
#include <string_view>

namespace foreslice::colour {

/// 1..8 as EXIF counts them; 1 (upright) when the file says nothing or something impossible.
int orientation_of(std::string_view bytes);
/// False for a JPEG whose Huffman tables hold more codes than there are (256), which the decoder would write
/// past the end of its own.
bool huffman_tables_fit(std::string_view bytes);
/// False for a PNG in which a chunk says that it is longer than the rest of the file: the decoder would ask
/// for that much memory first. What stands behind its end does not matter.
bool png_chunks_fit(std::string_view bytes);
/// The embedded ICC profile of a JPEG or PNG; empty when there is none or it is damaged.
std::string profile_of(std::string_view bytes);

}  // namespace foreslice::colour
