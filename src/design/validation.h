// What is wrong with a design (errors: it cannot be made) and what is risky about it (warnings: it can).
#pragma once

#include <string>
#include <vector>

#include "colour/pigment.h"
#include "design/design.h"

namespace foreslice::design {

/// A plain sentence with a cause, and what would mend it.
struct Warning {
    std::string place;     ///< JSON path, e.g. "/pours/2"
    std::string sentence;  ///< cause
    std::string cure;
};

/// Throws InputError for the first fault (values out of range, shares that do not add up, unknown portions,
/// impossible paths ...). A design that passes can be computed.
void validate(const Design& design, const std::string& file_name = "");
/// The same, and InputError for colourants that the library does not have.
void validate(const Design& design, const colour::ColourantLibrary& library,
              const std::string& file_name = "");

/// What is risky about a design that passes validate(), in the order of the maker's work: fields not
/// understood, mould, batter, colours, layers, wire, cut. The thresholds and their reasons stand in
/// warnings.cpp. Colourants the library does not have are passed over.
std::vector<Warning> warnings(const Design& design, const colour::ColourantLibrary& library);

}  // namespace foreslice::design
