// Reading and writing whole files safely.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

namespace foreslice {

/// The whole file as bytes. Throws InputError when it cannot be read, is a folder, or is larger than `limit`.
std::string read_file(const std::filesystem::path& path, std::size_t limit_bytes = 16U << 20);

/// Writes next to the target, flushes to disk and renames over it, so that a reader (or a power cut) sees the
/// old bytes or the new ones, never a mixture. Who may read and write the file stays as it was; behind a link
/// its target is written; a device or a pipe is written to in place. Throws InputError with the reason when
/// it fails, also for a file that is protected against writing; what was there is untouched then.
void write_file_atomically(const std::filesystem::path& path, std::string_view bytes);

}  // namespace foreslice
