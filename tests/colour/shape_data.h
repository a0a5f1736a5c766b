// The measured pigments behind colour/pigment_shapes.h, from the open data.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "colour/spectrum.h"

namespace foreslice::testing {

struct MeasuredShape {
    std::string name;
    colour::Spectrum absorption{}, scattering{};
};
std::vector<MeasuredShape> measured_shapes(const std::filesystem::path& data);

/// The single-pigment paints of the artist-paint set that the shapes hold, as its columns name them.
const std::vector<std::string>& artist_pigments();

}  // namespace foreslice::testing
