#include "cli/program.h"

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "foundation/random.h"

namespace foreslice::testing {
namespace {

// Names in these tests hold no quotes, dollars or backslashes, so double quotes do for every shell.
std::string shell_word(const std::string& word) {
    std::string quoted("\"");
    quoted += word;
    quoted += '"';
    return quoted;
}

int shell_code(int status) {
#if defined(_WIN32)
    return status;
#else
    return (status >> 8) & 0xff;  // what wait() packs into the second byte
#endif
}

}  // namespace

std::string bytes_of(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

Outcome run(const std::vector<std::string>& arguments) {
    const ScratchFolder scratch;
    std::string command = shell_word(FORESLICE_PROGRAM);
    for (const auto& argument : arguments) command.append(" ").append(shell_word(argument));
    command += " >" + shell_word(scratch / "out") + " 2>" + shell_word(scratch / "err");
    Outcome outcome;
    outcome.code = shell_code(std::system(command.c_str()));
    outcome.out = bytes_of(scratch / "out");
    outcome.err = bytes_of(scratch / "err");
    return outcome;
}

ScratchFolder::ScratchFolder() {
    static std::uint64_t count = 0;
    const auto now = std::chrono::steady_clock::now().time_since_epoch().count();
    const auto number = mixed_bits(static_cast<std::uint64_t>(now) + ++count);
    path_ = std::filesystem::temp_directory_path() / ("foreslice-test-" + std::to_string(number));
    std::filesystem::create_directories(path_);
}

ScratchFolder::~ScratchFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

std::string demo_design(const std::string& name) {
    return FORESLICE_SOURCE "/palettes/" + name + ".foreslice.json";
}

}  // namespace foreslice::testing
