// How much memory is left, so that work that needs more is refused before it begins instead of failing, or
// being ended by the system, in the middle of it.
#pragma once

#include <optional>
#include <string>

namespace foreslice {

/// Bytes that this process may still take without pushing others out: what the machine has left, and what the
/// limits of its container and its own allow. Empty where the system does not say.
std::optional<double> free_memory_bytes();

/// "340 MB", "3.2 GB": powers of ten.
std::string memory_words(double bytes);

}  // namespace foreslice
