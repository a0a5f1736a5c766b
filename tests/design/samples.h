// Designs that the tests start from.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "batter/oils_table.h"
#include "colour/pigment.h"
#include "design/design.h"
#include "design/validation.h"

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

/// What the plain design is warned of after a change, which must leave it valid.
std::vector<foreslice::design::Warning> warnings_after(
    const std::function<void(foreslice::design::Design&)>& change);
/// Is there a warning at `place` whose sentence holds `part`? All must be whole sentences with a cure.
bool warned(const std::vector<foreslice::design::Warning>& all, const std::string& place,
            const std::string& part);

}  // namespace samples
