// Prints one table of how long faces take: the default face cold, after edits of each kind, coarse, and on
// one thread and on all. Medians of a few runs; CPU seconds are the figures to compare on a shared machine.
// Parts can be asked for by name: faces, growth, loaves, memory, naive.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <functional>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#if defined(__unix__)
#include <sys/resource.h>
#endif

#include "bench/naive_engine.h"
#include "colour/pigment.h"
#include "flow/path_plan.h"
#include "foundation/worker_pool.h"
#include "picture/face.h"
#include "picture/loaf.h"
#include "picture/orders.h"

using namespace foreslice;

namespace {

struct Cost {
    double wall_s = 0, cpu_s = 0;
};

Cost cost_of(const std::function<void()>& work) {
    const auto wall = std::chrono::steady_clock::now();
    const std::clock_t cpu = std::clock();
    work();
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - wall;
    return {passed.count(), static_cast<double>(std::clock() - cpu) / CLOCKS_PER_SEC};
}

// Medians of wall and CPU time. `work` gets the number of the run, so that every run can differ.
Cost median_cost(int runs, const std::function<void(int)>& work) {
    std::vector<double> wall, cpu;
    for (int run = 0; run < runs; ++run) {
        const Cost cost = cost_of([&] { work(run); });
        wall.push_back(cost.wall_s);
        cpu.push_back(cost.cpu_s);
    }
    const auto middle = static_cast<std::ptrdiff_t>(runs / 2);
    std::nth_element(wall.begin(), wall.begin() + middle, wall.end());
    std::nth_element(cpu.begin(), cpu.begin() + middle, cpu.end());
    return {wall[static_cast<std::size_t>(middle)], cpu[static_cast<std::size_t>(middle)]};
}

double peak_memory_mb() {
#if defined(__unix__)
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024;
#else
    return 0;
#endif
}

// Five portions in five layers, 65 x 78.8 mm, seven passes of a 6 mm wire. The path is written out point by
// point, so that one pass can be moved on its own.
design::Design default_face(batter::Trace trace) {
    design::Design design;
    design.name = "Harbour at dusk";
    design.mould = {65, 90, 280, 78.8};
    design.batter.trace = trace;
    const char* const doses[] = {"activated-charcoal", "iron-oxide-yellow", "iron-oxide-red", "", ""};
    for (int k = 0; k < 5; ++k) {
        design::Portion portion;
        portion.id = std::string("p").append(std::to_string(k));
        portion.name = portion.id;
        portion.share_percent = 20;
        if (*doses[k]) portion.doses.push_back({doses[k], 3.0 + k});
        portion.white = {"titanium-dioxide", k > 2 ? 2.0 * k : 0.0};
        design.portions.push_back(portion);
        design.pours.push_back({portion.id, {}, design::PourManner::laid, 0.8});
    }
    design::Stroke stroke;
    stroke.path = design::Waypoints{design::path_of(stroke, design)};
    design.strokes = {stroke};
    return design;
}

// The middle pass moved across: the corners that share the x of the fourth pass.
design::Design with_moved_pass(design::Design design, double across_mm) {
    auto& points = std::get<design::Waypoints>(design.strokes[0].path).points_mm;
    const double x = points[points.size() / 2].x;
    for (Vec2& p : points)
        if (std::abs(p.x - x) < 1e-6) p.x += across_mm;
    return design;
}

design::Design with_dose(design::Design design, double g_per_kg) {
    design.portions[0].doses[0].g_per_kg_oils = g_per_kg;
    return design;
}

design::Design with_layers_turned(design::Design design, int by) {
    std::rotate(design.pours.begin(), design.pours.begin() + by, design.pours.end());
    return design;
}

class Bench {
  public:
    Bench()
        : library_(std::make_shared<const colour::ColourantLibrary>(
              colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json"))) {
        fine_.px_per_mm = 512 / 65.0;
        coarse_.px_per_mm = 3;
        coarse_.resolution.cells_across = 48;
        coarse_.resolution.position_spacing_mm = 4;
        coarse_.resolution.map_tolerance_mm = 0.3;
        sketch_.px_per_mm = 3;
        sketch_.resolution = {24, 20, 0.5};  // as in studio/session/face_drawer.cpp
    }

    void run(const std::function<bool(const char*)>& wanted) {
        std::printf("%-58s %8s %8s %9s %8s\n", "", "threads", "wall s", "CPU s", "ratio");
        if (wanted("faces"))
            for (const unsigned threads : {1U, 0U}) faces(threads);
        if (wanted("growth")) growth();
        if (wanted("loaves")) loaves();
        if (wanted("memory")) memory();
        std::printf("peak memory of all of this %.0f MB\n", peak_memory_mb());
        if (!wanted("naive")) return;
        naive("Newtonian", batter::Trace::emulsion, 6);
        naive("light trace", batter::Trace::light, 2);
    }

  private:
    void row(const std::string& name, unsigned threads, Cost cost) {
        if (first_cpu_s_ == 0) first_cpu_s_ = cost.cpu_s;
        std::printf("%-58s %8u %8.3f %9.3f %8.3f\n", name.c_str(), threads, cost.wall_s, cost.cpu_s,
                    cost.cpu_s / first_cpu_s_);
        std::fflush(stdout);
    }

    void faces(unsigned threads) {
        cold("default face, cold, Newtonian", batter::Trace::emulsion, fine_, threads);
        cold("default face, cold, light trace", batter::Trace::light, fine_, threads);
        edits(threads);
        orders(threads);
        cold("coarse preview, cold, light trace", batter::Trace::light, coarse_, threads);
        moved_pass("coarse preview, one pass moved, light trace", coarse_, threads);
        cold("the studio's sketch, cold, light trace", batter::Trace::light, sketch_, threads);
        moved_pass("the studio's sketch, one pass moved, light trace", sketch_, threads);
    }

    void cold(const std::string& name, batter::Trace trace, const picture::FaceRequest& request,
              unsigned threads) {
        WorkerPool pool(threads);
        const auto design = default_face(trace);
        row(name, pool.threads(), median_cost(3, [&](int) {
                picture::FaceMaker maker(pool, library_);
                Progress progress;
                maker.make(design, request, progress);
            }));
    }

    void edits(unsigned threads) {
        WorkerPool pool(threads);
        picture::FaceMaker maker(pool, library_);
        Progress progress;
        const auto design = default_face(batter::Trace::light);
        maker.make(design, fine_, progress);
        row("one dose changed", pool.threads(), median_cost(5, [&](int run) {
                maker.make(with_dose(design, 5.0 + 0.1 * run), fine_, progress);
            }));
        row("order of the layers changed", pool.threads(), median_cost(3, [&](int run) {
                maker.make(with_layers_turned(design, 1 + run), fine_, progress);
            }));
        moved_pass("one pass of seven moved, light trace", fine_, threads);
    }

    // The flow and the origins are there; every order is laid along them, looked at and compared.
    void orders(unsigned threads) {
        WorkerPool pool(threads);
        picture::FaceMaker maker(pool, library_);
        Progress progress;
        const auto design = default_face(batter::Trace::light);
        picture::OrdersRequest request;
        picture::ranked_orders(maker, design, request, progress);
        row("120 orders of five layers at 256 px", pool.threads(), median_cost(3, [&](int run) {
                request.seed = static_cast<std::uint64_t>(run);
                picture::ranked_orders(maker, design, request, progress);
            }));
    }

    void moved_pass(const std::string& name, const picture::FaceRequest& request, unsigned threads) {
        WorkerPool pool(threads);
        picture::FaceMaker maker(pool, library_);
        Progress progress;
        const auto design = default_face(batter::Trace::light);
        maker.make(design, request, progress);
        row(name, pool.threads(), median_cost(3, [&](int run) {
                maker.make(with_moved_pass(design, 0.5 + 0.3 * run), request, progress);
            }));
    }

    void naive(const char* name, batter::Trace trace, int timed_steps) {
        const auto design = default_face(trace);
        const auto cost = bench::naive_cost(design::box_of(design), design.batter.rheology(), 96,
                                            design::flow_strokes_of(design)[0], 512, timed_steps);
        const Cost own = fine_cost(design, fine_, 1);
        std::printf("naive engine, flow and tracing only, %s, extrapolated: %.0f CPU s, %.0f times ours\n",
                    name, cost.total_cpu_s, cost.total_cpu_s / own.cpu_s);
        std::printf(
            "  (%d steps of one cell, %d of them done: %.3f s a step, %.0f %% of it solving; its stream\n"
            "   function is within %.1e of ours)\n",
            cost.steps, cost.timed_steps, cost.cpu_s_per_step, 100 * cost.solve_share, cost.psi_difference);
    }

    Cost fine_cost(const design::Design& design, const picture::FaceRequest& request, unsigned threads) {
        WorkerPool pool(threads);
        picture::FaceMaker maker(pool, library_);
        Progress progress;
        return cost_of([&] { maker.make(design, request, progress); });
    }

    // How the cost grows with what is asked.
    void growth() {
        for (const int passes : {7, 14, 28}) {
            auto design = default_face(batter::Trace::light);
            design::Passes more;
            more.count = passes;
            design.strokes[0].path = more;
            row("light trace, " + std::to_string(passes) + " passes", 1, fine_cost(design, fine_, 1));
        }
        for (const int cells : {64, 96, 144, 216}) {
            auto request = fine_;
            request.resolution.cells_across = cells;
            row("light trace, " + std::to_string(cells) + " cells across", 1,
                fine_cost(default_face(batter::Trace::light), request, 1));
        }
        for (const int width_px : {960, 3840}) {
            auto request = fine_;
            request.px_per_mm = width_px / 65.0;
            row("light trace, " + std::to_string(width_px) + " px across", 0,
                fine_cost(default_face(batter::Trace::light), request, 0));
        }
    }

    // How fast the composed map is read, against plain copying: every corner of a pixel asks every run's
    // table for 16 pairs of numbers and the number of its leaf.
    void memory() {
        constexpr double bytes_a_look_up = 16 * 2 * sizeof(float) + sizeof(std::int32_t);
        WorkerPool pool(1);
        flow::FlowEngine engine(pool);
        Progress progress;
        const auto design = default_face(batter::Trace::light);
        const auto box = design::box_of(design);
        const auto strokes = design::flow_strokes_of(design);
        const auto map = engine.map(box, design.batter.rheology(), strokes, {}, progress);
        const std::size_t runs = flow::plan_runs(box, strokes).size();
        std::vector<Vec2> line;
        std::size_t asked = 0;
        const Cost cost = cost_of([&] {
            for (int row = 0; row < 1200; ++row) {
                line.clear();
                for (int column = 0; column < 1000; ++column)
                    line.push_back(
                        {(column + 0.5) * box.width_mm / 1000, (row + 0.5) * box.height_mm / 1200});
                map->to_origins_mm(line.data(), line.size());
                asked += line.size() * runs;
            }
        });
        std::vector<double> from(std::size_t{8} << 20U, 1.0), to(from.size());
        const Cost copied = median_cost(5, [&](int run) {
            from[static_cast<std::size_t>(run)] = run;
            std::copy(from.begin(), from.end(), to.begin());
        });
        if (to.back() != 1) throw std::runtime_error("the copy is not one");  // so that it is made
        const double copy_gb_per_s = 2e-9 * sizeof(double) * static_cast<double>(from.size()) / copied.cpu_s;
        const double ns = 1e9 * cost.cpu_s / static_cast<double>(asked);
        std::printf(
            "composing %zu runs: %.0f ns a look-up, what is traced afresh among it; %.1f GB/s, copying %.1f "
            "GB/s\n",
            runs, ns, bytes_a_look_up / ns, copy_gb_per_s);
    }

    void loaves() {
        for (const bool steady : {true, false}) {
            auto design = default_face(batter::Trace::light);
            design.mould.length_mm = 310;
            if (!steady) design.hand = {0.8, 1};
            WorkerPool pool(0);
            picture::FaceMaker maker(pool, library_);
            Progress progress;
            row(steady ? "loaf of 12 bars, light trace"
                       : "the same, the hand wanders 0.8 mm and the wire sags 1 mm",
                pool.threads(), cost_of([&] { picture::loaf_picture(maker, design, {}, progress); }));
        }
    }

    std::shared_ptr<const colour::ColourantLibrary> library_;
    picture::FaceRequest fine_, coarse_, sketch_;
    double first_cpu_s_ = 0;
};

}  // namespace

int main(int count, char** words) {
    const std::vector<std::string> parts(words + 1, words + count);
    try {
        Bench().run([&](const char* part) {
            return parts.empty() || std::find(parts.begin(), parts.end(), part) != parts.end();
        });
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
    return 0;
}
