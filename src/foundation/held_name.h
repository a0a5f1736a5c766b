// Names that only one window of the program holds at a time: the design it has open, the file it is about to
// read, change and write. The system lets go of them when a program ends, however it ends.
#pragma once

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace foreslice {

class HeldName {
  public:
    /// Nothing when somebody else holds `name` in `register_file`, which is made when it is not there and
    /// stays empty. Where no such hold can be had (a folder that cannot be written, a file system without
    /// locks) everybody gets one: then it is as if there were no other window.
    static std::optional<HeldName> try_hold(const std::filesystem::path& register_file,
                                            std::string_view name);
    /// Waits for it, at most so long.
    static std::optional<HeldName> hold(const std::filesystem::path& register_file, std::string_view name,
                                        std::chrono::milliseconds patience);
    /// Which of the names anybody holds, this window too; opens the register once. Asking takes nothing (on
    /// Windows: for no longer than the question).
    static std::vector<bool> are_held(const std::filesystem::path& register_file,
                                      const std::vector<std::string>& names);

    HeldName(HeldName&& other) noexcept;
    HeldName& operator=(HeldName&& other) noexcept;
    HeldName(const HeldName&) = delete;
    HeldName& operator=(const HeldName&) = delete;
    ~HeldName();

  private:
    explicit HeldName(int handle) : handle_(handle) {}
    int handle_ = -1;  ///< of the register, whose closing lets go; -1: held in name only
};

}  // namespace foreslice
