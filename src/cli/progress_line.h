// A progress bar on standard error for people, silence for pipes.
#pragma once

#include <chrono>
#include <string>

#include "foundation/progress.h"

namespace foreslice::cli {

class ProgressLine {
  public:
    /// `task` stands before the bar, e.g. "Slipway".
    explicit ProgressLine(std::string task);
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

    Progress& progress() { return progress_; }

  private:
    void show(const Progress& progress);

    std::string task_;
    bool visible_;
    std::string shown_;
    std::chrono::steady_clock::time_point last_;
    Progress progress_;
};

}  // namespace foreslice::cli
