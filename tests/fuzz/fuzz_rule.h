// The rule that every reader of bytes is held to: whatever the bytes, it gives a value or an InputError. No
// other exception, no crash, no reading past the end; and what was read can be written and read back the
// same.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <optional>
#include <string>
#include <string_view>

#include "foundation/error.h"

/// One input of one target, as libFuzzer calls it; `replay.cpp` calls the same over the kept seeds.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace foreslice::testing {

inline std::string bytes_from(const std::uint8_t* data, std::size_t size) {
    return std::string(reinterpret_cast<const char*>(data), size);
}

/// Ends the program, so that the input is kept, when the rule does not hold.
inline void must(bool holds, const char* rule) {
    if (holds) return;
    std::fprintf(stderr, "this does not hold: %s\n", rule);
    std::abort();
}

/// What the reader gives; nothing after an InputError, which must say what is wrong in one printable line.
template <typename Read>
auto taken(const Read& read) -> std::optional<decltype(read())> {
    try {
        return read();
    } catch (const InputError& error) {
        must(!error.problem().empty(), "an error says what is wrong");
        must(std::string_view(error.what()).find('\n') == std::string_view::npos,
             "an error is one sentence on one line");
        return std::nullopt;
    }
}

}  // namespace foreslice::testing
