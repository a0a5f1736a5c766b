// What an engine keeps: the box's solver, the legs solved and the runs tabulated last.
#pragma once

#include <list>
#include <memory>
#include <unordered_map>
#include <utility>

#include "flow/flow.h"
#include "flow/run_map.h"
#include "foundation/content_key.h"

namespace foreslice::flow {

/// A solved run and its table.
struct SolvedRun {
    std::shared_ptr<const RunMap> map;
    SolveReport report;
};

/// Adds a part's positions and takes the worse of the rest.
void merge(SolveReport& total, const SolveReport& part);

/// The last results of a kind, by their keys.
template <class T>
class Kept {
  public:
    explicit Kept(std::size_t most) : most_(most) {}
    const T* find(std::uint64_t key) {
        const auto found = index_.find(key);
        if (found == index_.end()) return nullptr;
        kept_.splice(kept_.begin(), kept_, found->second);
        return &found->second->second;
    }
    /// What is not kept yet.
    void keep(std::uint64_t key, T value) {
        kept_.emplace_front(key, std::move(value));
        index_[key] = kept_.begin();
        while (kept_.size() > most_) {
            index_.erase(kept_.back().first);
            kept_.pop_back();
        }
    }

  private:
    std::size_t most_;
    std::list<std::pair<std::uint64_t, T>> kept_;  // most recently used first
    std::unordered_map<std::uint64_t, typename decltype(kept_)::iterator> index_;
};

struct FlowEngine::Store {
    explicit Store(WorkerPool& workers) : pool(workers) {}

    std::shared_ptr<const BoxSolver> solver_for(const Box& box, int cells) {
        const auto key = ContentKey().add(box.width_mm).add(box.height_mm).add(cells).value();
        if (solver && solver_key == key) return solver;
        solver = std::make_shared<BoxSolver>(Grid(box, cells));
        solver_key = key;
        return solver;
    }

    WorkerPool& pool;
    std::shared_ptr<const BoxSolver> solver;
    std::uint64_t solver_key = 0;
    std::shared_ptr<const Splitting> method;        // used last: its tables may serve again
    Kept<SolvedRun> runs{96};                       // some 4 MB each at the default resolution
    Kept<std::shared_ptr<const LegFlow>> legs{48};  // those of runs kept take no room of their own
};

}  // namespace foreslice::flow
