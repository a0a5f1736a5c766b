// What an engine keeps: the box's solver and the runs solved last.
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

struct FlowEngine::Store {
    explicit Store(WorkerPool& workers) : pool(workers) {}

    std::shared_ptr<const BoxSolver> solver_for(const Box& box, int cells) {
        const auto key = ContentKey().add(box.width_mm).add(box.height_mm).add(cells).value();
        if (solver && solver_key == key) return solver;
        solver = std::make_shared<BoxSolver>(Grid(box, cells));
        solver_key = key;
        return solver;
    }

    const SolvedRun* find(std::uint64_t key) {
        const auto found = index.find(key);
        if (found == index.end()) return nullptr;
        kept.splice(kept.begin(), kept, found->second);
        return &found->second->second;
    }
    void keep(std::uint64_t key, SolvedRun run) {
        kept.emplace_front(key, std::move(run));
        index[key] = kept.begin();
        while (kept.size() > most_kept) {
            index.erase(kept.back().first);
            kept.pop_back();
        }
    }

    static constexpr std::size_t most_kept = 96;  // some 4 MB each at the default resolution
    WorkerPool& pool;
    std::shared_ptr<const BoxSolver> solver;
    std::uint64_t solver_key = 0;
    std::shared_ptr<const Splitting> method;              // used last: its tables may serve again
    std::list<std::pair<std::uint64_t, SolvedRun>> kept;  // most recently used first
    std::unordered_map<std::uint64_t, decltype(kept)::iterator> index;
};

}  // namespace foreslice::flow
