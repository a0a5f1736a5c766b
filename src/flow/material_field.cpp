#include "flow/material_field.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace foreslice::flow {
namespace {

constexpr double table_square_mm = 0.2;  // a third of a cell: finer than what the cells can tell apart
constexpr int stride = 4;                // of the cells traced where the flow is smooth
constexpr int points_a_task = FieldBatch::most;

/// Cells whose batter is traced: one by one where a tool comes near, every fourth elsewhere.
struct Chosen {
    std::vector<std::uint8_t> traced;     // a cell: whether it is
    std::vector<std::pair<int, int>> at;  // cells to trace, row by row
};

// Every fourth index and the last one.
std::vector<int> every_fourth(int count) {
    std::vector<int> out;
    for (int i = 0; i < count - 1; i += stride) out.push_back(i);
    out.push_back(count - 1);
    return out;
}

template <class Near>
Chosen choose(const Grid& grid, const Near& near) {
    Chosen out;
    out.traced.resize(grid.cells());
    const auto on_lattice = [](int i, int count) { return i % stride == 0 || i == count - 1; };
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            if (!near(i, j) && !(on_lattice(i, grid.nx) && on_lattice(j, grid.ny))) continue;
            out.traced[grid.cell(i, j)] = 1;
            out.at.emplace_back(i, j);
        }
    return out;
}

// Moves of the cells that were not traced, between those of every fourth.
void fill_far(const Grid& grid, const Chosen& chosen, std::vector<Vec2>& moves) {
    const std::vector<int> xs = every_fourth(grid.nx), ys = every_fourth(grid.ny);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            if (chosen.traced[grid.cell(i, j)]) continue;
            const auto x = std::min<std::size_t>(static_cast<std::size_t>(i / stride), xs.size() - 2);
            const auto y = std::min<std::size_t>(static_cast<std::size_t>(j / stride), ys.size() - 2);
            const double s = static_cast<double>(i - xs[x]) / (xs[x + 1] - xs[x]);
            const double t = static_cast<double>(j - ys[y]) / (ys[y + 1] - ys[y]);
            const auto at = [&](std::size_t p, std::size_t q) { return moves[grid.cell(xs[p], ys[q])]; };
            moves[grid.cell(i, j)] = (1 - t) * ((1 - s) * at(x, y) + s * at(x + 1, y)) +
                                     t * ((1 - s) * at(x, y + 1) + s * at(x + 1, y + 1));
        }
}

}  // namespace

MaterialField::MaterialField(const Grid& grid, const Box& box, Materials materials)
    : grid_(grid),
      box_(box),
      materials_(std::move(materials)),
      across_(std::max(1, static_cast<int>(std::lround(box.width_mm / table_square_mm)))),
      up_(std::max(1, static_cast<int>(std::lround(box.height_mm / table_square_mm)))) {}

void MaterialField::add(std::shared_ptr<const RunMap> run) {
    runs_.push_back(std::move(run));
    table_.clear();
}

void MaterialField::settle(WorkerPool& pool) {
    if (!table_.empty()) return;
    const auto across = static_cast<std::size_t>(across_);
    table_.resize(across * static_cast<std::size_t>(up_));
    pool.parallel_for(static_cast<std::size_t>(up_), [&](std::size_t row) {
        std::vector<Vec2> points(across);
        for (std::size_t i = 0; i < across; ++i)
            points[i] = {(static_cast<double>(i) + 0.5) * box_.width_mm / across_,
                         (static_cast<double>(row) + 0.5) * box_.height_mm / up_};
        for (auto run = runs_.rbegin(); run != runs_.rend(); ++run) (*run)->before(points.data(), across);
        for (std::size_t i = 0; i < across; ++i)
            table_[row * across + i] = static_cast<std::uint8_t>(materials_.at(points[i]));
    });
}

std::uint8_t MaterialField::settled_at(Vec2 p) const {
    const int i = std::clamp(static_cast<int>(p.x / box_.width_mm * across_), 0, across_ - 1);
    const int j = std::clamp(static_cast<int>(p.y / box_.height_mm * up_), 0, up_ - 1);
    return table_[static_cast<std::size_t>(j) * static_cast<std::size_t>(across_) + i];
}

std::vector<std::uint8_t> MaterialField::cells(const LegFlow* first, const LegFlow* last, const LegFlow& leg,
                                               double travel, WorkerPool& pool) const {
    const double reach = 3 * leg.radius_mm() + stride * grid_.h();
    const Chosen chosen = choose(grid_, [&](int i, int j) {
        const Vec2 middle = middle_mm(i, j);
        return leg.distance_mm(middle) < reach || std::any_of(first, last, [&](const LegFlow& before) {
                   return before.distance_mm(middle) < reach;
               });
    });
    std::vector<Vec2> moves(grid_.cells());
    const std::size_t tasks = (chosen.at.size() + points_a_task - 1) / points_a_task;
    pool.parallel_for(tasks, [&](std::size_t task) {
        const std::size_t from = task * points_a_task,
                          count = std::min<std::size_t>(points_a_task, chosen.at.size() - from);
        std::array<Vec2, points_a_task> points;
        for (std::size_t k = 0; k < count; ++k)
            points[k] = middle_mm(chosen.at[from + k].first, chosen.at[from + k].second);
        leg.trace(points.data(), static_cast<int>(count), travel, 0, Steps::quick);
        for (const LegFlow* before = last; before != first;) {
            --before;
            before->trace(points.data(), static_cast<int>(count), before->length_mm(), 0, Steps::quick);
        }
        for (std::size_t k = 0; k < count; ++k) {
            const auto [i, j] = chosen.at[from + k];
            moves[grid_.cell(i, j)] = points[k] - middle_mm(i, j);
        }
    });
    fill_far(grid_, chosen, moves);
    return quarters(moves);
}

// Each quarter's place is moved by what the four cells round it say.
std::vector<std::uint8_t> MaterialField::quarters(const std::vector<Vec2>& moves) const {
    std::vector<std::uint8_t> out(4 * grid_.cells());
    for (int corner = 0; corner < 4; ++corner) {
        const int right = corner & 1 ? 1 : -1, up = corner >> 1 ? 1 : -1;
        for (int j = 0; j < grid_.ny; ++j)
            for (int i = 0; i < grid_.nx; ++i) {
                const int beside = std::clamp(i + right, 0, grid_.nx - 1);
                const int above = std::clamp(j + up, 0, grid_.ny - 1);
                const Vec2 move =
                    (1.0 / 16) * (9.0 * moves[grid_.cell(i, j)] + 3.0 * moves[grid_.cell(beside, j)] +
                                  3.0 * moves[grid_.cell(i, above)] + moves[grid_.cell(beside, above)]);
                out[static_cast<std::size_t>(corner) * grid_.cells() + grid_.cell(i, j)] =
                    settled_at(middle_mm(i + 0.25 * right, j + 0.25 * up) + move);
            }
    }
    return out;
}

}  // namespace foreslice::flow
