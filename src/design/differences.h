// What differs between two designs, in words of the trade.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "colour/pigment.h"
#include "design/design.h"

namespace foreslice::design {

struct Difference {
    std::string field;  ///< path in the file, with names for members of lists
    std::string place;  ///< "lamp amber", "stroke 2"; empty for the soap as a whole
    std::string words;  ///< "share 14 → 12 %", "one pour more, after quay slate"
};

/// In the order of the file: name and notes, mould, batter, portions, pours, strokes, the rest. Every field
/// that the file can hold is compared, also those this version does not understand; equal designs give none.
/// Colourants are called by their names where the library (may be null) has them.
std::vector<Difference> differences(const Design& before, const Design& after,
                                    const colour::ColourantLibrary* library = nullptr);

/// "lamp amber: share 14 → 12 %".
std::string sentence_of(const Difference& difference);

}  // namespace foreslice::design
