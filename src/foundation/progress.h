// How long work tells the outside what it is doing, and how the outside tells it to stop.
// One Progress belongs to one piece of work; the worker advances it, any thread may read it or ask for a
// stop.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <mutex>
#include <string>

namespace foreslice {

class Progress {
  public:
    Progress() = default;
    /// `listener` is called (from the working threads, one at a time) whenever the figures change.
    explicit Progress(std::function<void(const Progress&)> listener) : listener_(std::move(listener)) {}

    /// Start a named stage of `total` steps (0 = unknown).
    void begin_stage(std::string name, std::int64_t total);
    /// Report `steps` more steps done; throws Stopped if a stop was asked for.
    void advance(std::int64_t steps = 1);
    /// Throws Stopped if a stop was asked for.
    void check() const;

    void request_stop() { stop_.store(true, std::memory_order_relaxed); }
    bool stop_requested() const { return stop_.load(std::memory_order_relaxed); }

    std::string stage() const;
    std::int64_t done() const { return done_.load(std::memory_order_relaxed); }
    std::int64_t total() const { return total_.load(std::memory_order_relaxed); }
    /// Share of the present stage that is done, 0..1 (0 when the total is unknown).
    double fraction() const;

  private:
    void tell();

    std::function<void(const Progress&)> listener_;
    mutable std::mutex mutex_;
    std::mutex listener_mutex_;
    std::string stage_;
    std::atomic<std::int64_t> done_{0};
    std::atomic<std::int64_t> total_{0};
    std::atomic<bool> stop_{false};
};

}  // namespace foreslice
