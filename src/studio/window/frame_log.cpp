#include "studio/window/frame_log.h"

#include <algorithm>
#include <cstdio>
#include <ctime>

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

void FrameLog::keep_longest(std::vector<Named>& longest, double seconds, const std::string& at) {
    constexpr std::size_t most_named = 6;
    const auto time = static_cast<float>(seconds);
    if (longest.size() == most_named && longest.back().seconds >= time) return;
    const auto place =
        std::find_if(longest.begin(), longest.end(), [&](const Named& one) { return one.seconds < time; });
    longest.insert(place, Named{time, at});
    if (longest.size() > most_named) longest.pop_back();
}

std::string FrameLog::named(const std::vector<Named>& longest) {
    std::string words;
    for (const Named& one : longest) {
        char time[32];
        std::snprintf(time, sizeof time, "%.1f", 1000 * static_cast<double>(one.seconds));
        words += (words.empty() ? "  longest: " : ", ") + std::string(time) + " " + one.at;
    }
    return words.empty() ? "" : words + "\n";
}

void FrameLog::note(const Frame& frame) {
    if (built_s_.size() >= most_frames) clear();
    built_s_.push_back(static_cast<float>(frame.built_s));
    processor_s_.push_back(static_cast<float>(frame.processor_s));
    rendered_s_.push_back(static_cast<float>(frame.rendered_s));
    keep_longest(longest_built_, frame.processor_s, frame.at);
}

void FrameLog::note_answer(double seconds, const std::string& edit) {
    answered_s_.push_back(static_cast<float>(seconds));
    keep_longest(longest_answered_, seconds, edit);
}

std::string FrameLog::words() const {
    return line("frames built", built_s_) + line("of them processor time", processor_s_) +
           named(longest_built_) + line("frames rendered", rendered_s_) +
           line("edits answered by a first picture", answered_s_) + named(longest_answered_) +
           line("parts done ahead between frames", ahead_s_);
}

double thread_seconds() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

}  // namespace foreslice::studio
