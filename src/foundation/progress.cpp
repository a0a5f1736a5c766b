#include "foundation/progress.h"

#include <algorithm>

#include "foundation/error.h"

namespace foreslice {

void Progress::begin_stage(std::string name, std::int64_t total) {
    check();
    {
        const std::lock_guard lock(mutex_);
        stage_ = std::move(name);
    }
    total_.store(total, std::memory_order_relaxed);
    done_.store(0, std::memory_order_relaxed);
    tell();
}

void Progress::advance(std::int64_t steps) {
    check();
    done_.fetch_add(steps, std::memory_order_relaxed);
    tell();
}

void Progress::check() const {
    if (stop_requested()) throw Stopped();
}

std::string Progress::stage() const {
    const std::lock_guard lock(mutex_);
    return stage_;
}

double Progress::fraction() const {
    const auto all = total();
    if (all <= 0) return 0;
    return std::clamp(static_cast<double>(done()) / static_cast<double>(all), 0.0, 1.0);
}

void Progress::tell() {
    if (!listener_) return;
    const std::lock_guard lock(listener_mutex_);
    listener_(*this);
}

}  // namespace foreslice
