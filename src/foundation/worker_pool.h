// A fixed team of threads for parallel loops. The way a loop is split never depends on the number of threads,
// so a loop whose items are independent gives the same bits on one thread and on many.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>

namespace foreslice {

class WorkerPool {
  public:
    /// `threads` in all, the caller's included; 0 means as many as the machine has. They begin with the first
    /// loop, and where threads hand on their priority they have that of the thread that asks for it.
    explicit WorkerPool(unsigned threads = 0);
    ~WorkerPool();
    WorkerPool(const WorkerPool&) = delete;
    WorkerPool& operator=(const WorkerPool&) = delete;

    unsigned threads() const;

    /// Calls `body(i)` once for every i in [0, count), in any order, on any of the threads; returns when all
    /// are done. The first exception thrown by a body is rethrown here after the others were given up.
    /// Calls from inside a body run serially on the calling thread. Loops from several threads take turns.
    void parallel_for(std::size_t count, const std::function<void(std::size_t)>& body);

  private:
    struct Team;
    std::unique_ptr<Team> team_;
};

}  // namespace foreslice
