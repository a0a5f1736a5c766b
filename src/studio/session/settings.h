// What the studio remembers between evenings: recent files, its size and its look. One "key value" a
// line in the state folder; a broken or missing file means the defaults.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace foreslice::studio {

struct Settings {
    std::vector<std::filesystem::path> recent;  ///< newest first, at most 12, full paths
    std::vector<std::filesystem::path> open;    ///< files that were open together, full paths
    std::filesystem::path collection;           ///< that a design was last sent to; full path
    double scale = 0;                           ///< size of everything, 0.75..4; 0: what the display says
    bool morning = false;                       ///< the light look instead of the dark one
    std::string page;                           ///< id of the page last looked at; empty: the first
    bool known = false;                         ///< the studio was open before: settings were kept
};

Settings load_settings(const std::filesystem::path& state_folder);
/// Silent when it cannot be written: remembering is a courtesy.
void save_settings(const Settings& settings, const std::filesystem::path& state_folder);
/// Where several windows are open: what of `mine` is as `before`, when this window last read or wrote them,
/// stays what another window made of it, and nobody's recent files are forgotten.
void save_settings_beside_others(const Settings& mine, const Settings& before,
                                 const std::filesystem::path& state_folder);
void remember_file(Settings& settings, const std::filesystem::path& file);

}  // namespace foreslice::studio
