#include "flow/splitting.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "flow/dense_kernels.h"

namespace foreslice::flow {
namespace {

constexpr int table_size = 2048;

// Monotone scalar equation, bracketed Newton: K q^n + r q = x.
double strain_rate(double k, double n, double r, double x) {
    double low = 0, high = std::min(x / r, std::pow(x / k, 1 / n));
    double q = high;
    for (int step = 0; step < 200; ++step) {
        const double value = k * std::pow(q, n) + r * q - x;
        (value > 0 ? high : low) = q;
        double next = q - value / (k * n * std::pow(q, n - 1) + r);
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        if (std::abs(next - q) <= 1e-14 * q) return next;
        q = next;
    }
    return q;
}

}  // namespace

double penalty_factor(double bingham) {
    return 2 + 0.6 * bingham;
}

void SplitState::clear(const Grid& grid) {
    cell.assign(4 * grid.cells(), 0.0);
    node.assign(4 * grid.cells(), 0.0);
    ratio.assign(4 * grid.cells(), 0.0);
}

void SplitState::shift(const Grid& grid, int dx, int dy) {
    if (empty() || (dx == 0 && dy == 0)) return;
    std::vector<double> moved(grid.cells());
    for (auto* part : {&cell, &node, &ratio})
        for (std::size_t corner = 0; corner < 4; ++corner) {
            double* values = part->data() + corner * grid.cells();
            for (int j = 0; j < grid.ny; ++j)
                for (int i = 0; i < grid.nx; ++i)
                    moved[grid.cell(i, j)] = values[grid.cell(std::clamp(i - dx, 0, grid.nx - 1),
                                                              std::clamp(j - dy, 0, grid.ny - 1))];
            std::copy(moved.begin(), moved.end(), values);
        }
}

Splitting::Splitting(const Grid& grid, std::vector<batter::Rheology> rheologies, double working_rate,
                     double penalty)
    : grid_(grid), rheologies_(std::move(rheologies)), working_rate_(working_rate), penalty_(penalty) {
    for (const auto& rheology : rheologies_) laws_.push_back(tabulated(rheology));
}

bool Splitting::suits(const Grid& grid, const std::vector<batter::Rheology>& rheologies, double working_rate,
                      double penalty) const {
    return grid == grid_ && rheologies == rheologies_ && working_rate == working_rate_ && penalty == penalty_;
}

Splitting::Law Splitting::tabulated(const batter::Rheology& rheology) const {
    const double k = rheology.consistency_pa_sn, n = rheology.flow_index;
    Law law;
    law.width_pa = k * std::pow(working_rate_, n) + penalty_ * working_rate_;
    law.table.resize(table_size + 2);
    for (int i = 0; i <= table_size; ++i) {
        const double t = std::min((i + 1e-9) / table_size, 1 - 1e-9);
        const double x = law.width_pa * t / (1 - t);
        law.table[static_cast<std::size_t>(i)] = static_cast<float>(strain_rate(k, n, penalty_, x) / x);
    }
    law.table[table_size + 1] = law.table[table_size];
    return law;
}

// A row of cells in stretches of one batter each.
void Splitting::sweep_row(SplitSweep& sweep, const std::uint8_t* batters) const {
    const SplitSweep whole = sweep;
    for (int from = 0, to = 0; from < whole.count; from = to) {
        const std::size_t batter = batters ? batters[from] : 0;
        for (to = from; to < whole.count && (!batters || batters[to] == batter);) ++to;
        sweep.count = to - from;
        sweep.cell_strain = whole.cell_strain + from;
        sweep.node_strain = whole.node_strain + from;
        sweep.cell_state = whole.cell_state + from;
        sweep.node_state = whole.node_state + from;
        sweep.ratio = whole.ratio + from;
        sweep.cell_rhs = whole.cell_rhs + from;
        sweep.node_rhs = whole.node_rhs + from;
        sweep.yield_stress = rheologies_[batter].yield_stress_pa;
        sweep.table = laws_[batter].table.data();
        sweep.table_width = laws_[batter].width_pa;
        dense_kernels().split_sweep(sweep);
    }
    sweep.count = whole.count;
}

double Splitting::sweep(const Strain& strain, double relaxation, SplitState& state, Strain& rhs) const {
    const Grid& g = grid_;
    std::vector<double> row_cell(static_cast<std::size_t>(g.nx)), row_node(static_cast<std::size_t>(g.nx));
    SplitSweep sweep;
    sweep.count = g.nx;
    sweep.penalty = penalty_;
    sweep.relaxation = relaxation;
    sweep.table_size = table_size;
    const double weight = g.hx * g.hy / 4;
    rhs.cell.assign(g.cells(), 0.0);
    rhs.node.assign(g.nodes(), 0.0);
    for (int corner = 0; corner < 4; ++corner)
        for (int j = 0; j < g.ny; ++j) {
            const std::size_t base = static_cast<std::size_t>(corner) * g.cells() + g.cell(0, j);
            const std::size_t first_node = g.node(corner & 1, j + (corner >> 1));
            sweep.cell_strain = strain.cell.data() + g.cell(0, j);
            sweep.node_strain = strain.node.data() + first_node;
            sweep.cell_state = state.cell.data() + base;
            sweep.node_state = state.node.data() + base;
            sweep.ratio = state.ratio.data() + base;
            sweep.cell_rhs = row_cell.data();
            sweep.node_rhs = row_node.data();
            sweep_row(sweep, state.batters.empty() ? nullptr : state.batters.data() + base);
            double* cells = rhs.cell.data() + g.cell(0, j);
            double* nodes = rhs.node.data() + first_node;
            for (int i = 0; i < g.nx; ++i) {
                cells[i] += weight * row_cell[static_cast<std::size_t>(i)];
                nodes[i] += weight * row_node[static_cast<std::size_t>(i)];
            }
        }
    return std::sqrt(sweep.squared_residual / std::max(sweep.squared_strain, 1e-300));
}

}  // namespace foreslice::flow
