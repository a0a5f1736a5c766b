#include "foundation/worker_pool.h"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace foreslice {
namespace {

// True on a thread that is inside a loop body: a nested loop then runs serially instead of waiting for
// itself.
thread_local bool inside_loop = false;

struct Loop {
    std::size_t count = 0;
    const std::function<void(std::size_t)>* body = nullptr;
    std::atomic<std::size_t> next{0};
    std::mutex error_mutex;
    std::exception_ptr error;

    void work() {
        const bool outer = inside_loop;
        inside_loop = true;
        for (;;) {
            const std::size_t i = next.fetch_add(1, std::memory_order_relaxed);
            if (i >= count) break;
            try {
                (*body)(i);
            } catch (...) {
                const std::lock_guard lock(error_mutex);
                if (!error) error = std::current_exception();
                next.store(count, std::memory_order_relaxed);
            }
        }
        inside_loop = outer;
    }
};

}  // namespace

struct WorkerPool::Team {
    std::mutex turn;  // one loop at a time
    std::mutex mutex;
    std::condition_variable wake, finished;
    Loop* loop = nullptr;
    std::uint64_t generation = 0;
    unsigned busy = 0;
    bool closing = false;
    std::atomic<unsigned> threads{1};
    std::vector<std::thread> helpers;

    // Call it with the turn taken. Fewer than wanted will do as well.
    void gather() {
        try {
            while (helpers.size() + 1 < threads) helpers.emplace_back([this] { run_helper(); });
        } catch (const std::system_error&) {
            threads = static_cast<unsigned>(helpers.size()) + 1;
        }
    }

    void run_helper() {
        std::uint64_t seen = 0;
        std::unique_lock lock(mutex);
        for (;;) {
            wake.wait(lock, [&] { return closing || generation != seen; });
            if (closing) return;
            seen = generation;
            Loop* current = loop;
            if (!current) continue;
            ++busy;
            lock.unlock();
            current->work();
            lock.lock();
            if (--busy == 0) finished.notify_all();
        }
    }
};

WorkerPool::WorkerPool(unsigned threads) : team_(std::make_unique<Team>()) {
    team_->threads = threads > 0 ? threads : std::max(1U, std::thread::hardware_concurrency());
}

WorkerPool::~WorkerPool() {
    {
        const std::lock_guard lock(team_->mutex);
        team_->closing = true;
    }
    team_->wake.notify_all();
    for (auto& helper : team_->helpers) helper.join();
}

unsigned WorkerPool::threads() const {
    return team_->threads;
}

void WorkerPool::parallel_for(std::size_t count, const std::function<void(std::size_t)>& body) {
    if (inside_loop || team_->threads <= 1 || count <= 1) {
        for (std::size_t i = 0; i < count; ++i) body(i);
        return;
    }
    const std::lock_guard turn(team_->turn);
    team_->gather();
    Loop loop;
    loop.count = count;
    loop.body = &body;
    {
        const std::lock_guard lock(team_->mutex);
        team_->loop = &loop;
        ++team_->generation;
    }
    team_->wake.notify_all();
    loop.work();
    {
        std::unique_lock lock(team_->mutex);
        team_->loop = nullptr;  // helpers that wake late find nothing to do
        team_->finished.wait(lock, [&] { return team_->busy == 0; });
    }
    if (loop.error) std::rethrow_exception(loop.error);
}

}  // namespace foreslice
