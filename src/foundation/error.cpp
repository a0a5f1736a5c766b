#include "foundation/error.h"

#include <array>
#include <cmath>
#include <cstdio>

namespace foreslice {
namespace {

std::string sentence(const std::string& file, const std::string& place, const std::string& problem,
                     const std::string& allowed) {
    std::string text;
    if (!file.empty()) text += file + ": ";
    if (!place.empty()) text += place + ": ";
    text += problem;
    if (!allowed.empty()) text += "; allowed: " + allowed;
    return text;
}

}  // namespace

InputError::InputError(std::string file, std::string place, std::string problem, std::string allowed)
    : std::runtime_error(sentence(file, place, problem, allowed)),
      file_(std::move(file)),
      place_(std::move(place)),
      problem_(std::move(problem)),
      allowed_(std::move(allowed)) {}

InputError InputError::in_file(std::string file) const {
    return InputError(std::move(file), place_, problem_, allowed_);
}

std::string quoted(std::string_view text, std::size_t limit) {
    std::string out = "\"";
    for (char c : text.substr(0, limit)) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x20 || byte == 0x7f) {
            std::array<char, 8> escaped{};
            std::snprintf(escaped.data(), escaped.size(), "\\x%02x", byte);
            out += escaped.data();
        } else {
            out += c;
        }
    }
    out += text.size() > limit ? "…\"" : "\"";
    return out;
}

std::string plain_number(double value) {
    if (std::isnan(value)) return "not a number";
    if (std::isinf(value)) return value > 0 ? "infinity" : "minus infinity";
    std::array<char, 40> text{};
    std::snprintf(text.data(), text.size(), "%.6g", value);
    return text.data();
}

}  // namespace foreslice
