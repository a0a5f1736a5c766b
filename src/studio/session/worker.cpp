#include "studio/session/worker.h"

#include <cerrno>
#include <utility>

#if defined(__linux__)
#include <sys/resource.h>
#include <unistd.h>
#endif

#include "foundation/error.h"

namespace foreslice::studio {

namespace {

// Among threads of equal weight a coarse face would get half of the machine while a fine one, or a whole
// loaf, is being drawn. Where the system weighs processes only, all stay equal.
void take_weight(Urgency urgency) {
#if defined(__linux__)
    if (urgency == Urgency::now) return;
    const int lighter = urgency == Urgency::next ? 4 : 8;  // each a fifth less than the one before
    const auto self = static_cast<id_t>(gettid());
    errno = 0;
    const int weight = getpriority(PRIO_PROCESS, self);
    if (errno == 0) setpriority(PRIO_PROCESS, self, weight + lighter);
#else
    (void)urgency;
#endif
}

}  // namespace

Worker::Worker(Urgency urgency) : thread_([this, urgency] { run(urgency); }) {}

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

bool Worker::on_errands() const {
    const std::lock_guard lock(mutex_);
    return running_errand_ || !errands_.empty();
}

void Worker::wait_until_idle() const {
    std::unique_lock lock(mutex_);
    idle_.wait(lock, [&] { return !running_ && !waiting_ && errands_.empty(); });
}

void Worker::run(Urgency urgency) {
    take_weight(urgency);
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
        running_errand_ = false;
        if (!waiting_ && errands_.empty()) idle_.notify_all();
    }
}

}  // namespace foreslice::studio
