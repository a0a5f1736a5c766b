#include "studio/window/system_dialog.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <sstream>
#include <system_error>
#include <thread>
#include <vector>

#if defined(__unix__) || defined(__APPLE__)
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
extern char** environ;
#define FORESLICE_CAN_SPAWN 1
#else
#define FORESLICE_CAN_SPAWN 0
#endif

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

constexpr std::array chooser_names{"zenity", "kdialog", "yad"};

// The first of them in the search path; empty when there is none.
std::string chooser() {
    const char* path = std::getenv("PATH");
    std::istringstream folders(path ? path : "");
    std::vector<fs::path> in;
    for (std::string folder; std::getline(folders, folder, ':');) in.emplace_back(folder);
    for (const char* name : chooser_names)
        for (const auto& folder : in) {
            std::error_code error;
            if (fs::is_regular_file(folder / name, error)) return name;
        }
    return "";
}

std::vector<std::string> arguments(const std::string& program, SystemDialog::For what,
                                   const std::string& title, const fs::path& suggested) {
    const bool saving = what == SystemDialog::For::save;
    if (program == "kdialog")
        return {program, "--title", title, saving ? "--getsavefilename" : "--getopenfilename",
                suggested.string()};
    const std::string chooser_flag = program == "yad" ? "--file" : "--file-selection";
    std::vector<std::string> out{program, chooser_flag, "--title=" + title,
                                 "--filename=" + suggested.string()};
    if (saving) out.insert(out.end(), {"--save", "--confirm-overwrite"});
    return out;
}

}  // namespace

#if FORESLICE_CAN_SPAWN

struct SystemDialog::Child {
    pid_t process = 0;
    int answer = -1;
    std::string text;

    ~Child() {
        if (answer >= 0) close(answer);
        if (process == 0) return;
        kill(process, SIGTERM);
        for (int tries = 0; tries < 20; ++tries) {
            if (waitpid(process, nullptr, WNOHANG) == process) return;
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        }
        kill(process, SIGKILL);
        waitpid(process, nullptr, 0);
    }
};

bool SystemDialog::start_program() {
    const auto& [what, title, suggested] = order_;
    const std::string program = chooser();
    if (program.empty()) return false;
    int ends[2];
    if (pipe(ends) != 0) return false;
    auto words = arguments(program, what, title, suggested);
    std::vector<char*> argv;
    argv.reserve(words.size() + 1);
    for (auto& word : words) argv.push_back(word.data());
    argv.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_adddup2(&actions, ends[1], 1);
    posix_spawn_file_actions_addclose(&actions, ends[0]);
    auto child = std::make_unique<Child>();
    const int failed =
        posix_spawnp(&child->process, program.c_str(), &actions, nullptr, argv.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    close(ends[1]);
    child->answer = ends[0];
    if (failed) {
        child->process = 0;
        return false;
    }
    fcntl(child->answer, F_SETFL, fcntl(child->answer, F_GETFL) | O_NONBLOCK);
    child_ = std::move(child);
    return true;
}

std::optional<fs::path> SystemDialog::poll_program() {
    if (!child_) return std::nullopt;
    std::array<char, 512> some{};
    for (ssize_t got = 0; (got = read(child_->answer, some.data(), some.size())) > 0;)
        child_->text.append(some.data(), static_cast<std::size_t>(got));
    int status = 0;
    if (waitpid(child_->process, &status, WNOHANG) != child_->process) return std::nullopt;
    for (ssize_t got = 0; (got = read(child_->answer, some.data(), some.size())) > 0;)
        child_->text.append(some.data(), static_cast<std::size_t>(got));
    child_->process = 0;
    std::string text = std::move(child_->text);
    child_.reset();
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) return fs::path();
    while (!text.empty() && (text.back() == '\n' || text.back() == '\r')) text.pop_back();
    return fs::path(text);
}

#else

struct SystemDialog::Child {};
bool SystemDialog::start_program() {
    return false;
}
std::optional<fs::path> SystemDialog::poll_program() {
    return std::nullopt;
}

#endif

bool SystemDialog::offered() {
    return PortalDialog::bus_there() || !chooser().empty();
}

bool SystemDialog::start(For what, const std::string& title, const fs::path& suggested) {
    order_ = {what, title, suggested};
    failed_ = false;
    if (!PortalDialog::bus_there()) return start_program();
    portal_ = std::make_unique<PortalDialog>(what == For::save, title, suggested);
    return true;
}

std::optional<fs::path> SystemDialog::poll() {
    if (!portal_) return poll_program();
    const auto state = portal_->state();
    if (state == PortalDialog::State::asking) return std::nullopt;
    const fs::path chosen = portal_->path();
    portal_.reset();
    if (state == PortalDialog::State::answered) return chosen;
    failed_ = !start_program();
    return std::nullopt;
}

SystemDialog::SystemDialog() = default;
SystemDialog::~SystemDialog() = default;
bool SystemDialog::running() const {
    return portal_ || child_;
}
void SystemDialog::stop() {
    portal_.reset();
    child_.reset();
}

}  // namespace foreslice::studio
