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
#include <unistd.h>
#endif

#include "foundation/error.h"

namespace foreslice {
namespace {

struct CloseFile {
    void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, CloseFile>;

bool flush_to_disk(std::FILE* file) {
    if (std::fflush(file) != 0) return false;
#if defined(_WIN32)
    return _commit(_fileno(file)) == 0;
#else
    return fsync(fileno(file)) == 0 || errno == EINVAL;  // EINVAL: not a regular file
#endif
}

long process_number() {
#if defined(_WIN32)
    return _getpid();
#else
    return static_cast<long>(getpid());
#endif
}

std::filesystem::path neighbour_of(const std::filesystem::path& path) {
    static std::atomic<unsigned> counter{0};
    auto name = path.filename().string() + ".part" + std::to_string(process_number()) + "-" +
                std::to_string(counter.fetch_add(1));
    return path.parent_path() / name;
}

[[noreturn]] void fail(const std::filesystem::path& path, const char* doing, const std::string& reason) {
    throw InputError(path.string(), "", std::string(doing) + ": " + reason, "");
}

}  // namespace

std::string read_file(const std::filesystem::path& path, std::size_t limit_bytes) {
    std::error_code error;
    const auto status = std::filesystem::status(path, error);
    if (error || status.type() == std::filesystem::file_type::not_found)
        fail(path, "cannot be read", "there is no such file");
    if (std::filesystem::is_directory(status)) fail(path, "cannot be read", "it is a folder");
    std::ifstream in(path, std::ios::binary);
    if (!in) fail(path, "cannot be read", std::strerror(errno));
    std::string bytes;
    std::string block(1U << 16, '\0');
    while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0) {
        bytes.append(block, 0, static_cast<std::size_t>(in.gcount()));
        if (bytes.size() > limit_bytes)
            throw InputError(path.string(), "",
                             "is larger than " + std::to_string(limit_bytes >> 10) + " KiB",
                             "a file up to that size");
    }
    return bytes;
}

void write_file_atomically(const std::filesystem::path& path, std::string_view bytes) {
    const auto part = neighbour_of(path);
    {
        File file(std::fopen(part.string().c_str(), "wb"));
        if (!file) fail(path, "cannot be written", std::strerror(errno));
        const bool written = std::fwrite(bytes.data(), 1, bytes.size(), file.get()) == bytes.size();
        if (!written || !flush_to_disk(file.get())) {
            const std::string reason = std::strerror(errno);
            file.reset();
            std::error_code ignored;
            std::filesystem::remove(part, ignored);
            fail(path, "cannot be written", reason);
        }
    }
    std::error_code error;
    std::filesystem::rename(part, path, error);
    if (error) {
        std::error_code ignored;
        std::filesystem::remove(part, ignored);
        fail(path, "cannot be written", error.message());
    }
}

}  // namespace foreslice
