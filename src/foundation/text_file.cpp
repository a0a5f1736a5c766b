#include "foundation/text_file.h"

#include <atomic>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <memory>
#include <system_error>

#if defined(_WIN32)
#include <io.h>
#include <process.h>
#else
#include <fcntl.h>
#include <unistd.h>
#endif

#include "foundation/error.h"

namespace foreslice {
namespace {

namespace fs = std::filesystem;

struct CloseFile {
    void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, CloseFile>;

bool flush_to_disk(std::FILE* file) {
    if (std::fflush(file) != 0) return false;
#if defined(_WIN32)
    return _commit(_fileno(file)) == 0;
#else
    // Some file systems know no such thing (EINVAL, ENOSYS, ENOTSUP); the bytes are with them all the same.
    return fsync(fileno(file)) == 0 || errno == EINVAL || errno == ENOSYS || errno == ENOTSUP;
#endif
}

// A new name is only safe once its folder is on the disk too. Nothing hangs on it by then but a power cut.
void flush_folder(const fs::path& folder) {
#if !defined(_WIN32)
    const int handle = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_CLOEXEC);
    if (handle < 0) return;
    ::fsync(handle);
    ::close(handle);
#else
    (void)folder;
#endif
}

long process_number() {
#if defined(_WIN32)
    return _getpid();
#else
    return static_cast<long>(getpid());
#endif
}

bool protected_against_writing(const fs::path& path) {
#if defined(_WIN32)
    return _waccess(path.c_str(), 2) != 0;
#else
    return ::access(path.c_str(), W_OK) != 0 && errno == EACCES;
#endif
}

fs::path neighbour_of(const fs::path& path) {
    static std::atomic<unsigned> counter{0};
    constexpr std::size_t room_for_ending = 200;  // of the 255 bytes that most file systems allow
    auto name = path.filename().string().substr(0, room_for_ending) + ".part" +
                std::to_string(process_number()) + "-" + std::to_string(counter.fetch_add(1));
    return path.parent_path() / name;
}

// Of the commonest faults in plain words; of the others what the system calls them.
std::string reason_of(int error) {
    if (error == ENOSPC) return "the disk is full";
#if defined(EDQUOT)
    if (error == EDQUOT) return "your share of the disk is full";
#endif
    return std::strerror(error);
}

[[noreturn]] void fail(const fs::path& path, const char* doing, const std::string& reason) {
    throw InputError(path.string(), "", std::string(doing) + ": " + reason, "");
}

// Writes all of it, to the disk and not only to the system's memory; 0, or why it could not.
int write_whole(const fs::path& path, std::string_view bytes) {
    errno = 0;
    File file(std::fopen(path.string().c_str(), "wb"));
    if (!file) return errno;
    if (std::fwrite(bytes.data(), 1, bytes.size(), file.get()) != bytes.size() || !flush_to_disk(file.get()))
        return errno != 0 ? errno : EIO;
    return std::fclose(file.release()) == 0 ? 0 : errno;
}

// Where the bytes belong: behind a link, so that the link stays one.
fs::path behind_links(const fs::path& path) {
    std::error_code error;
    const fs::path real = fs::canonical(path, error);
    return error ? path : real;
}

void replace(const fs::path& path, std::string_view bytes, const fs::path& named) {
    const fs::path part = neighbour_of(path);
    const auto give_up = [&](const std::string& reason) {
        std::error_code ignored;
        fs::remove(part, ignored);
        fail(named, "cannot be written", reason);
    };
    if (const int error = write_whole(part, bytes); error != 0) give_up(reason_of(error));
    std::error_code error;
    const auto before = fs::status(path, error);
    if (!error && fs::exists(before)) fs::permissions(part, before.permissions(), error);  // a courtesy
    fs::rename(part, path, error);
    if (error) give_up(reason_of(error.value()));
    flush_folder(path.parent_path());
}

}  // namespace

std::string read_file(const std::filesystem::path& path, std::size_t limit_bytes) {
    std::error_code error;
    const auto status = fs::status(path, error);
    if (status.type() == fs::file_type::not_found) fail(path, "cannot be read", "there is no such file");
    if (error) fail(path, "cannot be read", reason_of(error.value()));
    if (fs::is_directory(status)) fail(path, "cannot be read", "it is a folder");
    std::ifstream in(path, std::ios::binary);
    if (!in) fail(path, "cannot be read", reason_of(errno));
    std::string bytes;
    std::string block(1U << 16, '\0');
    while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0) {
        bytes.append(block, 0, static_cast<std::size_t>(in.gcount()));
        if (bytes.size() > limit_bytes)
            throw InputError(path.string(), "",
                             "is larger than " + std::to_string(limit_bytes >> 10) + " KiB",
                             "a file up to that size");
    }
    if (in.bad()) fail(path, "cannot be read", "the disk gave up in the middle of it");
    return bytes;
}

void write_file_atomically(const std::filesystem::path& path, std::string_view bytes) {
    std::error_code error;
    const auto there = fs::status(path, error);
    if (fs::is_directory(there)) fail(path, "cannot be written", "it is a folder");
    if (fs::is_regular_file(there) && protected_against_writing(path))
        fail(path, "cannot be written", "the file is protected against writing");
    if (!fs::exists(there) || fs::is_regular_file(there)) {
        replace(behind_links(path), bytes, path);
        return;
    }
    // A device or a pipe is written to, not replaced.
    if (const int failed = write_whole(path, bytes); failed != 0)
        fail(path, "cannot be written", reason_of(failed));
}

}  // namespace foreslice
