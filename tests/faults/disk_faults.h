// A disk that misbehaves at a chosen moment. Work runs in a child process whose system calls are watched
// (ptrace, Linux on x86-64), so nothing in the program has to know about it: the power can be cut at any call
// that touches the disk, or that call can fail the way a full or broken disk lets it fail.
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace foreslice::testing {

enum class When {
    before,  ///< the call is not made any more
    half,    ///< a write writes half of its bytes; as `after` for other calls
    after,
};

struct Watched {
    bool reached = false;            ///< the child came to the call that was chosen
    int code = -1;                   ///< what the child's work returned; 128 + n when signal n ended it
    std::vector<std::string> calls;  ///< those that touched the disk, in order: "open", "write", "flush", ...
};

/// False where processes may not be watched (some containers): such a test then has nothing to say.
bool can_watch();

/// The calls of `work`, undisturbed. Calls on files that are only read do not count.
Watched watch(const std::function<int()>& work);
/// Ends the process at the n-th of them (from 0), as a power cut would.
Watched cut_power(const std::function<int()>& work, int call, When when);
/// Lets the n-th of them, and with `from_then_on` all later ones of the same name, fail with this errno.
Watched break_disk(const std::function<int()>& work, int call, int error, bool from_then_on = false);

/// `work` that runs a program in place of the child; both its outputs go to the file `output`.
std::function<int()> program(const std::vector<std::string>& words, const std::string& output);

}  // namespace foreslice::testing
