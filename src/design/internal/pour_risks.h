// Risks of the pours' manners; part of warnings(). Not public.
#pragma once

#include <functional>
#include <string>

#include "design/design.h"

namespace foreslice::design {

/// Takes a place, the cause and the cure.
using Warn =
    std::function<void(const std::string& place, const std::string& sentence, const std::string& cure)>;

void watch_manners(const Design& design, const Warn& warn);

}  // namespace foreslice::design
