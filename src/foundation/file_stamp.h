// What a file held when it was read, so that a save can tell whether somebody else wrote it since: a second
// window, a person on the same shared folder, a version control tool.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string_view>

namespace foreslice {

/// Knows a file by its content, not by its time: clocks of shared folders differ, and a file that was
/// written again with the same bytes has not changed.
class FileStamp {
  public:
    FileStamp() = default;  ///< there is no file
    explicit FileStamp(std::string_view bytes);
    friend bool operator==(const FileStamp&, const FileStamp&) = default;

  private:
    std::optional<std::uint64_t> content_;
    std::size_t size_ = 0;
};

/// Of what lies there now; of no file when nothing does. Throws InputError when it cannot be read.
FileStamp stamp_of(const std::filesystem::path& path);

/// Writes atomically when the file still is what `known` says, and returns the new stamp. Otherwise throws
/// InputError that says so, and nothing is written or lost.
FileStamp write_file_if_unchanged(const std::filesystem::path& path, std::string_view bytes,
                                  const FileStamp& known);

}  // namespace foreslice
