// The maker's own library of colourants, and what becomes of colourants that came with somebody else's
// design.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "colour/pigment.h"

namespace foreslice::studio {

/// What the maker's photos taught and what came with designs; in the place of the shipped library once it is
/// there.
std::filesystem::path own_colourants_file(const std::filesystem::path& state_folder);

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
