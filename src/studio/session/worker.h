// One thread that does one piece of work at a time. Work that is waiting is replaced by newer work (only the
// newest edit is worth drawing); errands are done in order and never replaced (a file that was asked for).
#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "foundation/progress.h"

namespace foreslice::studio {

/// What is to be done first when there is less of the machine than work: what the hand waits for, what it
/// will look at next, or what may come when it comes.
enum class Urgency { now, next, some_time };

class Worker {
  public:
    /// Runs on the worker's thread. May throw Stopped; everything else it has to deal with itself.
    using Work = std::function<void(Progress&)>;

    struct Doing {
        bool busy = false;
        std::string stage;
        double fraction = 0;  ///< of the stage, 0..1
    };

    /// The threads of a WorkerPool whose first loop it runs are as urgent as itself.
    explicit Worker(Urgency urgency = Urgency::some_time);
    /// Asks what is running to stop, drops what is waiting and waits for the thread.
    ~Worker();
    Worker(const Worker&) = delete;
    Worker& operator=(const Worker&) = delete;

    void post(Work work);
    void run_errand(Work errand);
    /// Asks replaceable work that is running to stop, and drops replaceable work that waits.
    void stop_work();
    /// The same for everything, errands as well.
    void stop_all();
    Doing doing() const;
    /// Whether an errand runs or waits: replaceable work would have to wait for it.
    bool on_errands() const;
    /// Waits until nothing is running or waiting.
    void wait_until_idle() const;

  private:
    void run(Urgency urgency);

    mutable std::mutex mutex_;
    mutable std::condition_variable wake_, idle_;
    std::deque<Work> errands_;
    Work waiting_;
    std::shared_ptr<Progress> running_;
    bool running_errand_ = false;
    bool closing_ = false;
    std::thread thread_;
};

}  // namespace foreslice::studio
