// Errors that a person caused and can mend. Everything else is a broken invariant and may assert.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

namespace foreslice {

/// Bad input: one clear sentence saying where, what is wrong and what is allowed. `what()` is that sentence.
class InputError : public std::runtime_error {
  public:
    /// `file`: path as the user gave it (may be empty); `place`: JSON path, flag or line (may be empty);
    /// `problem`: what is wrong, with the offending value; `allowed`: what would be accepted (may be empty).
    InputError(std::string file, std::string place, std::string problem, std::string allowed);

    const std::string& file() const { return file_; }
    const std::string& place() const { return place_; }
    const std::string& problem() const { return problem_; }
    const std::string& allowed() const { return allowed_; }

    /// The same error with a file name put in front; used by readers that learn the name late.
    InputError in_file(std::string file) const;

  private:
    std::string file_, place_, problem_, allowed_;
};

/// Thrown out of long work after its Progress was asked to stop. Not an error: nothing is shown to the user.
class Stopped : public std::exception {
  public:
    const char* what() const noexcept override { return "stopped on request"; }
};

/// A short quotation of untrusted text for an error sentence: control bytes escaped, at most `limit` bytes.
std::string quoted(std::string_view text, std::size_t limit = 60);

/// A number the way a person would write it: up to 6 significant digits, no trailing zeros.
std::string plain_number(double value);

}  // namespace foreslice
