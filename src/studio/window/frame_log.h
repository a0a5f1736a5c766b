// How long frames took: the program's own part, and apart from it what drawing and showing them cost, which
// on displays without a graphics card is the processor's work too.
#pragma once

#include <string>
#include <vector>

namespace foreslice::studio {

class FrameLog {
  public:
    struct Frame {
        double built_s = 0;
        double processor_s = 0;  ///< of that, this thread's own: what a machine busy with other things leaves
        double rendered_s = 0;
        std::string at;  ///< what was on the screen
    };
    void note(const Frame& frame);
    /// From an edit to the end of the frame that showed the first picture with it in.
    void note_answer(double seconds, const std::string& edit);
    /// What was done ahead between frames, while nobody did anything.
    void note_ahead(double seconds) { ahead_s_.push_back(static_cast<float>(seconds)); }
    /// A line each: count, median, 99th percentile, longest, and where the longest were; empty without
    /// frames.
    std::string words() const;
    void clear() { *this = {}; }

  private:
    struct Named {
        float seconds = 0;
        std::string at;
    };
    static void keep_longest(std::vector<Named>& longest, double seconds, const std::string& at);
    static std::string named(const std::vector<Named>& longest);

    std::vector<float> built_s_, processor_s_, rendered_s_, answered_s_, ahead_s_;
    std::vector<Named> longest_built_, longest_answered_;
};

/// Processor time that this thread has taken so far.
double thread_seconds();

}  // namespace foreslice::studio
