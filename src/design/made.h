// What was really poured. Kept beside the plan, in a file of its own, so that the plan stays a plan: for
// slipway.foreslice.json it is slipway.made.json. Every batch holds the plan as it was that day.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "design/design.h"
#include "design/limits.h"

namespace foreslice::design {

namespace limits {
inline constexpr Range weight_g{0, 1000000};
inline constexpr Range temperature_c{-30, 200};
inline constexpr std::size_t made_batches = 1000;
inline constexpr std::size_t made_file_bytes = 16U << 20U;
}  // namespace limits

struct MadeBatch {
    std::string date;  ///< ISO 8601, YYYY-MM-DD
    std::string notes;
    std::string photo;  ///< file, relative to the plan's folder, with / between folders; may be empty
    std::vector<std::pair<std::string, double>> weights_g;       ///< of batter, a portion's id each
    std::vector<std::pair<std::string, double>> temperatures_c;  ///< "batter", "lye", "room": any word
    Design design;                                               ///< the plan as it was
};

/// Where the batches of a plan stand.
std::filesystem::path made_file_of(const std::filesystem::path& plan);

/// The earliest first; none when the file is not there. Throws InputError for the first fault in it.
std::vector<MadeBatch> load_made(const std::filesystem::path& plan);
std::vector<MadeBatch> parse_made(std::string_view json, const std::string& name);
std::string to_json(const std::vector<MadeBatch>& batches);

/// Adds a batch to the file beside the plan, in the order of dates. Throws InputError for a date that the
/// calendar does not have, weights of portions that the plan does not have, and what the limits forbid; and
/// when somebody else wrote the file in the same moment. Nothing is lost then.
void add_made(const std::filesystem::path& plan, const MadeBatch& batch);

/// A design to start the next batch from: the plan as it was made, with the shares that were really weighed
/// where every portion that was poured has a weight, and the batch's notes behind its own.
Design next_from(const MadeBatch& batch);

}  // namespace foreslice::design
