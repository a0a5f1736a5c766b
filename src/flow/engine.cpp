#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <utility>

#include "flow/engine_store.h"
#include "flow/flow.h"
#include "flow/material_field.h"
#include "flow/path_plan.h"
#include "flow/run_map.h"
#include "flow/shared_legs.h"
#include "flow/tabulated_map.h"
#include "foundation/content_key.h"
#include "foundation/error.h"

namespace foreslice::flow {
namespace {

// A wire of radius below about two cells cannot be told from a smaller one, so thin wires refine the grid.
constexpr double fewest_cells_a_radius = 2.2;
constexpr int most_cells_for_thin_wires = 256;
constexpr std::size_t most_batters = 255;
// Batters of different thickness on one penalty come together more slowly.
constexpr int most_iterations_apart = 150;
// How far a tool goes, in its radii, before it is looked up anew what lies where.
constexpr double radii_between_looks = 0.5;
// A preview's grid errs by more than this.
constexpr double preview_solve_tolerance = 1e-2;

int cells_for(const Box& box, const std::vector<RunPlan>& plans, int asked) {
    double thinnest = box.width_mm;
    for (const auto& plan : plans)
        if (plan.tool.round())
            thinnest = std::min(thinnest, plan.radius_mm);  // a strip's drag is its width's
    const int wanted = static_cast<int>(std::ceil(fewest_cells_a_radius * box.width_mm / thinnest));
    return std::max(asked, std::min(wanted, most_cells_for_thin_wires));
}

void add(ContentKey& key, const batter::Rheology& r) {
    key.add(r.consistency_pa_sn).add(r.flow_index).add(r.yield_stress_pa);
}

void add(ContentKey& key, const RunPlan& run, const Resolution& resolution) {
    key.add(resolution.position_spacing_mm)
        .add(resolution.map_tolerance_mm)
        .add(run.radius_mm)
        .add(run.speed_mm_per_s);
    if (!run.tool.one_wire())
        for (const auto& core : run.tool.cores()) key.add(core.a.x).add(core.a.y).add(core.b.x).add(core.b.y);
    for (const auto& leg : run.legs)
        key.add(leg.start_mm.x).add(leg.start_mm.y).add(leg.end_mm.x).add(leg.end_mm.y);
}

/// What is the same for all runs of a map.
struct Task {
    Box box;
    Resolution resolution;
    std::vector<RunPlan> plans;
    CreepingFlow flow;
    std::shared_ptr<const Splitting> method;  ///< may serve, or may not
    ContentKey key;                           ///< of all that a run depends on but its path
};

SplitControl control_for(const Resolution& resolution) {
    SplitControl control;
    if (resolution.map_tolerance_mm > preview_tolerance_mm) control.tolerance = preview_solve_tolerance;
    return control;
}

LegFlow solved(const Task& task, const Leg& leg, const RunPlan& plan, const SplitControl& control,
               SplitState& state, const BeforeSolve& before_solve, Progress& progress) {
    return LegFlow(task.flow, task.box, leg.start_mm, leg.end_mm, plan.tool, plan.speed_mm_per_s,
                   task.resolution.position_spacing_mm, control, state, progress, before_solve);
}

Steps steps_for(const Resolution& resolution) {
    return resolution.map_tolerance_mm > preview_tolerance_mm ? Steps::quick : Steps::exact;
}

std::size_t positions_of(const Task& task, const Leg& leg, const ToolShape& tool) {
    const double spacing = task.resolution.position_spacing_mm;
    return record_positions(task.box, leg.start_mm, leg.end_mm, tool, spacing,
                            closest_records_mm(task.flow.grid(), spacing))
        .size();
}

// Most work first, so that the last to be taken up is short, and no thread waits long for another at the end.
template <class Work>
std::vector<std::size_t> longest_first(std::vector<std::size_t> turns, const Work& work_of) {
    std::stable_sort(turns.begin(), turns.end(),
                     [&](std::size_t a, std::size_t b) { return work_of(a) > work_of(b); });
    return turns;
}

// Solves what is not kept. Every leg starts cold, so that its flow depends on nothing else.
void solve(SharedLegs& legs, const Task& task, Kept<std::shared_ptr<const LegFlow>>& kept_legs,
           WorkerPool& pool, Progress& progress) {
    auto& wanted = legs.wanted();
    std::vector<std::size_t> missing;
    for (std::size_t k = 0; k < wanted.size(); ++k) {
        if (const auto* kept = kept_legs.find(wanted[k].key)) {
            wanted[k].flow = *kept;
            continue;
        }
        wanted[k].positions = positions_of(task, wanted[k].leg, wanted[k].plan->tool);
        missing.push_back(k);
    }
    const auto turns = longest_first(std::move(missing), [&](std::size_t k) { return wanted[k].positions; });
    progress.begin_stage("solving the flow", static_cast<std::int64_t>(turns.size()));
    pool.parallel_for(turns.size(), [&](std::size_t turn) {
        SharedLegs::Wanted& leg = wanted[turns[turn]];
        SplitState state;
        state.method = task.method;
        leg.flow = std::make_shared<const LegFlow>(
            solved(task, leg.leg, *leg.plan, control_for(task.resolution), state, {}, progress));
        progress.advance();
    });
    for (const std::size_t k : turns) kept_legs.keep(wanted[k].key, wanted[k].flow);
}

// A run among batters that lie as `field` has them after the runs before.
void solve_apart_into(Run& run, const Task& task, const RunPlan& plan, MaterialField& field, WorkerPool& pool,
                      Progress& progress) {
    field.settle(pool);
    SplitControl control = control_for(task.resolution);
    control.most_iterations = most_iterations_apart;
    double looked_at = 0;
    const BeforeSolve look = [&](const LegFlow& leg, double travel, SplitState& state) {
        if (travel > 0 && travel - looked_at < radii_between_looks * leg.radius_mm()) return;
        looked_at = travel;
        state.batters = field.cells(run.legs.data(), run.legs.data() + run.legs.size(), leg, travel, pool);
    };
    SplitState state;  // cold, so that a run's result depends on nothing after it
    state.method = task.method;
    run.steps = steps_for(task.resolution);
    run.legs.reserve(plan.legs.size());  // so that legs stay where they are
    for (const Leg& leg : plan.legs)
        run.legs.push_back(solved(task, leg, plan, control, state, look, progress));
}

SolvedRun tabulated(const Task& task, std::shared_ptr<const Run> run, WorkerPool& pool, Progress& progress) {
    SolvedRun out;
    for (const auto& leg : run->legs) merge(out.report, leg.report());
    out.map =
        std::make_shared<RunMap>(std::move(run), task.box, task.resolution.map_tolerance_mm, pool, progress);
    return out;
}

Task task_of(const Box& box, const std::vector<batter::Rheology>& rheologies,
             const std::vector<Stroke>& strokes, const Resolution& resolution,
             const std::function<std::shared_ptr<const BoxSolver>(int)>& solver_of) {
    for (const auto& rheology : rheologies) check_rheology(rheology);
    check_resolution(resolution);
    std::vector<RunPlan> plans = plan_runs(box, strokes);
    const int cells = cells_for(box, plans, resolution.cells_across);
    ContentKey key;
    key.add(box.width_mm).add(box.height_mm).add(cells);
    for (const auto& rheology : rheologies) add(key, rheology);
    return {box, resolution, std::move(plans), CreepingFlow(solver_of(cells), rheologies), nullptr, key};
}

}  // namespace

void merge(SolveReport& total, const SolveReport& part) {
    total.positions += part.positions;
    total.most_iterations = std::max(total.most_iterations, part.most_iterations);
    total.worst_residual = std::max(total.worst_residual, part.worst_residual);
    total.converged = total.converged && part.converged;
}

FlowEngine::FlowEngine(WorkerPool& pool) : store_(std::make_unique<Store>(pool)) {}
FlowEngine::~FlowEngine() = default;
WorkerPool& FlowEngine::worker_pool() const {
    return store_->pool;
}

std::shared_ptr<const FlowMap> FlowEngine::map(const Box& box, const batter::Rheology& rheology,
                                               const std::vector<Stroke>& strokes,
                                               const Resolution& resolution, Progress& progress) {
    WorkerPool& pool = store_->pool;
    Task task = task_of(box, {rheology}, strokes, resolution,
                        [&](int cells) { return store_->solver_for(box, cells); });
    const auto& plans = task.plans;
    std::vector<SolvedRun> runs(plans.size());
    std::vector<std::uint64_t> keys(plans.size());
    std::vector<std::size_t> missing;
    for (std::size_t k = 0; k < plans.size(); ++k) {
        ContentKey key = task.key;
        add(key, plans[k], resolution);
        keys[k] = key.value();
        if (const SolvedRun* kept = store_->runs.find(keys[k]))
            runs[k] = *kept;
        else
            missing.push_back(k);
    }
    const auto turns = longest_first(std::move(missing), [&](std::size_t k) {
        std::size_t positions = 0;
        for (const Leg& leg : plans[k].legs) positions += positions_of(task, leg, plans[k].tool);
        return positions;
    });
    if (!turns.empty()) {
        const RunPlan& first = plans[turns.front()];
        task.method = store_->method =
            task.flow.method(first.tool, first.speed_mm_per_s, control_for(resolution), store_->method);
    }
    SharedLegs legs(box, ContentKey()
                             .add(task.key.value())
                             .add(resolution.position_spacing_mm)
                             .add(control_for(resolution).tolerance)
                             .value());
    for (const std::size_t k : turns) legs.want(plans[k]);
    solve(legs, task, store_->legs, pool, progress);
    progress.begin_stage("mapping the flow", static_cast<std::int64_t>(turns.size()));
    const auto tabulate = [&](std::size_t turn) {
        const std::size_t k = turns[turn];
        auto run = std::make_shared<const Run>(Run{legs.legs_of(plans[k]), steps_for(resolution)});
        runs[k] = tabulated(task, std::move(run), pool, progress);
        progress.advance();
    };
    // Runs go side by side, so that nobody waits within a run, unless threads would be left over.
    if (turns.size() % pool.threads() == 0 || turns.size() >= 2 * pool.threads())
        pool.parallel_for(turns.size(), tabulate);
    else
        for (std::size_t turn = 0; turn < turns.size(); ++turn) tabulate(turn);
    for (const std::size_t k : turns) store_->runs.keep(keys[k], runs[k]);
    return tabulated_map(box, task.flow, plans, std::move(runs), nullptr);
}

std::shared_ptr<const FlowMap> FlowEngine::map(const Box& box, const Materials& materials,
                                               const std::vector<Stroke>& strokes,
                                               const Resolution& resolution, Progress& progress) {
    const std::size_t batters = materials.rheologies.size();
    if (batters == 0 || batters > most_batters)
        throw InputError("", "batters", plain_number(static_cast<double>(batters)),
                         "1 to " + std::to_string(most_batters));
    const batter::Rheology& first = materials.rheologies.front();
    if (std::all_of(materials.rheologies.begin(), materials.rheologies.end(),
                    [&](const batter::Rheology& other) { return other == first; }))
        return map(box, first, strokes, resolution, progress);
    WorkerPool& pool = store_->pool;
    const Task task = task_of(box, materials.rheologies, strokes, resolution,
                              [&](int cells) { return store_->solver_for(box, cells); });
    MaterialField field(task.flow.grid(), box, materials);
    ContentKey key = task.key;  // each run's depends on the runs before it
    key.add("batters").add(materials.key);
    std::vector<SolvedRun> runs;
    progress.begin_stage("solving the flow", static_cast<std::int64_t>(task.plans.size()));
    for (const RunPlan& plan : task.plans) {
        add(key, plan, resolution);
        if (const SolvedRun* kept = store_->runs.find(key.value())) {
            runs.push_back(*kept);
        } else {
            const auto run = std::make_shared<Run>();
            solve_apart_into(*run, task, plan, field, pool, progress);
            runs.push_back(tabulated(task, run, pool, progress));
            store_->runs.keep(key.value(), runs.back());
        }
        field.add(runs.back().map);
        progress.advance();
    }
    return tabulated_map(box, task.flow, task.plans, std::move(runs),
                         std::make_shared<const Materials>(materials));
}

}  // namespace foreslice::flow
