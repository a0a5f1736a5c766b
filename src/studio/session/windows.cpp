#include "studio/session/windows.h"

#include <algorithm>
#include <chrono>
#include <system_error>
#include <utility>

#include "foundation/error.h"

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

constexpr const char* register_name = "open-in-windows.lock";
// Writing takes milliseconds, on a shared folder that sleeps longer.
constexpr std::chrono::seconds patience{5};

// The same for every way of writing a path.
std::string name_of(const fs::path& document, int seat) {
    std::error_code error;
    fs::path full = fs::weakly_canonical(fs::absolute(document, error), error);
    if (error) full = document;
    const std::string number = std::to_string(seat);
    return document.empty() ? "unnamed " + number : "design " + number + " " + full.string();
}

}  // namespace

HeldName my_turn_to_write(const fs::path& file) {
    auto held =
        HeldName::hold(file.parent_path() / register_name, "writing " + file.filename().string(), patience);
    if (held) return std::move(*held);
    throw InputError(file.string(), "",
                     "another window of the program is writing it and does not come to an end",
                     "try again; if it stays so, close the other window");
}

std::optional<Seat> take_seat(const fs::path& document, const fs::path& state_folder, int number) {
    auto held = HeldName::try_hold(state_folder / register_name, name_of(document, number));
    if (!held) return std::nullopt;
    return Seat{number, std::move(held)};
}

bool open_somewhere(const fs::path& document, const fs::path& state_folder) {
    std::vector<std::string> names;
    for (int number = 1; number <= most_seats_of_a_file; ++number) names.push_back(name_of(document, number));
    const auto held = HeldName::are_held(state_folder / register_name, names);
    return std::find(held.begin(), held.end(), true) != held.end();
}

std::vector<fs::path> OtherWindows::news(const std::vector<Mine>& mine, const fs::path& state_folder) {
    std::set<std::string> own;
    for (const Mine& here : mine) own.insert(name_of(here.file, here.seat));
    std::vector<std::string> names;
    std::vector<std::size_t> whose;
    for (std::size_t k = 0; k < mine.size(); ++k)
        for (int number = 1; number <= most_seats_of_a_file; ++number) {
            std::string name = name_of(mine[k].file, number);
            if (own.contains(name)) continue;
            names.push_back(std::move(name));
            whose.push_back(k);
        }
    const auto held = HeldName::are_held(state_folder / register_name, names);
    std::vector<bool> elsewhere(mine.size(), false);
    for (std::size_t k = 0; k < names.size(); ++k)
        if (held[k]) elsewhere[whose[k]] = true;
    std::vector<fs::path> news;
    for (std::size_t k = 0; k < mine.size(); ++k) {
        if (!elsewhere[k])
            told_.erase(mine[k].file);
        else if (told_.insert(mine[k].file).second)
            news.push_back(mine[k].file);
    }
    return news;
}

}  // namespace foreslice::studio
