// Runs the real program the way a person's shell does.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace foreslice::testing {

struct Outcome {
    int code = -1;  ///< as the shell sees it; 128 + n after signal n
    std::string out, err;
};

/// Standard error is a file here, never a terminal.
Outcome run(const std::vector<std::string>& arguments);

/// A folder of its own for one test, removed at the end.
class ScratchFolder {
  public:
    ScratchFolder();
    ~ScratchFolder();
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    std::string operator/(const std::string& name) const { return (path_ / name).string(); }

  private:
    std::filesystem::path path_;
};

std::string demo_design(const std::string& name);
std::string bytes_of(const std::string& file);

}  // namespace foreslice::testing
