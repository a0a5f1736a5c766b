// The maker's own library of colourants, and what becomes of colourants that came with somebody else's
// design.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "colour/pigment.h"

namespace foreslice::studio {

/// What the maker's photos taught and what came with designs; in the place of the shipped library once it is
/// there.
std::filesystem::path own_colourants_file(const std::filesystem::path& state_folder);

/// The maker's own; empty when there are none yet. A file that cannot be read is put aside, where nothing
/// writes over it, and `trouble` says so.
std::optional<colour::ColourantLibrary> load_own_colourants(const std::filesystem::path& file,
                                                            std::string& trouble);

/// Changes the maker's own where they are kept. Another window may have kept some since `mine` was read:
/// `change` gets what lies there now with what only `mine` has, and nobody else writes meanwhile. Returns
/// what is kept. Throws InputError when it cannot be written; nothing is lost then.
colour::ColourantLibrary change_own_colourants(
    const std::filesystem::path& file, const colour::ColourantLibrary& mine,
    const std::function<colour::ColourantLibrary(const colour::ColourantLibrary& now)>& change);

/// A name for a colourant that is to be kept under `name`: another one when another window has since kept a
/// different one under it, of which `mine` knows nothing.
std::string free_colourant_name(const std::string& name, const colour::ColourantLibrary& mine,
                                const colour::ColourantLibrary& now);

/// What came with a design beside what the maker has. Entries of the same id with the same behaviour are
/// nobody's news; what they cost is each maker's own affair.
struct CameWith {
    std::vector<colour::Colourant> unknown;  ///< the maker has none of these ids
    std::vector<std::string> other_names;    ///< the maker's own behave differently
    bool other_base = false;
};
CameWith came_with(const colour::ColourantLibrary& own, const colour::ColourantLibrary& sent);

/// `own` with the unknown ones, which say what design they came with; nothing of the maker's is replaced.
colour::ColourantLibrary with_unknown(const colour::ColourantLibrary& own, const CameWith& came,
                                      const std::string& design_name);

/// For the maker once the design is saved without them; empty when there is nothing to say.
std::string sentence_of(const CameWith& came);

}  // namespace foreslice::studio
