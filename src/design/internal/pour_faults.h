// Faults of the pours' manners; part of validate(). Not public.
#pragma once

#include <functional>
#include <string>

#include "design/design.h"

namespace foreslice::design {

/// Throws an InputError for a place, what is wrong with it, and what is allowed.
using Fail =
    std::function<void(const std::string& place, const std::string& problem, const std::string& allowed)>;

/// Calls `fail` for the first fault.
void check_manners(const Design& design, const Fail& fail);

}  // namespace foreslice::design
