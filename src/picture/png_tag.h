// Marks a PNG as sRGB, which the encoder does not. Internal to the picture room.
#pragma once

#include <string>

namespace foreslice::picture {

/// The same file with an sRGB chunk (rendering intent 0, perceptual) after its header; W3C PNG, third
/// edition, 11.3.2.5. Anything that is no PNG comes back as it is.
std::string tagged_srgb(std::string png);

}  // namespace foreslice::picture
