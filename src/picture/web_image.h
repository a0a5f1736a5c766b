// Pictures as text that a web page can hold in itself.
#pragma once

#include <string>
#include <string_view>

#include "picture/image.h"

namespace foreslice::picture {

/// Baseline JPEG without colour subsampling, quality 91..100. For opaque pictures: alpha is left out.
std::string jpeg_bytes(const Image& image, int quality = 93);
/// RFC 4648, with padding.
std::string base64(std::string_view bytes);
/// "data:image/jpeg;base64,..."
std::string jpeg_url(const Image& image);

}  // namespace foreslice::picture
