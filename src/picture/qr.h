// A QR code (ISO/IEC 18004) as a square of dark and light, made by libqrencode.
#pragma once

#include <string>
#include <vector>

namespace foreslice::picture {

struct QrCode {
    int side = 0;            ///< modules, without the quiet zone of four
    std::vector<bool> dark;  ///< row by row, top first
    bool at(int x, int y) const { return dark[static_cast<std::size_t>(y * side + x)]; }
};

/// Error correction M (15 %). Throws InputError for text that does not fit one code (over 2331 bytes).
QrCode qr_code(const std::string& text);

}  // namespace foreslice::picture
