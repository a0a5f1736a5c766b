// The few colours that a picture is made of.
#pragma once

#include <vector>

#include "colour/photo.h"

namespace foreslice::colour {

struct PaletteColour {
    EncodedSrgb srgb;
    double weight = 0;  ///< share of the picture that this colour stands for; all add up to 1
};

/// `count` dominant, well-separated colours (1..16), heaviest first; fewer when the picture has fewer.
/// Clusters in OKLab by weighted k-means from seeds far apart (D. Arthur, S. Vassilvitskii: k-means++, 2007,
/// made deterministic by taking the farthest point), more than asked for; the nearest are then joined.
/// Colours nearer than 0.04 in OKLab count as one.
std::vector<PaletteColour> palette_of(const Photo& photo, std::size_t count);

}  // namespace foreslice::colour
