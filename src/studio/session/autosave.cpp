#include "studio/session/autosave.h"

#include <chrono>
#include <system_error>

#include "design/design_file.h"
#include "foundation/content_key.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

std::string span_in_words(std::chrono::seconds span) {
    const auto seconds = span.count() < 0 ? -span.count() : span.count();
    const auto in = [](long long n, const char* unit) {
        return std::to_string(n) + " " + unit + (n == 1 ? "" : "s");
    };
    if (seconds < 90) return in(seconds, "second");
    if (seconds < 90 * 60) return in((seconds + 30) / 60, "minute");
    if (seconds < 36 * 3600) return in((seconds + 1800) / 3600, "hour");
    return in((seconds + 43200) / 86400, "day");
}

std::string when_against(const fs::path& copy, const fs::path& document) {
    std::error_code error;
    const auto copy_time = fs::last_write_time(copy, error);
    if (error || document.empty()) return "";
    const auto file_time = fs::last_write_time(document, error);
    if (error) return "";
    const auto span = std::chrono::duration_cast<std::chrono::seconds>(copy_time - file_time);
    return span_in_words(span) + (span.count() < 0 ? " before" : " after") + " the file was saved";
}

std::string ending_of(int seat) {
    return seat > 1 ? ".autosave-" + std::to_string(seat) : ".autosave";
}

fs::path sent_beside(const fs::path& state_folder, int seat) {
    return fs::path(autosave_beside({}, state_folder, seat)).replace_extension(".colourants.json");
}

std::optional<colour::ColourantLibrary> readable_sent(const fs::path& file) {
    std::error_code error;
    if (!fs::is_regular_file(file, error)) return std::nullopt;
    try {
        return colour::ColourantLibrary::load(file);
    } catch (const InputError&) {
        return std::nullopt;  // the maker's own have to do
    }
}

std::optional<design::Design> readable(const fs::path& copy) {
    std::error_code error;
    if (!fs::is_regular_file(copy, error)) return std::nullopt;
    try {
        return design::load(copy);
    } catch (const InputError&) {
        return std::nullopt;  // not ours, or from a newer version: leave it where it is
    }
}

}  // namespace

fs::path autosave_beside(const fs::path& document, const fs::path& state_folder, int seat) {
    if (document.empty())
        return state_folder /
               (seat > 1 ? "unnamed-" + std::to_string(seat) + ".autosave" : "unnamed.autosave");
    std::string name = document.filename().string();
    name.insert(name.begin(), '.');
    return document.parent_path() / name.append(ending_of(seat));
}

fs::path autosave_elsewhere(const fs::path& document, const fs::path& state_folder, int seat) {
    std::error_code error;
    const auto full = fs::absolute(document, error);
    const auto key = ContentKey().add((error ? document : full).string()).value();
    return state_folder / (document.filename().string() + "-" + std::to_string(key) + ending_of(seat));
}

void write_autosave(const design::Design& design, const fs::path& document, const fs::path& state_folder,
                    int seat) {
    const std::string text = design::to_json(design);
    try {
        write_file_atomically(autosave_beside(document, state_folder, seat), text);
    } catch (const InputError&) {
        if (document.empty()) throw;
        write_file_atomically(autosave_elsewhere(document, state_folder, seat), text);
    }
}

void write_sent(const colour::ColourantLibrary& sent, const fs::path& state_folder, int seat) {
    write_file_atomically(sent_beside(state_folder, seat), sent.to_json());
}

void remove_autosave(const fs::path& document, const fs::path& state_folder, int seat) {
    std::error_code ignored;
    fs::remove(autosave_beside(document, state_folder, seat), ignored);
    fs::remove(
        document.empty() ? sent_beside(state_folder, seat) : autosave_elsewhere(document, state_folder, seat),
        ignored);
}

std::optional<Recovered> find_recovery(const design::Design& opened, const fs::path& document,
                                       const fs::path& state_folder, int seat) {
    for (const auto& copy :
         {autosave_beside(document, state_folder, seat),
          document.empty() ? fs::path() : autosave_elsewhere(document, state_folder, seat)}) {
        if (copy.empty()) continue;
        auto design = readable(copy);
        if (!design || *design == opened) continue;
        auto sent = document.empty() ? readable_sent(sent_beside(state_folder, seat)) : std::nullopt;
        return Recovered{std::move(*design), copy, std::move(sent), when_against(copy, document)};
    }
    return std::nullopt;
}

}  // namespace foreslice::studio
