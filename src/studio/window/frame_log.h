// How long frames took: the program's own part, and apart from it what drawing and showing them cost, which
// on displays without a graphics card is the processor's work too.
#pragma once

#include <string>
#include <vector>

namespace foreslice::studio {

class FrameLog {
  public:
    void note(double built_seconds, double rendered_seconds);
    /// From an edit to the end of the frame that showed the first picture with it in.
    void note_answer(double seconds) { answered_s_.push_back(static_cast<float>(seconds)); }
    /// A line each: count, median, 99th percentile, longest; empty without frames.
    std::string words() const;
    void clear();

  private:
    std::vector<float> built_s_, rendered_s_, answered_s_;
};

}  // namespace foreslice::studio
