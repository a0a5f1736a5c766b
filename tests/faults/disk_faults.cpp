#include "faults/disk_faults.h"

#include <fcntl.h>
#include <sys/ptrace.h>
#include <sys/syscall.h>
#include <sys/types.h>
#include <sys/user.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <optional>
#include <set>

namespace foreslice::testing {
namespace {

struct Plan {
    int call = -1;  // none
    std::optional<When> cut;
    int error = 0;
    bool from_then_on = false;
};

void* as_word(std::uintptr_t value) {
    return reinterpret_cast<void*>(value);
}

class Watcher {
  public:
    Watcher(pid_t child, const Plan& plan) : child_(child), plan_(plan) {}

    Watched follow() {
        int status = 0;
        waitpid(child_, &status, 0);  // it stops itself before the work begins
        ptrace(PTRACE_SETOPTIONS, child_, nullptr, as_word(PTRACE_O_TRACESYSGOOD | PTRACE_O_EXITKILL));
        std::uintptr_t signal = 0;
        for (;;) {
            ptrace(PTRACE_SYSCALL, child_, nullptr, as_word(signal));
            if (waitpid(child_, &status, 0) < 0) break;
            if (WIFEXITED(status)) out_.code = WEXITSTATUS(status);
            if (WIFSIGNALED(status)) out_.code = 128 + WTERMSIG(status);
            if (!WIFSTOPPED(status)) break;
            const int stopped_by = WSTOPSIG(status);
            signal = stopped_by == SIGTRAP || stopped_by == (SIGTRAP | 0x80)
                         ? 0
                         : static_cast<std::uintptr_t>(stopped_by);
            if (stopped_by == (SIGTRAP | 0x80)) at_call();
        }
        return out_;
    }

  private:
    // The system stops it twice for each call: before and after.
    void at_call() {
        user_regs_struct registers{};
        ptrace(PTRACE_GETREGS, child_, nullptr, &registers);
        inside_ = !inside_;
        if (inside_)
            entered(registers);
        else
            left(registers);
    }

    void entered(user_regs_struct& registers) {
        opens_ = opens_to_write(registers);
        const std::string name = name_of(registers);
        if (name == "close") open_.erase(registers.rdi);
        if (name.empty()) return;
        const bool chosen = static_cast<int>(out_.calls.size()) == plan_.call;
        out_.calls.push_back(name);
        if (chosen) out_.reached = true;
        if (chosen && plan_.cut) {
            if (plan_.cut == When::before) kill(child_, SIGKILL);
            if (plan_.cut == When::half && name == "write") {
                registers.rdx /= 2;
                ptrace(PTRACE_SETREGS, child_, nullptr, &registers);
            }
            cut_when_left_ = plan_.cut != When::before;
        }
        if (chosen) broken_ = name;
        if (plan_.error != 0 && (chosen || (plan_.from_then_on && name == broken_))) {
            registers.orig_rax = ~0ULL;  // no such call: the system does nothing
            ptrace(PTRACE_SETREGS, child_, nullptr, &registers);
            fail_when_left_ = true;
        }
    }

    void left(user_regs_struct& registers) {
        if (cut_when_left_) kill(child_, SIGKILL);
        if (fail_when_left_) {
            registers.rax = static_cast<unsigned long long>(-static_cast<long long>(plan_.error));
            ptrace(PTRACE_SETREGS, child_, nullptr, &registers);
            fail_when_left_ = false;
        }
        if (opens_ && static_cast<long long>(registers.rax) >= 0) open_.insert(registers.rax);
        opens_ = false;
    }

    static bool opens_to_write(const user_regs_struct& r) {
        const auto for_writing = [](unsigned long long flags) { return (flags & O_ACCMODE) != O_RDONLY; };
        return (r.orig_rax == SYS_openat && for_writing(r.rdx)) ||
               (r.orig_rax == SYS_open && for_writing(r.rsi));
    }

    std::string name_of(const user_regs_struct& r) const {
        const bool on_written = open_.contains(r.rdi);
        switch (r.orig_rax) {
            case SYS_open:
            case SYS_openat:
                return opens_ ? "open" : "";
            case SYS_write:
            case SYS_pwrite64:
                return on_written ? "write" : "";
            case SYS_writev:
                return on_written ? "write several" : "";
            case SYS_fsync:
            case SYS_fdatasync:
                return on_written ? "flush" : "flush folder";
            case SYS_close:
                return on_written ? "close" : "";
            case SYS_rename:
            case SYS_renameat:
            case SYS_renameat2:
                return "rename";
            case SYS_unlink:
            case SYS_unlinkat:
                return "remove";
            case SYS_ftruncate:
                return "truncate";
            default:
                return "";
        }
    }

    pid_t child_;
    const Plan& plan_;
    Watched out_;
    std::set<unsigned long long> open_;  // handles of files that are being written
    std::string broken_;
    bool inside_ = false, opens_ = false, cut_when_left_ = false, fail_when_left_ = false;
};

Watched run_watched(const std::function<int()>& work, const Plan& plan) {
    std::fflush(nullptr);
    const pid_t child = fork();
    if (child == 0) {
        ptrace(PTRACE_TRACEME, 0, nullptr, nullptr);
        raise(SIGSTOP);
        int code = 120;
        try {
            code = work();
        } catch (...) {
        }
        _exit(code);
    }
    return Watcher(child, plan).follow();
}

}  // namespace

bool can_watch() {
    static const bool can = [] {
        const pid_t child = fork();
        if (child == 0) _exit(ptrace(PTRACE_TRACEME, 0, nullptr, nullptr) == 0 ? 0 : 1);
        int status = 0;
        waitpid(child, &status, 0);
        return WIFEXITED(status) && WEXITSTATUS(status) == 0;
    }();
    return can;
}

Watched watch(const std::function<int()>& work) {
    return run_watched(work, {});
}

Watched cut_power(const std::function<int()>& work, int call, When when) {
    Plan plan;
    plan.call = call;
    plan.cut = when;
    return run_watched(work, plan);
}

Watched break_disk(const std::function<int()>& work, int call, int error, bool from_then_on) {
    Plan plan;
    plan.call = call;
    plan.error = error;
    plan.from_then_on = from_then_on;
    return run_watched(work, plan);
}

std::function<int()> program(const std::vector<std::string>& words, const std::string& output) {
    return [words, output] {
        const int handle = ::open(output.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644);
        dup2(handle, 1);
        dup2(handle, 2);
        std::vector<char*> arguments;
        for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
        arguments.push_back(nullptr);
        setenv("ASAN_OPTIONS", "detect_leaks=0", 1);  // which cannot look while somebody else is watching
        execv(arguments[0], arguments.data());
        return 127;
    };
}

}  // namespace foreslice::testing
