#include "studio/session/settings.h"

#include <algorithm>
#include <sstream>
#include <string>
#include <system_error>

#include "foundation/error.h"
#include "foundation/text_file.h"
#include "studio/session/quantity.h"
#include "studio/session/windows.h"

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

constexpr std::size_t most_recent = 12;
constexpr const char* file_name = "studio-settings.txt";

// Open files of mine, then of theirs, which this window knows nothing of.
void add_unknown(std::vector<fs::path>& mine, const std::vector<fs::path>& before,
                 const std::vector<fs::path>& theirs) {
    const auto among = [](const std::vector<fs::path>& files, const fs::path& file) {
        return std::find(files.begin(), files.end(), file) != files.end();
    };
    for (const auto& file : theirs)
        if (mine.size() < most_recent && !among(mine, file) && !among(before, file)) mine.push_back(file);
}

}  // namespace

Settings load_settings(const fs::path& state_folder) {
    Settings out;
    std::string text;
    try {
        text = read_file(state_folder / file_name, 1U << 16);
    } catch (const InputError&) {
        return out;  // first start
    }
    out.known = true;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        const auto space = line.find(' ');
        if (space == std::string::npos) continue;
        const std::string key = line.substr(0, space), value = line.substr(space + 1);
        if (key == "recent" && out.recent.size() < most_recent) out.recent.emplace_back(value);
        if (key == "open" && out.open.size() < most_recent) out.open.emplace_back(value);
        if (key == "collection") out.collection = value;
        if (key == "look") out.morning = value == "morning";
        if (key == "page") out.page = value;
        if (key == "scale") {
            const double scale = parse_quantity(value, Unit::none).value_or(0);
            if (scale >= 0.75 && scale <= 4) out.scale = scale;
        }
    }
    return out;
}

void save_settings(const Settings& settings, const fs::path& state_folder) {
    std::string text = settings.morning ? "look morning\n" : "look dusk\n";
    if (!settings.page.empty()) text += "page " + settings.page + "\n";
    if (settings.scale > 0) text += "scale " + format_number(settings.scale, 2) + "\n";
    const auto add_files = [&](const char* key, const std::vector<fs::path>& files) {
        for (const auto& file : files)
            if (file.string().find('\n') == std::string::npos)
                text += std::string(key) + " " + file.string() + "\n";
    };
    if (!settings.collection.empty()) add_files("collection", {settings.collection});
    add_files("open", settings.open);
    add_files("recent", settings.recent);
    try {
        std::error_code ignored;
        fs::create_directories(state_folder, ignored);
        write_file_atomically(state_folder / file_name, text);
    } catch (const InputError&) {
        return;
    }
}

void save_settings_beside_others(const Settings& mine, const Settings& before, const fs::path& state_folder) {
    try {
        const auto turn = my_turn_to_write(state_folder / file_name);
        const Settings theirs = load_settings(state_folder);
        Settings all = mine;
        if (theirs.known) {
            if (mine.morning == before.morning) all.morning = theirs.morning;
            if (mine.page == before.page) all.page = theirs.page;
            if (mine.scale == before.scale) all.scale = theirs.scale;
            if (mine.collection == before.collection) all.collection = theirs.collection;
            add_unknown(all.open, before.open, theirs.open);
            add_unknown(all.recent, before.recent, theirs.recent);
        }
        save_settings(all, state_folder);
    } catch (const InputError&) {
        return;  // as save_settings(): a courtesy
    }
}

void remember_file(Settings& settings, const fs::path& file) {
    std::error_code error;
    const auto full = fs::absolute(file, error);
    const auto& path = error ? file : full;
    std::erase(settings.recent, path);
    settings.recent.insert(settings.recent.begin(), path);
    if (settings.recent.size() > most_recent) settings.recent.resize(most_recent);
}

}  // namespace foreslice::studio
