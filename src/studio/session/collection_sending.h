// Sends a design to a collection: a file of its own beside the collection, and its name in there.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "colour/pigment.h"
#include "design/design.h"

namespace foreslice::studio {

struct Sent {
    std::filesystem::path file;  ///< the new design file
    std::string collection;      ///< its name
    bool collection_begun = false;
    std::string changed;  ///< what the collection's defaults make of it, in words; empty: nothing
};

/// The collection is begun where there is none. Both files are written atomically, and the design's never
/// over another one; when the collection cannot be written, the design's is taken away again. Throws
/// InputError for a file that is no collection, one that somebody wrote meanwhile, and a design that the
/// collection's own library of colourants cannot make.
Sent add_to_collection(const design::Design& design, const std::filesystem::path& collection,
                       const colour::ColourantLibrary& library);
/// "Sent to Last Ferry as slipway-2.foreslice.json."
std::string sentence_of(const Sent& sent);

inline constexpr std::string_view collection_suffix = ".collection.json";
/// Where a design would be sent if nobody says otherwise: the collection of last time, else the first one in
/// the design's folder, else a new one there.
std::filesystem::path likely_collection(const std::filesystem::path& last_used,
                                        const std::filesystem::path& design_folder);
/// A file name from a name for people: letters and digits stay, everything else becomes one hyphen.
std::string file_stem_for(const std::string& name);

}  // namespace foreslice::studio
