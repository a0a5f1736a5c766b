#include "flow/box_solver.h"

#include <cmath>
#include <map>

#include "flow/dense_kernels.h"

namespace foreslice::flow {
namespace {

constexpr double pi = 3.14159265358979323846;

std::vector<double> sine_matrix(int order) {  // sqrt(2/N) sin(pi k i / N), N = order + 1
    std::vector<double> s(static_cast<std::size_t>(order) * order);
    const double scale = std::sqrt(2.0 / (order + 1));
    for (int k = 1; k <= order; ++k)
        for (int i = 1; i <= order; ++i)
            s[static_cast<std::size_t>(k - 1) * order + (i - 1)] = scale * std::sin(pi * k * i / (order + 1));
    return s;
}

std::vector<double> laplace_eigenvalues(int order, double h) {
    std::vector<double> values(static_cast<std::size_t>(order));
    for (int k = 1; k <= order; ++k) {
        const double s = std::sin(pi * k / (2.0 * (order + 1)));
        values[static_cast<std::size_t>(k - 1)] = 4 * s * s / (h * h);
    }
    return values;
}

template <class T>
using Matrix = Eigen::Matrix<T, Eigen::Dynamic, Eigen::Dynamic>;
template <class T>
using RowMajor = Eigen::Matrix<T, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
template <class T>
using Vector = Eigen::Matrix<T, Eigen::Dynamic, 1>;

}  // namespace

template <class T>
BoxSolver::Spectral<T>::Spectral(int m, int n, const std::vector<double>& inverse)
    : transform(n, m), inverse_eigen(inverse.begin(), inverse.end()) {
    const auto across = sine_matrix(m), up = sine_matrix(n);
    sine_x.assign(across.begin(), across.end());
    sine_y.assign(up.begin(), up.end());
}

BoxSolver::BoxSolver(const Grid& grid) : grid_(grid), m_(grid.nx - 1), n_(grid.ny - 1) {
    const auto across = laplace_eigenvalues(m_, grid.hx), up = laplace_eigenvalues(n_, grid.hy);
    std::vector<double> inverse_eigen(static_cast<std::size_t>(m_) * n_);
    for (int l = 0; l < n_; ++l)
        for (int k = 0; k < m_; ++k) {
            const double sum = across[static_cast<std::size_t>(k)] + up[static_cast<std::size_t>(l)];
            inverse_eigen[static_cast<std::size_t>(l) * m_ + k] = 1.0 / (grid.hx * grid.hy * sum * sum);
        }
    exact_ = Spectral<double>(m_, n_, inverse_eigen);
    single_ = Spectral<float>(m_, n_, inverse_eigen);
    build_green_table();
    factor_walls();
}

// The Green function is a sum of products of two sines in each direction; a product of sines is a difference
// of cosines, so one table of cosine sums and the method of images give it between any two nodes.
void BoxSolver::build_green_table() {
    const int nx = grid_.nx, ny = grid_.ny;
    std::vector<double> cos_x(static_cast<std::size_t>(m_) * (nx + 1)),
        cos_y(static_cast<std::size_t>(ny + 1) * n_);
    for (int k = 1; k <= m_; ++k)
        for (int i = 0; i <= nx; ++i)
            cos_x[static_cast<std::size_t>(k - 1) * (nx + 1) + i] = std::cos(pi * k * i / nx);
    for (int j = 0; j <= ny; ++j)
        for (int l = 1; l <= n_; ++l)
            cos_y[static_cast<std::size_t>(j) * n_ + (l - 1)] = std::cos(pi * l * j / ny);
    std::vector<double> half(static_cast<std::size_t>(ny + 1) * m_);
    std::vector<double> sums(static_cast<std::size_t>(ny + 1) * (nx + 1));
    multiply(cos_y.data(), exact_.inverse_eigen.data(), half.data(), ny + 1, n_, m_);
    multiply(half.data(), cos_x.data(), sums.data(), ny + 1, m_, nx + 1);
    // Differences of nodes reach from -nx to nx, their sums to 2 nx.
    green_row_ = 3 * nx + 1;
    green_table_.resize(static_cast<std::size_t>(3 * ny + 1) * green_row_);
    for (int up = -ny; up <= 2 * ny; ++up)
        for (int across = -nx; across <= 2 * nx; ++across) {
            const int i = across > nx ? 2 * nx - across : std::abs(across);
            const int j = up > ny ? 2 * ny - up : std::abs(up);
            green_table_[static_cast<std::size_t>((up + ny) * green_row_ + across + nx)] =
                sums[static_cast<std::size_t>(j) * (nx + 1) + i] / (static_cast<double>(nx) * ny);
        }
}

void BoxSolver::factor_walls() {
    const int nx = grid_.nx, ny = grid_.ny;
    std::map<std::pair<int, int>, double> stiffness;  // node -> added diagonal
    const double side = 2 * grid_.hx * grid_.hy / std::pow(grid_.hx, 4);
    const double floor = 2 * grid_.hx * grid_.hy / std::pow(grid_.hy, 4);
    for (int j = 1; j < ny; ++j) {
        stiffness[{1, j}] += side;
        stiffness[{nx - 1, j}] += side;
    }
    for (int i = 1; i < nx; ++i) stiffness[{i, 1}] += floor;
    const auto count = static_cast<Eigen::Index>(stiffness.size());
    wall_stiffness_.resize(count);
    walls_.clear();
    for (const auto& [node, value] : stiffness) {
        wall_stiffness_[static_cast<Eigen::Index>(walls_.size())] = value;
        walls_.push_back({node.first, node.second});
    }
    Eigen::MatrixXd system(count, count);
    for (Eigen::Index a = 0; a < count; ++a)
        for (Eigen::Index b = 0; b <= a; ++b) {
            const auto& p = walls_[static_cast<std::size_t>(a)];
            const auto& q = walls_[static_cast<std::size_t>(b)];
            system(a, b) = system(b, a) =
                green(p.i, p.j, q.i, q.j) + (a == b ? 1.0 / wall_stiffness_[a] : 0.0);
        }
    wall_inverse_ = system.llt().solve(Eigen::MatrixXd::Identity(count, count));
}

namespace {

// weights * green * weights^T; a condition touches few of the nodes.
Eigen::MatrixXd between_conditions(const Eigen::MatrixXd& weights, const Eigen::MatrixXd& green) {
    const Eigen::Index count = weights.rows(), nodes = weights.cols();
    Eigen::MatrixXd to_nodes = Eigen::MatrixXd::Zero(nodes, count), out = Eigen::MatrixXd::Zero(count, count);
    for (Eigen::Index k = 0; k < count; ++k)
        for (Eigen::Index p = 0; p < nodes; ++p)
            if (weights(k, p) != 0) to_nodes.col(k) += weights(k, p) * green.col(p);
    const Eigen::MatrixXd from_nodes = to_nodes.transpose();
    for (Eigen::Index k = 0; k < count; ++k)
        for (Eigen::Index p = 0; p < nodes; ++p)
            if (weights(k, p) != 0) out.col(k) += weights(k, p) * from_nodes.col(p);
    return out;
}

}  // namespace

Conditions BoxSolver::prepare(const std::vector<NodeWeights>& conditions) const {
    Conditions out;
    out.i0 = grid_.nx;
    out.j0 = grid_.ny;
    for (const auto& condition : conditions)
        for (const auto& term : condition.terms) {
            out.i0 = std::min(out.i0, term.i);
            out.i1 = std::max(out.i1, term.i);
            out.j0 = std::min(out.j0, term.j);
            out.j1 = std::max(out.j1, term.j);
        }
    const int columns = out.i1 - out.i0 + 1, rows = out.j1 - out.j0 + 1;
    const auto count = static_cast<Eigen::Index>(conditions.size());
    out.on_patch = Eigen::MatrixXd::Zero(count, static_cast<Eigen::Index>(columns) * rows);
    for (Eigen::Index k = 0; k < count; ++k)
        for (const auto& term : conditions[static_cast<std::size_t>(k)].terms)
            out.on_patch(k, static_cast<Eigen::Index>(term.j - out.j0) * columns + (term.i - out.i0)) +=
                term.weight;

    // Nodes that no condition touches need no Green function.
    std::vector<Eigen::Index> nodes;
    for (Eigen::Index p = 0; p < out.on_patch.cols(); ++p)
        if (out.on_patch.col(p).any()) nodes.push_back(p);
    const Eigen::MatrixXd weights = out.on_patch(Eigen::all, nodes);
    const auto patch = static_cast<Eigen::Index>(nodes.size());
    Eigen::MatrixXd green_pp(patch, patch);
    const auto wall_count = static_cast<Eigen::Index>(walls_.size());
    const auto place = [&](Eigen::Index p) {
        const auto node = static_cast<int>(nodes[static_cast<std::size_t>(p)]);
        return WallNode{out.i0 + node % columns, out.j0 + node / columns};
    };
    // Columns are filled up with zeros to what products are quickest in.
    const Eigen::Index wide = (count + 7) / 8 * 8;
    Eigen::MatrixXd green_wc = Eigen::MatrixXd::Zero(wall_count, wide);
    Eigen::VectorXd to_walls(wall_count);
    for (Eigen::Index p = 0; p < patch; ++p) {
        const auto [i, j] = place(p);
        for (Eigen::Index q = 0; q <= p; ++q) {
            const auto [k, l] = place(q);
            green_pp(p, q) = green_pp(q, p) = green(i, j, k, l);
        }
        for (Eigen::Index w = 0; w < wall_count; ++w) {
            const auto& wall = walls_[static_cast<std::size_t>(w)];
            to_walls[w] = green(i, j, wall.i, wall.j);
        }
        for (Eigen::Index k = 0; k < count; ++k)
            if (weights(k, p) != 0) green_wc.col(k) += weights(k, p) * to_walls;
    }
    const RowMajor<double> by_rows = green_wc;
    RowMajor<double> coupling(wall_count, wide);
    multiply(wall_inverse_.data(), by_rows.data(), coupling.data(), static_cast<int>(wall_count),
             static_cast<int>(wall_count), static_cast<int>(wide));  // symmetric: rows or columns alike
    out.wall_coupling = coupling.leftCols(count);
    Eigen::MatrixXd schur = between_conditions(weights, green_pp);
    schur.noalias() -= green_wc.leftCols(count).transpose() * out.wall_coupling;
    schur = 0.5 * (schur + schur.transpose()).eval();
    const double mean = schur.trace() / static_cast<double>(count);
    for (Eigen::Index k = 0; k < count; ++k)
        schur(k, k) += mean * conditions[static_cast<std::size_t>(k)].softness;
    schur.diagonal().array() += 1e-12 * mean;
    out.schur.compute(schur);
    return out;
}

template <class T>
Eigen::VectorXd BoxSolver::wall_values(const Spectral<T>& in, const std::vector<T>& spectrum) const {
    const Eigen::Map<const RowMajor<T>> s(spectrum.data(), n_, m_);
    const Eigen::Map<const Matrix<T>> sx(in.sine_x.data(), m_, m_), sy(in.sine_y.data(), n_, n_);
    const Vector<T> left = sy * (s * sx.col(0)), right = sy * (s * sx.col(m_ - 1));
    const Vector<T> floor = sx * (s.transpose() * sy.col(0));
    Eigen::VectorXd values(static_cast<Eigen::Index>(walls_.size()));
    for (Eigen::Index w = 0; w < values.size(); ++w) {
        const auto& node = walls_[static_cast<std::size_t>(w)];
        values[w] = static_cast<double>(node.i == 1    ? left[node.j - 1]
                                        : node.i == m_ ? right[node.j - 1]
                                                       : floor[node.i - 1]);
    }
    return values;
}

template <class T>
Eigen::VectorXd BoxSolver::condition_values(const Spectral<T>& in, const std::vector<T>& spectrum,
                                            const Conditions& c) const {
    const int rows = c.j1 - c.j0 + 1, columns = c.i1 - c.i0 + 1;
    std::vector<T> half(static_cast<std::size_t>(rows) * m_);
    multiply(in.sine_y.data() + static_cast<std::size_t>(c.j0 - 1) * n_, spectrum.data(), half.data(), rows,
             n_, m_);
    const Eigen::Map<const RowMajor<T>> rows_of_waves(half.data(), rows, m_);
    const Eigen::Map<const Matrix<T>> sx(in.sine_x.data(), m_, m_);
    const RowMajor<T> patch = rows_of_waves * sx.middleCols(c.i0 - 1, columns);
    return c.on_patch * Eigen::Map<const Vector<T>>(patch.data(), patch.size()).template cast<double>();
}

template <class T>
void BoxSolver::subtract_wall_loads(const Spectral<T>& in, const Eigen::VectorXd& loads,
                                    std::vector<T>& spectrum) const {
    Vector<T> left = Vector<T>::Zero(n_), right = Vector<T>::Zero(n_), floor = Vector<T>::Zero(m_);
    for (Eigen::Index w = 0; w < loads.size(); ++w) {
        const auto& node = walls_[static_cast<std::size_t>(w)];
        const T load = static_cast<T>(loads[w]);
        if (node.i == 1)
            left[node.j - 1] = load;
        else if (node.i == m_)
            right[node.j - 1] = load;
        else
            floor[node.i - 1] = load;
    }
    const Eigen::Map<const Matrix<T>> sx(in.sine_x.data(), m_, m_), sy(in.sine_y.data(), n_, n_);
    const Vector<T> left_hat = sy * left, right_hat = sy * right, floor_hat = sx * floor;
    const T* first = in.sine_x.data();
    const T* last = first + static_cast<std::ptrdiff_t>(m_ - 1) * m_;
    for (int l = 0; l < n_; ++l) {
        T* out = spectrum.data() + static_cast<std::size_t>(l) * m_;
        const T a = left_hat[l], b = right_hat[l], c = sy(l, 0);
        for (int k = 0; k < m_; ++k) out[k] -= a * first[k] + b * last[k] + c * floor_hat[k];
    }
}

template <class T>
void BoxSolver::subtract_condition_loads(const Spectral<T>& in, const Eigen::VectorXd& loads,
                                         const Conditions& c, std::vector<T>& spectrum) const {
    const Vector<T> patch = (c.on_patch.transpose() * loads).template cast<T>();
    const int rows = c.j1 - c.j0 + 1, columns = c.i1 - c.i0 + 1;
    const Eigen::Map<const RowMajor<T>> on_patch(patch.data(), rows, columns);
    const Eigen::Map<const Matrix<T>> sx(in.sine_x.data(), m_, m_);
    const RowMajor<T> half = on_patch * sx.middleCols(c.i0 - 1, columns).transpose();
    for (int l = 0; l < n_; ++l) {
        T* out = spectrum.data() + static_cast<std::size_t>(l) * m_;
        for (int r = 0; r < rows; ++r) {
            const T factor = in.sine_y[static_cast<std::size_t>(l) * n_ + (c.j0 + r - 1)];
            const T* row = half.data() + static_cast<std::ptrdiff_t>(r) * m_;
            for (int k = 0; k < m_; ++k) out[k] -= factor * row[k];
        }
    }
}

Eigen::VectorXd BoxSolver::solve(const double* load, const Conditions* conditions,
                                 const Eigen::VectorXd& targets, double* psi, Workspace& ws,
                                 Precision precision) const {
    return precision == Precision::exact ? solve_in(exact_, ws.exact, load, conditions, targets, psi)
                                         : solve_in(single_, ws.single, load, conditions, targets, psi);
}

template <class T>
Eigen::VectorXd BoxSolver::solve_in(const Spectral<T>& in, typename Workspace::template Tables<T>& ws,
                                    const double* load, const Conditions* conditions,
                                    const Eigen::VectorXd& targets, double* psi) const {
    const std::size_t size = in.inverse_eigen.size();
    ws.a.resize(size);
    ws.b.assign(size, 0);
    if (load) {
        for (std::size_t k = 0; k < size; ++k) ws.a[k] = static_cast<T>(load[k]);
        in.transform.apply(ws.a.data(), ws.b.data());
    }
    if (load)
        for (std::size_t k = 0; k < size; ++k) ws.a[k] = ws.b[k] * in.inverse_eigen[k];

    // (D^-1 + G_ww) c_w + G_wc c_c = g_w ;  G_cw c_w + G_cc c_c = g_c - target
    Eigen::VectorXd at_walls, wall = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(walls_.size()));
    Eigen::VectorXd multipliers;
    if (load) {
        at_walls = wall_values(in, ws.a);
        wall = wall_inverse_ * at_walls;
    }
    if (conditions) {
        multipliers = -targets;
        if (load) {
            multipliers += condition_values(in, ws.a, *conditions);
            multipliers.noalias() -= conditions->wall_coupling.transpose() * at_walls;
        }
        conditions->schur.solveInPlace(multipliers);
        wall.noalias() -= conditions->wall_coupling * multipliers;
    }
    subtract_wall_loads(in, wall, ws.b);
    if (conditions) subtract_condition_loads(in, multipliers, *conditions, ws.b);
    for (std::size_t k = 0; k < size; ++k) ws.a[k] = ws.b[k] * in.inverse_eigen[k];
    in.transform.apply(ws.a.data(), ws.b.data());
    for (std::size_t k = 0; k < size; ++k) psi[k] = static_cast<double>(ws.b[k]);
    return multipliers;
}

}  // namespace foreslice::flow
