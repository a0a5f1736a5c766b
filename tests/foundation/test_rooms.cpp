// The arrows between rooms: an include may only point to a room further left.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <string>

namespace {

const std::map<std::string, std::set<std::string>> allowed{
    {"foundation", {"foundation"}},
    {"colour", {"foundation", "colour"}},
    {"batter", {"foundation", "batter"}},
    {"flow", {"foundation", "batter", "flow"}},
    {"design", {"foundation", "colour", "batter", "flow", "design"}},
    {"picture", {"foundation", "colour", "batter", "flow", "design", "picture"}},
    {"cli", {"foundation", "colour", "batter", "flow", "design", "picture", "cli"}},
    {"studio", {"foundation", "colour", "batter", "flow", "design", "picture", "studio"}},
};

// The room named by an `#include "room/..."` line, or "" when the line is none.
std::string included_room(const std::string& line) {
    const std::string start = "#include \"";
    if (line.compare(0, start.size(), start) != 0) return "";
    const auto slash = line.find('/', start.size());
    if (slash == std::string::npos) return "";
    const std::string room = line.substr(start.size(), slash - start.size());
    return allowed.count(room) ? room : "";
}

}  // namespace

TEST_CASE("includes point only to rooms on the left") {
    const std::filesystem::path source = std::filesystem::path(FORESLICE_SOURCE) / "src";
    int includes = 0;
    for (const auto& [room, may_use] : allowed) {
        for (const auto& entry : std::filesystem::recursive_directory_iterator(source / room)) {
            const auto extension = entry.path().extension();
            if (extension != ".h" && extension != ".cpp" && extension != ".inl") continue;
            std::ifstream in(entry.path());
            for (std::string line; std::getline(in, line);) {
                const std::string used = included_room(line);
                if (used.empty()) continue;
                ++includes;
                CHECK_MESSAGE(may_use.count(used), entry.path().string() << " includes " << used);
            }
        }
    }
    CHECK(includes > 100);  // the scan found the sources
}

TEST_CASE("the JSON library stays out of the rooms' public headers") {
    const std::filesystem::path source = std::filesystem::path(FORESLICE_SOURCE) / "src";
    for (const auto& [room, unused] : allowed)
        for (const auto& entry : std::filesystem::directory_iterator(source / room)) {
            if (entry.path().extension() != ".h" || room == "cli") continue;
            std::ifstream in(entry.path());
            for (std::string line; std::getline(in, line);)
                CHECK_MESSAGE(line.find("nlohmann") == std::string::npos, entry.path().string());
        }
}
