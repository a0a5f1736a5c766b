// How palettes/colourants.json is made from the open data and from stated choices. The tool
// `make_colourant_library` writes the file; a test compares the shipped file with this recipe.
#pragma once

#include <filesystem>

#include "colour/pigment.h"

namespace foreslice::testing {

/// `data`: the folder tests/data.
colour::ColourantLibrary starter_library(const std::filesystem::path& data);

}  // namespace foreslice::testing
