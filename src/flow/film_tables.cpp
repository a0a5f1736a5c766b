#include "flow/film_tables.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "flow/bicubic.h"
#include "flow/run_map.h"

namespace foreslice::flow {
namespace {

constexpr int cells_together = 4, most_sides = 16;

// Whether the wire passes the point more up or down than across.
bool passed_upright(const Run& run, Vec2 point) {
    const LegFlow* nearest = nullptr;
    double least = 0;
    for (const LegFlow& leg : run.legs) {
        const double distance = leg.distance_mm(point);
        if (leg.still() || (nearest && distance >= least)) continue;
        nearest = &leg;
        least = distance;
    }
    return !nearest || std::abs(nearest->direction().y) >= std::abs(nearest->direction().x);
}

}  // namespace

/// A table with the points it is held against: their places in cells, and their displacements behind those of
/// the lattice.
struct FilmTables::Traced {
    Table table;
    std::vector<float> pairs;  // of the lattice
    std::vector<Vec2> test_places, test_moves;
    Vec2 span;  // from corner to corner
    std::size_t points = 0;
};

// `coarser`: a table over the same cells with half as many sides one way, whose points are taken over.
FilmTables::Traced FilmTables::traced(const Run& run, const CellGrid& grid, Table table, int tests_x,
                                      int tests_y, const Traced* coarser) {
    Traced out;
    out.table = table;
    std::vector<Vec2> places;
    for (int q = 0; q <= table.sides_y; ++q)
        for (int p = 0; p <= table.sides_x; ++p)
            places.push_back({table.i + table.wide * static_cast<double>(p) / table.sides_x,
                              table.j + table.high * static_cast<double>(q) / table.sides_y});
    const std::size_t lattice = places.size();
    for (int q = 0; q < tests_y; ++q)
        for (int p = 0; p < tests_x; ++p) {
            const double steps_x = (p + 0.5) * table.sides_x / tests_x,
                         steps_y = (q + 0.5) * table.sides_y / tests_y;
            // half way between two lattice points
            places.push_back({table.i + table.wide * (std::floor(steps_x) + 0.5) / table.sides_x,
                              table.j + table.high * (std::floor(steps_y) + 0.5) / table.sides_y});
        }
    std::vector<Vec2> points, moved;
    for (const Vec2 place : places) points.push_back({place.x * grid.size_mm.x, place.y * grid.size_mm.y});
    const auto known = [&](std::size_t k) -> const float* {
        if (!coarser || k >= lattice) return nullptr;
        const int p = static_cast<int>(k) % (table.sides_x + 1),
                  q = static_cast<int>(k) / (table.sides_x + 1);
        const int step_x = table.sides_x / coarser->table.sides_x,
                  step_y = table.sides_y / coarser->table.sides_y;
        if (p % step_x != 0 || q % step_y != 0) return nullptr;
        return &coarser->pairs[2 * static_cast<std::size_t>(q / step_y * (coarser->table.sides_x + 1) +
                                                            p / step_x)];
    };
    for (std::size_t k = 0; k < points.size(); ++k)
        if (!known(k)) moved.push_back(points[k]);
    out.points = moved.size();
    constexpr std::size_t batch = FieldBatch::most;
    for (std::size_t k = 0; k < moved.size(); k += batch)
        run.trace_back(moved.data() + k, static_cast<int>(std::min(batch, moved.size() - k)));
    auto next = moved.begin();
    for (std::size_t k = 0; k < points.size(); ++k) {
        const float* before = known(k);
        const Vec2 move = before ? Vec2{} : *next++ - points[k];
        if (before) {
            out.pairs.insert(out.pairs.end(), before, before + 2);
        } else if (k < lattice) {
            out.pairs.push_back(static_cast<float>(move.x));
            out.pairs.push_back(static_cast<float>(move.y));
        } else {
            out.test_places.push_back(places[k]);
            out.test_moves.push_back(move);
        }
    }
    out.span = points[lattice - 1] - points[0];
    return out;
}

// Between lattice points the map may be off by more where it stretches more: what is seen there lies off by
// only so much less.
bool FilmTables::holds(const Traced& traced, double tolerance) {
    const Table& table = traced.table;
    const auto row = static_cast<std::size_t>(table.sides_x) + 1;
    for (std::size_t k = 0; k < traced.test_places.size(); ++k) {
        const Vec2 place = traced.test_places[k];
        const auto i = static_cast<std::size_t>((place.x - table.i) * table.sides_x / table.wide);
        const auto j = static_cast<std::size_t>((place.y - table.j) * table.sides_y / table.high);
        const float* low = &traced.pairs[2 * (j * row + i)];
        const float* high = low + 2 * (row + 1);
        const Vec2 span{traced.span.x / table.sides_x, traced.span.y / table.sides_y};
        const Vec2 rise =
            span + Vec2{static_cast<double>(high[0] - low[0]), static_cast<double>(high[1] - low[1])};
        const double allowed = tolerance * std::clamp(length(rise) / length(span), 1.0, steepest_gradient);
        const Vec2 given = interpolated(table, traced.pairs.data(), place.x, place.y);
        if (length(given - traced.test_moves[k]) > allowed) return false;
    }
    return true;
}

// Tables for a block of neighbours along the wire's way, or for a cell that is alone: as fine as it takes, or
// none.
std::vector<FilmTables::Traced> FilmTables::tables_for(const Run& run, const CellGrid& grid,
                                                       const std::vector<Cell>& block, bool upright,
                                                       double tolerance) {
    const bool preview = tolerance > preview_tolerance_mm;
    Table table;
    table.i = block.front().i;
    table.j = block.front().j;
    table.wide = block.back().i - table.i + 1;
    table.high = block.back().j - table.j + 1;
    std::vector<Traced> last;
    for (int sides_across = 4; sides_across <= (preview ? 8 : most_sides); sides_across *= 2) {
        (upright ? table.sides_x : table.sides_y) = sides_across;
        Traced together = upright ? traced(run, grid, table, sides_across, 2, last.data())
                                  : traced(run, grid, table, 2, sides_across, last.data());
        const bool good = holds(together, tolerance);
        last.clear();
        last.push_back(std::move(together));
        if (good) return last;
    }
    if (!preview) last.clear();
    return last;
}

void FilmTables::add(const Run& run, const CellGrid& grid, const std::vector<Cell>& cells, double tolerance,
                     std::vector<std::int32_t>& leaf, WorkerPool& pool, Progress& progress) {
    // Which block each cell belongs to; a map, so that their order does not depend on the cells'.
    std::map<std::pair<bool, std::pair<int, int>>, std::vector<Cell>> gathered;
    for (const Cell& cell : cells) {
        const bool upright = passed_upright(run, grid.corner_mm(cell.i, cell.j));
        gathered[{upright, upright ? std::pair{cell.i, cell.j / cells_together}
                                   : std::pair{cell.i / cells_together, cell.j}}]
            .push_back(cell);
    }
    std::vector<std::pair<bool, std::vector<Cell>>> blocks;
    for (auto& [key, block] : gathered) {
        std::sort(block.begin(), block.end(),
                  [](const Cell& a, const Cell& b) { return a.i + a.j < b.i + b.j; });
        blocks.emplace_back(key.first, std::move(block));
    }
    std::vector<std::vector<Traced>> made(blocks.size());
    pool.parallel_for(blocks.size(), [&](std::size_t k) {
        progress.check();
        made[k] = tables_for(run, grid, blocks[k].second, blocks[k].first, tolerance);
    });
    const auto leaf_of = [&](int i, int j) -> std::int32_t& {
        return leaf[static_cast<std::size_t>(j) * static_cast<std::size_t>(grid.nx) + i];
    };
    for (std::size_t k = 0; k < blocks.size(); ++k) {
        for (const Cell& cell : blocks[k].second) leaf_of(cell.i, cell.j) = no_table;
        for (Traced& traced : made[k]) {
            Table& table = traced.table;
            table.first = pairs_.size() / 2;
            for (const Cell& cell : blocks[k].second)
                if (cell.i >= table.i && cell.i < table.i + table.wide && cell.j >= table.j &&
                    cell.j < table.j + table.high)
                    leaf_of(cell.i, cell.j) = static_cast<std::int32_t>(tables_.size());
            tables_.push_back(table);
            pairs_.insert(pairs_.end(), traced.pairs.begin(), traced.pairs.end());
            traced_points_ += traced.points;
        }
    }
}

Vec2 FilmTables::displacement(std::int32_t index, double fx, double fy) const {
    const Table& table = tables_[static_cast<std::size_t>(index)];
    return interpolated(table, &pairs_[2 * table.first], fx, fy);
}

Vec2 FilmTables::interpolated(const Table& table, const float* pairs, double fx, double fy) {
    const int row = table.sides_x + 1;
    const double x =
        std::clamp((fx - table.i) * table.sides_x / table.wide, 0.0, static_cast<double>(table.sides_x));
    const double y =
        std::clamp((fy - table.j) * table.sides_y / table.high, 0.0, static_cast<double>(table.sides_y));
    const int i = std::clamp(static_cast<int>(x) - 1, 0, table.sides_x - 3);
    const int j = std::clamp(static_cast<int>(y) - 1, 0, table.sides_y - 3);
    return bicubic(pairs + 2 * (static_cast<std::ptrdiff_t>(j) * row + i), row, 1, x - i, y - j);
}

}  // namespace foreslice::flow
