#include "picture/assets.h"

#include <cstdlib>
#include <string>
#include <system_error>
#include <vector>

#include "foundation/error.h"

namespace foreslice::picture {
namespace {

std::filesystem::path& program() {
    static std::filesystem::path path;
    return path;
}

std::filesystem::path folder_of_program() {
    std::error_code error;
    auto path = std::filesystem::read_symlink("/proc/self/exe", error);  // Linux; elsewhere argv[0] serves
    if (error) path = std::filesystem::absolute(program(), error);
    return path.parent_path();
}

std::vector<std::filesystem::path> roots() {
    if (const char* chosen = std::getenv("FORESLICE_ASSETS"); chosen && *chosen) return {chosen};
    std::vector<std::filesystem::path> folders{folder_of_program() / ".." / "share" / "foreslice"};
#if defined(FORESLICE_SOURCE_FOLDER)
    folders.emplace_back(FORESLICE_SOURCE_FOLDER);
#endif
    return folders;
}

}  // namespace

void note_program(const char* argv0) {
    program() = argv0 ? argv0 : "";
}

std::filesystem::path own_file(std::string_view relative) {
    std::string tried;
    for (const auto& root : roots()) {
        std::error_code error;
        auto path = root / relative;
        if (std::filesystem::exists(path, error)) return path.lexically_normal();
        tried += (tried.empty() ? "" : ", ") + root.lexically_normal().string();
    }
    throw InputError(std::string(relative), "",
                     "a file of the program's own is missing (looked in " + tried + ")",
                     "set FORESLICE_ASSETS to the folder that holds assets/ and palettes/");
}

}  // namespace foreslice::picture
