// Designs that the tests start from.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>

#include "batter/oils_table.h"
#include "colour/pigment.h"
#include "design/design.h"

namespace samples {

/// Two portions, three pours, seven passes; valid and without warnings.
foreslice::design::Design plain();
/// A valid document with everything in it chosen at random; the same for the same seed.
foreslice::design::Design random(std::uint64_t seed);
/// The starter library.
const foreslice::colour::ColourantLibrary& library();
/// The shipped table of oils.
const foreslice::batter::OilsTable& oils();
/// tests/data/design/<name>.
std::filesystem::path data(const std::string& name);

}  // namespace samples
