// Designs that the tests start from.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>

#include "colour/pigment.h"
#include "design/design.h"

namespace samples {

/// Two portions, three pours, seven passes; valid and without warnings.
foreslice::design::Design plain();
/// A valid document with everything in it chosen at random; the same for the same seed.
foreslice::design::Design random(std::uint64_t seed);
/// The starter library.
const foreslice::colour::ColourantLibrary& library();
/// tests/data/design/<name>.
std::filesystem::path data(const std::string& name);

}  // namespace samples
