// A collection: soaps that belong together, with what they share. One JSON file beside the designs it names:
//
//   { "format": "foreslice collection", "version": 1, "name": ..., "notes": ...,
//     "colourants": "colourants.json", "margin_percent": 10,
//     "defaults": { "mould": { ... }, "cut": { ... } },
//     "designs": [ { "file": "slipway.foreslice.json", "loaves": 2 } ] }
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "design/design.h"
#include "design/limits.h"

namespace foreslice::design {

namespace limits {
inline constexpr std::size_t collection_designs = 200;
inline constexpr Range loaves{0, 1000};
inline constexpr Range margin_percent{0, 100};
}  // namespace limits

struct CollectionMember {
    std::string file;  ///< of the design, relative to the collection's folder and inside it
    int loaves = 1;    ///< to be made, 0..1000
    friend bool operator==(const CollectionMember&, const CollectionMember&) = default;
};

/// Fields of the file besides those below: the defaults, and what this version does not understand.
struct CollectionExtras;

struct Collection {
    std::string name = "untitled";
    std::string notes;
    std::string colourants;      ///< library file, relative as above; empty: the program's own
    double margin_percent = 10;  ///< more pigment to order than the batches need
    std::vector<CollectionMember> members;
    std::filesystem::path file;                      ///< where it was read
    std::shared_ptr<const CollectionExtras> extras;  ///< may be null

    std::filesystem::path path_of(const std::string& relative) const { return file.parent_path() / relative; }
};

/// Throws InputError for the first fault; as strict as design files are read.
Collection load_collection(const std::filesystem::path& path);
Collection parse_collection(std::string_view json, const std::filesystem::path& path);
/// As design files are written: stable order, one field a line.
std::string to_json(const Collection& collection);

/// Whether a file says that it is a collection; false when it cannot be read.
bool is_collection(const std::filesystem::path& path);

/// A design of the collection: what its file leaves out is as the collection's defaults say.
Design load_member(const Collection& collection, const CollectionMember& member);

}  // namespace foreslice::design
