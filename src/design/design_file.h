// Reading and writing design files: versioned JSON, unknown fields kept, one clear sentence for every fault.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "design/design.h"

namespace foreslice::design {

/// The version this program writes. Older ones are migrated on load; newer ones are refused with a sentence.
inline constexpr int file_version = 2;
inline constexpr std::string_view file_ending = ".foreslice.json";

/// Throws InputError (file, JSON path, value, what is allowed) for the first fault of any one field. Never
/// crashes, whatever the bytes. How fields fit together (shares that add up, paths inside the mould) is
/// validate()'s business, so that the studio can open a design that needs mending.
Design load(const std::filesystem::path& path);
/// The same from memory; `name` stands in for the file in error sentences.
Design parse(std::string_view json, const std::string& name);
/// Stable field order, two-space indent, one field a line, points on one line; ends with a newline.
std::string to_json(const Design& design);
/// Atomic. Throws InputError when the file cannot be written.
void save(const Design& design, const std::filesystem::path& path);

}  // namespace foreslice::design
