#include "foundation/memory.h"

#include <algorithm>
#include <cmath>
#include <fstream>

#if defined(__linux__)
#include <sys/resource.h>
#include <unistd.h>
#endif

#include "foundation/error.h"

namespace foreslice {

#if defined(__linux__)
namespace {

std::optional<double> number_in(const char* file) {
    std::ifstream in(file);
    double value = 0;
    if (in >> value) return value;
    return std::nullopt;  // no such file, or the word "max"
}

// "MemAvailable:   1234 kB"
double machine_bytes() {
    std::ifstream in("/proc/meminfo");
    std::string name, unit;
    double kib = 0, sum = 0;
    while (in >> name >> kib && std::getline(in, unit))
        if (name == "MemAvailable:" || name == "SwapFree:") sum += 1024 * kib;
    return sum;
}

double taken_address_space_bytes() {
    return number_in("/proc/self/statm").value_or(0) * static_cast<double>(sysconf(_SC_PAGESIZE));
}

}  // namespace

std::optional<double> free_memory_bytes() {
    double free = machine_bytes();
    if (free <= 0) return std::nullopt;
    const auto most = number_in("/sys/fs/cgroup/memory.max"),
               now = number_in("/sys/fs/cgroup/memory.current");
    if (most && now) free = std::min(free, *most - *now);
    rlimit limit{};
    if (getrlimit(RLIMIT_AS, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY)
        free = std::min(free, static_cast<double>(limit.rlim_cur) - taken_address_space_bytes());
    return std::max(0.0, free);
}
#else
std::optional<double> free_memory_bytes() {
    return std::nullopt;
}
#endif

std::string memory_words(double bytes) {
    if (bytes < 999.5e6) return plain_number(std::round(bytes / 1e6)) + " MB";
    return plain_number(std::round(bytes / 1e8) / 10) + " GB";
}

}  // namespace foreslice
