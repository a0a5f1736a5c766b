#include "studio/session/own_colourants.h"

#include <utility>

#include "colour/learned.h"

namespace foreslice::studio {
namespace {

std::uint64_t behaviour_of(colour::Colourant entry) {
    entry.price_per_100_g = 0;
    return colour::ColourantLibrary({}, "", {std::move(entry)}).key();
}

std::uint64_t base_of(const colour::ColourantLibrary& library) {
    return colour::ColourantLibrary(library.base(), "", {}).key();
}

std::string listed(const std::vector<std::string>& names) {
    std::string out;
    for (std::size_t i = 0; i < names.size(); ++i)
        out += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
    return out;
}

}  // namespace

std::filesystem::path own_colourants_file(const std::filesystem::path& state_folder) {
    return state_folder / "my-colourants.json";
}

CameWith came_with(const colour::ColourantLibrary& own, const colour::ColourantLibrary& sent) {
    CameWith out;
    out.other_base = base_of(own) != base_of(sent);
    for (const auto& entry : sent.colourants()) {
        const auto* mine = own.find(entry.id);
        if (!mine)
            out.unknown.push_back(entry);
        else if (behaviour_of(*mine) != behaviour_of(entry))
            out.other_names.push_back(mine->name);
    }
    return out;
}

colour::ColourantLibrary with_unknown(const colour::ColourantLibrary& own, const CameWith& came,
                                      const std::string& design_name) {
    auto all = own;
    for (colour::Colourant entry : came.unknown) {
        entry.price_per_100_g = 0;  // in somebody else's money
        if (!entry.provenance.empty()) entry.provenance += ' ';
        entry.provenance.append("Came with “").append(design_name).append("”.");
        all = colour::with_colourant(all, std::move(entry));
    }
    return all;
}

std::string sentence_of(const CameWith& came) {
    std::string out;
    std::vector<std::string> names;
    for (const auto& entry : came.unknown) names.push_back(entry.name);
    if (!names.empty()) out = "Its colourants " + listed(names) + " are among your own now.";
    if (names.size() == 1) out = "Its colourant " + names.front() + " is among your own now.";
    auto others = came.other_names;
    if (came.other_base) others.insert(others.begin(), "plain base");
    if (others.empty()) return out;
    if (!out.empty()) out += " ";
    const bool one = others.size() == 1;
    return out + "Your own " + listed(others) + (one ? " differs" : " differ") +
           " from what came with it and " + (one ? "stays as it is" : "stay as they are") +
           "; when it is opened again, yours " + (one ? "counts." : "count.");
}

}  // namespace foreslice::studio
