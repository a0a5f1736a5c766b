#include "picture/top_view.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "foundation/random.h"

namespace foreslice::picture {
namespace {

constexpr double row_step_mm = 0.5;
constexpr double most_rise_per_depth = 0.24, most_rise_mm = 5.6;
constexpr double mean_square = 1 + 0.16 / 3;  // of sizes spread evenly over 0.6 to 1.4 of the mean

double share(std::uint64_t seed, std::uint64_t index) {
    return 0.5 * (1 + seeded_uniform(seed, index));
}

// Calls visit(seed of the cell, its lower corner) for all cells of a lattice over the top that lie in a range
// along the loaf.
template <class Visit>
void over_cells(double width_mm, double from_mm, double to_mm, double cell_mm, std::uint64_t seed,
                const Visit& visit) {
    const auto first = static_cast<std::int64_t>(std::floor(from_mm / cell_mm));
    const auto last = static_cast<std::int64_t>(std::ceil(to_mm / cell_mm));
    const auto across = static_cast<std::int64_t>(std::ceil(width_mm / cell_mm));
    for (std::int64_t v = first; v < last; ++v)
        for (std::int64_t u = 0; u < across; ++u)
            visit(mixed_bits(seed ^ mixed_bits(static_cast<std::uint64_t>(v) * 1000003U +
                                               static_cast<std::uint64_t>(u))),
                  Vec2{static_cast<double>(u) * cell_mm, static_cast<double>(v) * cell_mm});
}

template <class Item>
void sort_by_depth(std::vector<Item>& items) {
    std::stable_sort(items.begin(), items.end(),
                     [](const Item& a, const Item& b) { return a.depth_mm > b.depth_mm; });
}

}  // namespace

double TopView::height_at_mm(double x_mm, double depth_mm) const {
    const double u = std::clamp(x_mm / column_mm, 0.0, static_cast<double>(columns - 1));
    const double v = std::clamp(depth_mm / row_mm, 0.0, static_cast<double>(rows - 1));
    const std::size_t i = std::min(static_cast<std::size_t>(u), columns - 2);
    const std::size_t j = std::min(static_cast<std::size_t>(v), rows - 2);
    const double s = u - static_cast<double>(i), t = v - static_cast<double>(j);
    const auto at = [&](std::size_t c, std::size_t r) {
        return static_cast<double>(height_mm[r * columns + c]);
    };
    return (1 - t) * ((1 - s) * at(i, j) + s * at(i + 1, j)) +
           t * ((1 - s) * at(i, j + 1) + s * at(i + 1, j + 1));
}

double rise_per_depth(double thickness_mm) {
    return std::min(most_rise_per_depth, most_rise_mm / thickness_mm);
}

std::vector<Flake> flakes_over(const design::Design& design, double from_mm, double to_mm, double front_mm) {
    std::vector<Flake> flakes;
    for (std::size_t kind = 0; kind < design.top.glitter.size(); ++kind) {
        const design::Glitter& glitter = design.top.glitter[kind];
        const double size = glitter.size_mm, area_mm2 = mean_square * std::numbers::pi / 4 * size * size;
        const double chance = glitter.cover_percent / 100 / area_mm2 * size * size;
        const std::uint64_t seed = mixed_bits(mixed_bits(design.seed ^ 0x911e) + kind);
        over_cells(design.mould.width_mm, from_mm, to_mm, size, seed, [&](std::uint64_t own, Vec2 corner) {
            if (share(own, 0) >= chance) return;
            Flake flake{corner.x + share(own, 1) * size, corner.y + share(own, 2) * size - front_mm,
                        0.5 * size * (0.6 + 0.8 * share(own, 3)), share(own, 4), kind};
            if (flake.x_mm < design.mould.width_mm) flakes.push_back(flake);
        });
    }
    sort_by_depth(flakes);
    return flakes;
}

std::vector<TopSeed> seeds_over(const design::Design& design, double from_mm, double to_mm, double front_mm) {
    std::vector<TopSeed> seeds;
    for (std::size_t kind = 0; kind < design.inclusions.scattered.size(); ++kind) {
        const design::Scattered& bits = design.inclusions.scattered[kind];
        if (!bits.on_top) continue;
        const double least = bits.least_mm, most = bits.most_mm;
        const double square = (least * least + least * most + most * most) / 3;
        const double area_mm2 = std::numbers::pi / 4 * square * bits.roundness;
        const double per_mm2 = bits.percent ? *bits.percent / 100 / area_mm2 : bits.per_cm2 / 100;
        const double cell = std::min(std::max(most, 0.5), std::sqrt(1 / per_mm2));
        const std::uint64_t seed = mixed_bits(mixed_bits(design.seed ^ 0x5eed5) + kind);
        over_cells(design.mould.width_mm, from_mm, to_mm, cell, seed, [&](std::uint64_t own, Vec2 corner) {
            if (share(own, 0) >= per_mm2 * cell * cell) return;
            const double length = least + (most - least) * share(own, 3);
            TopSeed bit{corner.x + share(own, 1) * cell,
                        corner.y + share(own, 2) * cell - front_mm,
                        length,
                        length * bits.roundness,
                        std::numbers::pi * share(own, 4),
                        seeded_uniform(own, 5),
                        kind};
            bit.x_mm = std::clamp(bit.x_mm, length / 2, design.mould.width_mm - length / 2);
            seeds.push_back(bit);
        });
    }
    sort_by_depth(seeds);
    return seeds;
}

TopSlices slices_of_top(const design::Design& design, double z_mm, WorkerPool& pool) {
    const double thick_mm = std::clamp(design.mould.length_mm - z_mm, 2.0, design.cut.bar_thickness_mm);
    const auto rows = static_cast<std::size_t>(std::ceil(thick_mm / row_step_mm)) + 1;
    TopSlices slices;
    slices.row_mm = thick_mm / static_cast<double>(rows - 1);
    std::vector<std::optional<FinishedTop>> made(rows);
    pool.parallel_for(rows, [&](std::size_t row) {
        made[row].emplace(design, z_mm + static_cast<double>(row) * slices.row_mm);
    });
    for (auto& top : made) slices.tops.push_back(std::move(*top));
    return slices;
}

TopView view_of_top(const design::Design& design, double z_mm, double step_mm, const TopSlices& slices,
                    const std::function<int(double x_mm)>& material_at,
                    const std::vector<int>& material_of_heap, WorkerPool& pool) {
    const double width_mm = design.mould.width_mm;
    TopView view;
    view.columns = static_cast<std::size_t>(std::ceil(width_mm / step_mm)) + 1;
    view.rows = slices.tops.size();
    view.column_mm = width_mm / static_cast<double>(view.columns - 1);
    view.row_mm = slices.row_mm;
    view.height_mm.resize(view.columns * view.rows);
    view.material.resize(view.height_mm.size());
    std::vector<int> at_rest(view.columns);
    pool.parallel_for(view.columns, [&](std::size_t i) {
        at_rest[i] = material_at(static_cast<double>(i) * view.column_mm);
    });
    pool.parallel_for(view.rows, [&](std::size_t row) {
        const FinishedTop& top = slices.tops[row];
        for (std::size_t i = 0; i < view.columns; ++i) {
            const double x = static_cast<double>(i) * view.column_mm;
            const Vec2 at{x, top.surface_mm(x) - 1e-6};
            view.height_mm[row * view.columns + i] = static_cast<float>(top.surface_mm(x));
            const auto heap = top.heap_at(at);
            const auto from = static_cast<std::size_t>(std::lround(top.back(at).x / view.column_mm));
            view.material[row * view.columns + i] = static_cast<std::uint8_t>(
                heap ? material_of_heap[*heap] : at_rest[std::min(from, view.columns - 1)]);
        }
    });
    constexpr double before_mm = 3;  // of the face: flakes that the cut meets; half of the largest seed below
    view.flakes = flakes_over(design, z_mm - before_mm, z_mm + view.depth_mm(), z_mm);
    view.seeds = seeds_over(design, z_mm - 10, z_mm + view.depth_mm(), z_mm);
    return view;
}

}  // namespace foreslice::picture
