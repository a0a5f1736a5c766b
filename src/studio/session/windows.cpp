#include "studio/session/windows.h"

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
    for (int number = 1; number <= most_seats_of_a_file; ++number)
        if (HeldName::is_held(state_folder / register_name, name_of(document, number))) return true;
    return false;
}

std::vector<fs::path> OtherWindows::news(const std::vector<Mine>& mine, const fs::path& state_folder) {
    std::set<std::string> own;
    for (const Mine& here : mine) own.insert(name_of(here.file, here.seat));
    const auto elsewhere = [&](const fs::path& file) {
        for (int number = 1; number <= most_seats_of_a_file; ++number) {
            const std::string name = name_of(file, number);
            if (!own.contains(name) && HeldName::is_held(state_folder / register_name, name)) return true;
        }
        return false;
    };
    std::vector<fs::path> news;
    for (const Mine& here : mine) {
        if (!elsewhere(here.file))
            told_.erase(here.file);
        else if (told_.insert(here.file).second)
            news.push_back(here.file);
    }
    return news;
}

}  // namespace foreslice::studio
