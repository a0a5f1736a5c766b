// Small help for tests that read sentences.
#pragma once

#include <string>

namespace foreslice::testing {

inline bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace foreslice::testing
