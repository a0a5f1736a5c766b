// The constant-viscosity flow problem in the box, solved exactly (to round-off) on the grid.
//
// Minimise 1/2 * integral of |strain|^2 - <b, psi> over stream functions psi that vanish on the four sides.
// With 2 psi_xy at cells and psi_yy - psi_xx at nodes the matrix is hx hy (five-point Laplacian)^2, diagonal
// under the type-I sine transform, plus a diagonal term at the nodes next to the three no-slip walls (their
// mirrored ghost nodes). So a solve is one sine transform pair plus a small dense system for the wall terms,
// factored once per box (Woodbury identity). The same dense system takes further linear conditions on psi, so
// the wire costs no extra transform.
#pragma once

#include <Eigen/Dense>
#include <vector>

#include "flow/grid.h"
#include "flow/sine_transform.h"

namespace foreslice::flow {

/// A linear functional of psi on interior nodes: sum of weight * psi(i, j).
struct NodeWeights {
    struct Term {
        int i = 0, j = 0;
        double weight = 0;
    };
    std::vector<Term> terms;
    double softness =
        0;  ///< 0: must hold; 1 and above: as weak as the average condition's own compliance, and weaker
};

/// Further conditions <c_k, psi> = target_k, prepared against one box: everything that does not change
/// between right-hand sides.
struct Conditions {
    int i0 = 0, i1 = 0, j0 = 0, j1 = 0;  ///< the patch of nodes they touch, inclusive
    Eigen::MatrixXd on_patch;            ///< conditions x patch nodes (row-major patch)
    Eigen::MatrixXd wall_coupling;       ///< (D^-1 + G_ww)^-1 G_wc: walls x conditions
    Eigen::LLT<Eigen::MatrixXd> schur;
    Eigen::Index count() const { return on_patch.rows(); }
};

class BoxSolver {
  public:
    explicit BoxSolver(const Grid& grid);

    const Grid& grid() const { return grid_; }
    /// All conditions must touch interior nodes only. Their Gram matrix may be badly conditioned; a ridge of
    /// 1e-12 of its trace keeps it factorable.
    Conditions prepare(const std::vector<NodeWeights>& conditions) const;

    struct Workspace {
        template <class T>
        struct Tables {
            std::vector<T> a, b;
        };
        Tables<double> exact;
        Tables<float> single;
    };
    /// `single` carries the transforms in 32 bits: psi to about 1e-6 of its greatest value, twice as fast.
    /// Good for a step of an iteration that stops at 1e-3.
    enum class Precision { exact, single };
    /// `load`: interior values b, (ny-1) rows of (nx-1), nullptr for none; `psi`: the same shape, out.
    /// Returns the multipliers m of A psi + C^T m = b. Pass nullptr for no conditions.
    Eigen::VectorXd solve(const double* load, const Conditions* conditions, const Eigen::VectorXd& targets,
                          double* psi, Workspace& workspace, Precision precision = Precision::exact) const;

  private:
    /// What the transforms need, at one precision.
    template <class T>
    struct Spectral {
        SineTransform<T> transform;
        std::vector<T> sine_x, sine_y;  // m x m and n x n, symmetric and orthogonal
        std::vector<T> inverse_eigen;   // n x m
        Spectral() = default;
        Spectral(int m, int n, const std::vector<double>& inverse_eigen_values);
    };
    /// Simply supported Green function between two nodes.
    double green(int i, int j, int k, int l) const {
        const auto table = [&](int across, int up) {
            return green_table_[static_cast<std::size_t>((up + grid_.ny) * green_row_ + across + grid_.nx)];
        };
        return (table(i - k, j - l) - table(i + k, j - l)) - (table(i - k, j + l) - table(i + k, j + l));
    }
    void build_green_table();
    void factor_walls();
    template <class T>
    Eigen::VectorXd solve_in(const Spectral<T>& in, typename Workspace::template Tables<T>& tables,
                             const double* load, const Conditions* conditions, const Eigen::VectorXd& targets,
                             double* psi) const;
    template <class T>
    Eigen::VectorXd wall_values(const Spectral<T>& in, const std::vector<T>& spectrum) const;
    template <class T>
    Eigen::VectorXd condition_values(const Spectral<T>& in, const std::vector<T>& spectrum,
                                     const Conditions& conditions) const;
    template <class T>
    void subtract_wall_loads(const Spectral<T>& in, const Eigen::VectorXd& wall_loads,
                             std::vector<T>& spectrum) const;
    template <class T>
    void subtract_condition_loads(const Spectral<T>& in, const Eigen::VectorXd& loads,
                                  const Conditions& conditions, std::vector<T>& spectrum) const;

    Grid grid_;
    int m_ = 0, n_ = 0;  // interior nodes across and up
    Spectral<double> exact_;
    Spectral<float> single_;
    std::vector<double> green_table_;  // of cosine sums, mirrored so that it is read without folding an index
    int green_row_ = 0;
    struct WallNode {
        int i, j;
    };
    std::vector<WallNode> walls_;
    Eigen::VectorXd wall_stiffness_;
    Eigen::MatrixXd wall_inverse_;  // (D^-1 + G_ww)^-1: many solves pay for it
};

}  // namespace foreslice::flow
