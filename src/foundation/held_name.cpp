#include "foundation/held_name.h"

#include <cerrno>
#include <cstdint>
#include <thread>
#include <utility>

#if defined(_WIN32)
#include <fcntl.h>
#include <io.h>
#include <sys/stat.h>
#include <windows.h>
#else
#include <fcntl.h>
#include <unistd.h>
#endif

#include "foundation/content_key.h"

namespace foreslice {
namespace {

// Every name is one byte of the register, far beyond its end: one file does for all of them, and none of them
// has to be taken away again.
std::int64_t place_of(std::string_view name) {
    constexpr std::uint64_t within_a_file = 0x3fffffffffffffffULL;
    return static_cast<std::int64_t>(ContentKey().add(name).value() & within_a_file);
}

enum class Outcome { held, taken, unknown };

#if defined(_WIN32)

int opened(const std::filesystem::path& file) {
    return _wopen(file.c_str(), _O_RDWR | _O_CREAT | _O_BINARY | _O_NOINHERIT, _S_IREAD | _S_IWRITE);
}

Outcome lock(int handle, std::int64_t place) {
    OVERLAPPED at{};
    at.Offset = static_cast<DWORD>(place & 0xffffffff);
    at.OffsetHigh = static_cast<DWORD>(place >> 32);
    const auto file = reinterpret_cast<HANDLE>(_get_osfhandle(handle));
    if (LockFileEx(file, LOCKFILE_EXCLUSIVE_LOCK | LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &at) != 0)
        return Outcome::held;
    return GetLastError() == ERROR_LOCK_VIOLATION ? Outcome::taken : Outcome::unknown;
}

bool taken(int handle, std::int64_t place) {  // the lock, if it was to be had, goes with the handle
    return lock(handle, place) == Outcome::taken;
}

void close_handle(int handle) {
    _close(handle);
}

#else

int opened(const std::filesystem::path& file) {
    constexpr mode_t everybody = 0666;  // less the person's own mask
    return ::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, everybody);
}

// The kind that belongs to the opened file, not to the process: two windows of one process would otherwise
// share it, and closing any other handle of the register would let go of all.
#if defined(F_OFD_SETLK)
struct flock whole_lock(std::int64_t place) {
    struct flock wanted {};
    wanted.l_type = F_WRLCK;
    wanted.l_whence = SEEK_SET;
    wanted.l_start = place;
    wanted.l_len = 1;
    return wanted;
}
#endif

Outcome lock(int handle, std::int64_t place) {
#if defined(F_OFD_SETLK)
    struct flock wanted = whole_lock(place);
    if (::fcntl(handle, F_OFD_SETLK, &wanted) == 0) return Outcome::held;
    return errno == EAGAIN || errno == EACCES ? Outcome::taken : Outcome::unknown;
#else
    (void)handle, (void)place;
    return Outcome::unknown;
#endif
}

bool taken(int handle, std::int64_t place) {
#if defined(F_OFD_GETLK)
    struct flock wanted = whole_lock(place);
    return ::fcntl(handle, F_OFD_GETLK, &wanted) == 0 && wanted.l_type != F_UNLCK;
#else
    (void)handle, (void)place;
    return false;
#endif
}

void close_handle(int handle) {
    ::close(handle);
}

#endif

}  // namespace

std::optional<HeldName> HeldName::try_hold(const std::filesystem::path& register_file,
                                           std::string_view name) {
    const int handle = opened(register_file);
    if (handle < 0) return HeldName(-1);
    const Outcome outcome = lock(handle, place_of(name));
    if (outcome == Outcome::held) return HeldName(handle);
    close_handle(handle);
    if (outcome == Outcome::taken) return std::nullopt;
    return HeldName(-1);
}

std::optional<HeldName> HeldName::hold(const std::filesystem::path& register_file, std::string_view name,
                                       std::chrono::milliseconds patience) {
    constexpr std::chrono::milliseconds between_tries{5};
    const auto end = std::chrono::steady_clock::now() + patience;
    auto held = try_hold(register_file, name);
    while (!held && std::chrono::steady_clock::now() < end) {
        std::this_thread::sleep_for(between_tries);
        held = try_hold(register_file, name);
    }
    return held;
}

std::vector<bool> HeldName::are_held(const std::filesystem::path& register_file,
                                     const std::vector<std::string>& names) {
    std::vector<bool> held(names.size(), false);
    const int handle = opened(register_file);
    if (handle < 0) return held;
    for (std::size_t k = 0; k < names.size(); ++k) held[k] = taken(handle, place_of(names[k]));
    close_handle(handle);
    return held;
}

HeldName::HeldName(HeldName&& other) noexcept : handle_(std::exchange(other.handle_, -1)) {}

HeldName& HeldName::operator=(HeldName&& other) noexcept {
    std::swap(handle_, other.handle_);
    return *this;
}

HeldName::~HeldName() {
    if (handle_ >= 0) close_handle(handle_);
}

}  // namespace foreslice
