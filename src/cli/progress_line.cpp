#include "cli/progress_line.h"

#include <cmath>
#include <iostream>

#include "cli/terminal.h"

namespace foreslice::cli {
namespace {

constexpr int bar_width = 28;
constexpr std::chrono::milliseconds least_pause{60};

std::string line_of(const std::string& task, const Progress& progress) {
    const int done = static_cast<int>(std::lround(progress.fraction() * bar_width));
    std::string bar;
    for (int i = 0; i < bar_width; ++i) bar += i < done ? "━" : "·";
    const auto percent = std::to_string(std::lround(100 * progress.fraction()));
    return task + "  " + bar + " " + std::string(3 - std::min<std::size_t>(3, percent.size()), ' ') +
           percent + " %  " + progress.stage();
}

}  // namespace

ProgressLine::ProgressLine(std::string task)
    : task_(std::move(task)),
      visible_(stderr_is_terminal()),
      progress_([this](const Progress& progress) { show(progress); }) {}

ProgressLine::~ProgressLine() {
    if (!shown_.empty()) std::cerr << "\r\x1b[K" << std::flush;
}

void ProgressLine::show(const Progress& progress) {
    if (!visible_) return;
    const auto now = std::chrono::steady_clock::now();
    if (now - last_ < least_pause) return;
    last_ = now;
    auto line = line_of(task_, progress);
    if (line == shown_) return;
    shown_ = std::move(line);
    std::cerr << "\r\x1b[K" << shown_ << std::flush;
}

}  // namespace foreslice::cli
