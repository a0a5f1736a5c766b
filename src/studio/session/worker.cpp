#include "studio/session/worker.h"

#include <utility>

#include "foundation/error.h"

namespace foreslice::studio {

Worker::Worker() : thread_([this] { run(); }) {}

Worker::~Worker() {
    {
        const std::lock_guard lock(mutex_);
        closing_ = true;
        if (running_) running_->request_stop();
    }
    wake_.notify_all();
    thread_.join();
}

void Worker::post(Work work) {
    {
        const std::lock_guard lock(mutex_);
        waiting_ = std::move(work);
    }
    wake_.notify_all();
}

void Worker::run_errand(Work errand) {
    {
        const std::lock_guard lock(mutex_);
        errands_.push_back(std::move(errand));
    }
    wake_.notify_all();
}

void Worker::stop_work() {
    const std::lock_guard lock(mutex_);
    waiting_ = nullptr;
    if (running_ && !running_errand_) running_->request_stop();
}

void Worker::stop_all() {
    const std::lock_guard lock(mutex_);
    waiting_ = nullptr;
    if (running_) running_->request_stop();
}

Worker::Doing Worker::doing() const {
    const std::lock_guard lock(mutex_);
    if (!running_) return {waiting_ != nullptr || !errands_.empty(), "", 0};
    return {true, running_->stage(), running_->fraction()};
}

void Worker::wait_until_idle() const {
    std::unique_lock lock(mutex_);
    idle_.wait(lock, [&] { return !running_ && !waiting_ && errands_.empty(); });
}

void Worker::run() {
    std::unique_lock lock(mutex_);
    for (;;) {
        wake_.wait(lock, [&] { return closing_ || waiting_ || !errands_.empty(); });
        if (closing_) return;
        running_errand_ = !errands_.empty();
        Work work = running_errand_ ? std::move(errands_.front()) : std::exchange(waiting_, nullptr);
        if (running_errand_) errands_.pop_front();
        const auto progress = std::make_shared<Progress>();
        running_ = progress;
        lock.unlock();
        try {
            work(*progress);
        } catch (const Stopped&) {
            // Newer work took its place, or the program closes: nothing to tell.
        }
        work = nullptr;  // what it holds is let go without the lock
        lock.lock();
        running_.reset();
        if (!waiting_ && errands_.empty()) idle_.notify_all();
    }
}

}  // namespace foreslice::studio
