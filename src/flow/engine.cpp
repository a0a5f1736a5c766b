#include <algorithm>
#include <cmath>
#include <list>
#include <unordered_map>

#include "flow/flow.h"
#include "flow/path_plan.h"
#include "flow/run_map.h"
#include "foundation/content_key.h"
#include "foundation/error.h"

namespace foreslice::flow {
namespace {

// A wire of radius below about two cells cannot be told from a smaller one, so thin wires refine the grid.
constexpr double fewest_cells_a_radius = 2.2;
constexpr int most_cells_for_thin_wires = 256;

int cells_for(const Box& box, double thinnest_radius, int asked) {
    const int wanted = static_cast<int>(std::ceil(fewest_cells_a_radius * box.width_mm / thinnest_radius));
    return std::max(asked, std::min(wanted, most_cells_for_thin_wires));
}

/// A solved run and its table.
struct SolvedRun {
    std::shared_ptr<const RunMap> map;
    SolveReport report;
};

void merge(SolveReport& total, const SolveReport& part) {
    total.positions += part.positions;
    total.most_iterations = std::max(total.most_iterations, part.most_iterations);
    total.worst_residual = std::max(total.worst_residual, part.worst_residual);
    total.converged = total.converged && part.converged;
}

class SolvedInstant final : public Instant {
  public:
    SolvedInstant(const CreepingFlow& flow, const Wire& wire) : wire_(wire) {
        SplitControl control;
        control.tolerance = 1e-4;  // one position only: worth solving closely
        control.most_iterations = 1000;
        SplitState cold;
        const PositionFlow solved = flow.solve(wire, control, cold);
        force_ = solved.force_n_per_m;
        in_batter_ = solved.in_batter;
        if (in_batter_) field_ = SplineField(flow.grid(), solved.psi, 1.0);
    }
    Vec2 wire_centre_mm() const override { return wire_.centre_mm; }
    Vec2 wire_velocity_mm_per_s() const override { return wire_.velocity_mm_per_s; }
    bool wire_in_batter() const override { return in_batter_; }
    Vec2 velocity_mm_per_s(Vec2 point) const override {
        const double radius = wire_.tool.radius_mm();
        if (in_batter_ && wire_.tool.nearest(point - wire_.centre_mm).square < radius * radius)
            return wire_.velocity_mm_per_s;
        const Vec2 gradient = field_.gradient(point);
        return {gradient.y, -gradient.x};
    }
    double stream_function_mm2_per_s(Vec2 point) const override { return field_.value(point); }
    Vec2 force_on_wire_n_per_m() const override { return force_; }

  private:
    Wire wire_;
    SplineField field_;
    Vec2 force_;
    bool in_batter_ = false;
};

class TabulatedFlowMap final : public FlowMap {
  public:
    TabulatedFlowMap(const Box& box, std::shared_ptr<const BoxSolver> solver,
                     const batter::Rheology& rheology, std::vector<RunPlan> plans,
                     std::vector<SolvedRun> runs)
        : box_(box), flow_(std::move(solver), rheology), plans_(std::move(plans)), runs_(std::move(runs)) {
        for (const auto& run : runs_) merge(report_, run.report);
        for (const auto& plan : plans_) path_length_ += plan.length_mm();
    }

    Vec2 origin_mm(Vec2 point) const override {
        to_origins_mm(&point, 1);
        return point;
    }
    void to_origins_mm(Vec2* points, std::size_t count) const override {
        for (std::size_t k = 0; k < count; ++k)
            points[k] = {std::clamp(points[k].x, 0.0, box_.width_mm),
                         std::clamp(points[k].y, 0.0, box_.height_mm)};
        for (auto run = runs_.rbegin(); run != runs_.rend(); ++run) run->map->before(points, count);
    }
    double path_length_mm() const override { return path_length_; }
    const SolveReport& report() const override { return report_; }

    std::unique_ptr<Instant> at_fraction(double fraction) const override {
        if (!(fraction >= 0 && fraction <= 1))
            throw InputError("", "path fraction", plain_number(fraction), "0 to 1");
        double travel = fraction * path_length_;
        Wire wire;
        for (const auto& plan : plans_)
            for (const auto& leg : plan.legs) {
                const double leg_length = length(leg.end_mm - leg.start_mm);
                const Vec2 direction = (1 / leg_length) * (leg.end_mm - leg.start_mm);
                wire = {leg.start_mm + std::clamp(travel, 0.0, leg_length) * direction, plan.tool,
                        plan.speed_mm_per_s * direction};
                if (travel <= leg_length) return std::make_unique<SolvedInstant>(flow_, wire);
                travel -= leg_length;
            }
        if (plans_.empty())
            throw InputError("", "path fraction", "the design has no strokes", "a design with a wire");
        return std::make_unique<SolvedInstant>(flow_, wire);
    }

