// A copy of unsaved work kept beside the file, and how it is found again after a crash.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "colour/pigment.h"
#include "design/design.h"

namespace foreslice::studio {

/// Where the copy of a document lies: ".slipway.json.autosave" beside slipway.json; a document without a file
/// has its copy in the state folder. `seat` (windows.h) tells apart several windows that have the same design
/// open, and several documents without a file.
std::filesystem::path autosave_beside(const std::filesystem::path& document,
                                      const std::filesystem::path& state_folder, int seat = 1);
/// For a document in a folder that cannot be written: a place in the state folder, one for each full path.
std::filesystem::path autosave_elsewhere(const std::filesystem::path& document,
                                         const std::filesystem::path& state_folder, int seat = 1);

/// Writes the copy beside the document, else elsewhere. Throws InputError when neither can be written.
void write_autosave(const design::Design& design, const std::filesystem::path& document,
                    const std::filesystem::path& state_folder, int seat = 1);
/// The colourants that came with a design that has no file yet, kept with its copy.
void write_sent(const colour::ColourantLibrary& sent, const std::filesystem::path& state_folder, int seat);
void remove_autosave(const std::filesystem::path& document, const std::filesystem::path& state_folder,
                     int seat = 1);

struct Recovered {
    design::Design design;
    std::filesystem::path file;                         ///< the copy it came from
    std::optional<colour::ColourantLibrary> sent = {};  ///< the colourants that had come with it
    std::string when;  ///< "3 minutes after the file was saved"; for an unnamed design ""
};

/// The copy that a crash left behind, if there is one that can be read and differs from `opened`.
std::optional<Recovered> find_recovery(const design::Design& opened, const std::filesystem::path& document,
                                       const std::filesystem::path& state_folder, int seat = 1);

}  // namespace foreslice::studio
