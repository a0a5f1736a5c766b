#include "studio/window/frame_log.h"

#include <algorithm>
#include <cstdio>

namespace foreslice::studio {
namespace {

constexpr std::size_t most_frames = 1U << 20U;  // some five hours of them

std::string line(const char* what, std::vector<float> times) {  // "frames built"
    if (times.empty()) return "";
    std::sort(times.begin(), times.end());
    const auto at = [&](double share) {
        const auto index = static_cast<std::size_t>(share * static_cast<double>(times.size() - 1));
        return 1000 * static_cast<double>(times[index]);
    };
    char text[160];
    std::snprintf(text, sizeof text, "%zu %s, ms: median %.1f, 99 %% under %.1f, longest %.1f\n",
                  times.size(), what, at(0.5), at(0.99), at(1));
    return text;
}

}  // namespace

void FrameLog::note(double built_seconds, double rendered_seconds) {
    if (built_s_.size() >= most_frames) clear();
    built_s_.push_back(static_cast<float>(built_seconds));
    rendered_s_.push_back(static_cast<float>(rendered_seconds));
}

std::string FrameLog::words() const {
    return line("frames built", built_s_) + line("frames rendered", rendered_s_) +
           line("edits answered by a first picture", answered_s_);
}

void FrameLog::clear() {
    built_s_.clear();
    rendered_s_.clear();
    answered_s_.clear();
}

}  // namespace foreslice::studio