  private:
    Box box_;
    CreepingFlow flow_;
    std::vector<RunPlan> plans_;
    std::vector<SolvedRun> runs_;
    SolveReport report_;
    double path_length_ = 0;
};

std::uint64_t key_of(const Box& box, int cells) {
    return ContentKey().add(box.width_mm).add(box.height_mm).add(cells).value();
}

std::uint64_t key_of(std::uint64_t box_key, const batter::Rheology& r, const Resolution& resolution,
                     const RunPlan& run) {
    ContentKey key;
    key.add(box_key).add(r.consistency_pa_sn).add(r.flow_index).add(r.yield_stress_pa);
    key.add(resolution.position_spacing_mm)
        .add(resolution.map_tolerance_mm)
        .add(run.radius_mm)
        .add(run.speed_mm_per_s);
    if (!run.tool.one_wire())
        for (const auto& core : run.tool.cores()) key.add(core.a.x).add(core.a.y).add(core.b.x).add(core.b.y);
    for (const auto& leg : run.legs)
        key.add(leg.start_mm.x).add(leg.start_mm.y).add(leg.end_mm.x).add(leg.end_mm.y);
    return key.value();
}

}  // namespace

struct FlowEngine::Store {
    explicit Store(WorkerPool& workers) : pool(workers) {}

    std::shared_ptr<const BoxSolver> solver_for(const Box& box, int cells) {
        const auto key = key_of(box, cells);
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
    std::list<std::pair<std::uint64_t, SolvedRun>> kept;  // most recently used first
    std::unordered_map<std::uint64_t, decltype(kept)::iterator> index;
};

FlowEngine::FlowEngine(WorkerPool& pool) : store_(std::make_unique<Store>(pool)) {}
FlowEngine::~FlowEngine() = default;
WorkerPool& FlowEngine::worker_pool() const {
    return store_->pool;
}

namespace {

std::shared_ptr<Run> solve_run(const CreepingFlow& flow, const Box& box, const RunPlan& plan,
                               const Resolution& resolution, Progress& progress) {
    auto run = std::make_shared<Run>();
    SplitState state;  // cold at the start of every run, so that a run's result depends on the run alone
    for (const auto& leg : plan.legs)
        run->legs.emplace_back(flow, box, leg.start_mm, leg.end_mm, plan.tool, plan.speed_mm_per_s,
                               resolution.position_spacing_mm, SplitControl{}, state, progress);
    return run;
}

}  // namespace

std::shared_ptr<const FlowMap> FlowEngine::map(const Box& box, const batter::Rheology& rheology,
                                               const std::vector<Stroke>& strokes,
                                               const Resolution& resolution, Progress& progress) {
    check_rheology(rheology);
    check_resolution(resolution);
    const std::vector<RunPlan> plans = plan_runs(box, strokes);
    double thinnest = box.width_mm;
    for (const auto& plan : plans)
        if (plan.tool.round())
            thinnest = std::min(thinnest, plan.radius_mm);  // a strip's drag is its width's
    const int cells = cells_for(box, thinnest, resolution.cells_across);
    const auto solver = store_->solver_for(box, cells);
    const CreepingFlow flow(solver, rheology);

    std::vector<SolvedRun> runs(plans.size());
    std::vector<std::uint64_t> keys(plans.size());
    std::vector<std::size_t> missing;
    for (std::size_t k = 0; k < plans.size(); ++k) {
        keys[k] = key_of(key_of(box, cells), rheology, resolution, plans[k]);
        if (const SolvedRun* kept = store_->find(keys[k]))
            runs[k] = *kept;
        else
            missing.push_back(k);
    }
    std::vector<std::shared_ptr<const Run>> solved(plans.size());
    progress.begin_stage("solving the flow", static_cast<std::int64_t>(missing.size()));
    store_->pool.parallel_for(missing.size(), [&](std::size_t m) {
        solved[missing[m]] = solve_run(flow, box, plans[missing[m]], resolution, progress);
        progress.advance();
    });
    progress.begin_stage("mapping the flow", static_cast<std::int64_t>(missing.size()));
    for (const std::size_t k : missing) {
        for (const auto& leg : solved[k]->legs) merge(runs[k].report, leg.report());
        runs[k].map =
            std::make_shared<RunMap>(solved[k], box, resolution.map_tolerance_mm, store_->pool, progress);
        store_->keep(keys[k], runs[k]);
        progress.advance();
    }
    return std::make_shared<TabulatedFlowMap>(box, solver, rheology, plans, std::move(runs));
}

}  // namespace foreslice::flow
