#include "studio/session/own_colourants.h"

#include <chrono>
#include <system_error>
#include <utility>

#include "colour/learned.h"
#include "foundation/error.h"
#include "foundation/held_name.h"
#include "foundation/text_file.h"
#include "studio/session/windows.h"

namespace foreslice::studio {
namespace {

std::uint64_t behaviour_of(colour::Colourant entry) {
    entry.price_per_100_g = 0;
    return colour::ColourantLibrary({}, "", {std::move(entry)}).key();
}

std::uint64_t base_of(const colour::ColourantLibrary& library) {
    return colour::ColourantLibrary(library.base(), "", {}).key();
}

bool same_entry(const colour::Colourant* a, const colour::Colourant* b) {
    return a && b &&
           colour::ColourantLibrary({}, "", {*a}).to_json() ==
               colour::ColourantLibrary({}, "", {*b}).to_json();
}

// What a window could not keep when the disk was full is in its memory only.
colour::ColourantLibrary with_those_of(const colour::ColourantLibrary& mine, colour::ColourantLibrary there) {
    for (const auto& entry : mine.colourants())
        if (!there.find(entry.id)) there = colour::with_colourant(there, entry);
    return there;
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

std::optional<colour::ColourantLibrary> load_own_colourants(const std::filesystem::path& file,
                                                            std::string& trouble) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error)) return std::nullopt;
    try {
        return colour::ColourantLibrary::load(file);
    } catch (const InputError& problem) {
        std::filesystem::path aside = file;
        aside.replace_extension(".unreadable.json");
        std::filesystem::rename(file, aside, error);
        trouble = "Your own colourants could not be read, so those that came with the program are used. ";
        trouble += problem.what();
        if (!error) trouble += ". The file is kept as " + aside.filename().string() + ".";
    }
    return std::nullopt;
}

colour::ColourantLibrary change_own_colourants(
    const std::filesystem::path& file, const colour::ColourantLibrary& mine,
    const std::function<colour::ColourantLibrary(const colour::ColourantLibrary& now)>& change) {
    const auto turn = my_turn_to_write(file);
    std::string put_aside;  // what this window has is as good as what was read at its start
    const auto there = load_own_colourants(file, put_aside);
    const std::string text = change(there ? with_those_of(mine, *there) : mine).to_json();
    auto kept = colour::ColourantLibrary::parse(text, file.string());
    write_file_atomically(file, text);
    return kept;
}

std::string free_colourant_name(const std::string& name, const colour::ColourantLibrary& mine,
                                const colour::ColourantLibrary& now) {
    std::string free = name;
    for (int number = 2;; ++number) {
        const std::string id = colour::id_from_name(free);
        const auto* there = now.find(id);
        if (!there || same_entry(there, mine.find(id))) return free;
        free = name + " " + std::to_string(number);
    }
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
