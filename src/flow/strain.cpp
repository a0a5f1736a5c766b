#include "flow/strain.h"

namespace foreslice::flow {

void strain_of(const Grid& g, const std::vector<double>& psi, Strain& strain) {
    strain.cell.resize(g.cells());
    strain.node.assign(g.nodes(), 0.0);
    const double twist = 2 / (g.hx * g.hy), xx = 1 / (g.hx * g.hx), yy = 1 / (g.hy * g.hy);
    for (int j = 0; j < g.ny; ++j) {
        const double* low = psi.data() + g.node(0, j);
        const double* high = psi.data() + g.node(0, j + 1);
        double* out = strain.cell.data() + g.cell(0, j);
        for (int i = 0; i < g.nx; ++i) out[i] = twist * (high[i + 1] - high[i] - low[i + 1] + low[i]);
    }
    for (int j = 1; j < g.ny; ++j) {
        const double* low = psi.data() + g.node(0, j - 1);
        const double* mid = psi.data() + g.node(0, j);
        const double* high = psi.data() + g.node(0, j + 1);
        double* out = strain.node.data() + g.node(0, j);
        for (int i = 1; i < g.nx; ++i)
            out[i] = yy * (high[i] - 2 * mid[i] + low[i]) - xx * (mid[i + 1] - 2 * mid[i] + mid[i - 1]);
        out[0] = -2 * xx * mid[1];
        out[g.nx] = -2 * xx * mid[g.nx - 1];
    }
    for (int i = 1; i < g.nx; ++i) strain.node[g.node(i, 0)] = 2 * yy * psi[g.node(i, 1)];
}

void loads_of(const Grid& g, const Strain& stress, std::vector<double>& loads) {
    const int m = g.nx - 1;
    loads.resize(static_cast<std::size_t>(m) * (g.ny - 1));
    const double twist = 2 / (g.hx * g.hy), xx = 1 / (g.hx * g.hx), yy = 1 / (g.hy * g.hy);
    for (int j = 1; j < g.ny; ++j) {
        const double* below = stress.cell.data() + g.cell(0, j - 1);
        const double* above = stress.cell.data() + g.cell(0, j);
        const double* low = stress.node.data() + g.node(0, j - 1);
        const double* mid = stress.node.data() + g.node(0, j);
        const double* high = stress.node.data() + g.node(0, j + 1);
        const double low_factor = (j == 1 ? 2 : 1) * yy, high_factor = (j + 1 == g.ny ? 0 : 1) * yy;
        double* out = loads.data() + static_cast<std::size_t>(j - 1) * m;
        for (int i = 1; i < g.nx; ++i) {
            const double left = (i == 1 ? 2 : 1) * mid[i - 1], right = (i == m ? 2 : 1) * mid[i + 1];
            out[i - 1] = twist * (above[i] - above[i - 1] - below[i] + below[i - 1]) + low_factor * low[i] +
                         high_factor * high[i] - 2 * yy * mid[i] - xx * (left + right - 2 * mid[i]);
        }
    }
}

void weigh(const Grid& grid, Strain& strain) {
    const double area = grid.hx * grid.hy;
    for (double& value : strain.cell) value *= area;
    for (int j = 0; j <= grid.ny; ++j)
        for (int i = 0; i <= grid.nx; ++i) {
            const bool side = i == 0 || i == grid.nx, end = j == 0 || j == grid.ny;
            strain.node[grid.node(i, j)] *= area * (side ? 0.5 : 1.0) * (end ? 0.5 : 1.0);
        }
}

}  // namespace foreslice::flow
