#include "picture/qr.h"

#include <qrencode.h>

#include <memory>

#include "foundation/error.h"

namespace foreslice::picture {

QrCode qr_code(const std::string& text) {
    const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
        QRcode_encodeString(text.c_str(), 0, QR_ECLEVEL_M, QR_MODE_8, 1), QRcode_free);
    if (!code) throw InputError("", "", "the text is too long for a QR code", "at most 2331 bytes");
    QrCode out;
    out.side = code->width;
    const auto modules = static_cast<std::size_t>(code->width) * static_cast<std::size_t>(code->width);
    for (std::size_t i = 0; i < modules; ++i) out.dark.push_back((code->data[i] & 1U) != 0);
    return out;
}

}  // namespace foreslice::picture
