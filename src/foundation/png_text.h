// A text of our own inside a PNG file: the compressed iTXt chunk of the W3C PNG specification, third edition,
// 11.3.3.4. Pictures from anywhere are read, so nothing in them is believed before it is checked.
#pragma once

#include <cstddef>
#include <iosfwd>
#include <optional>
#include <string>
#include <string_view>

namespace foreslice {

/// Whether the bytes begin as a PNG file does.
bool is_png(std::string_view bytes);

/// The same picture with the text under a keyword (1 to 79 printable Latin-1 characters), before the picture
/// data, so that it survives a file that was cut short later. A text that stood under this keyword is
/// replaced. Throws InputError when the bytes are no PNG.
std::string with_png_text(std::string_view png, std::string_view keyword, std::string_view utf8);

/// Whether a picture has a text under a keyword, by the headings of its chunks alone: quick also for a large
/// picture, and no promise that the text is sound. False for what is no PNG.
bool holds_png_text(std::istream& in, std::string_view keyword);

/// The text under a keyword, compressed or not; empty when the picture carries none. Throws InputError,
/// naming `file`, for a file that is no PNG or ends too early, a damaged chunk, a text that does not unpack
/// or would be larger than `most_bytes`.
std::optional<std::string> read_png_text(std::string_view png, std::string_view keyword,
                                         const std::string& file, std::size_t most_bytes);

}  // namespace foreslice
