// The lid-driven square cavity in creeping flow, from the flow room's own strains and box solver.
#include <doctest/doctest.h>

#include <cmath>

#include "flow/box_solver.h"
#include "flow/flow_samples.h"
#include "flow/spline_field.h"

using namespace foreslice;
using namespace foreslice::flow;
using namespace foreslice::testing;

namespace {

// The box with a moving no-slip lid in place of its free top: at the top nodes the mirrored ghost node makes
// u_y + v_x = 2 psi(ny-1) / hy^2 + 2 U / hy. That adds a diagonal to the box operator and a load.
class Cavity {
  public:
    explicit Cavity(int cells) : grid_({1, 1}, cells), solver_(grid_) {}

    const Grid& grid() const { return grid_; }

    // Conjugate gradients with the free-top box as preconditioner.
    std::vector<double> stream_function() const {
        const Eigen::Index m = grid_.nx - 1, count = m * (grid_.ny - 1);
        const double weight = grid_.hx * grid_.hy / 2, h = grid_.hy;
        Eigen::VectorXd r = Eigen::VectorXd::Zero(count), psi = r;
        r.tail(m).setConstant(-weight * (2 / (h * h)) * (2 / h));  // U = 1
        const double start = r.norm();
        Eigen::VectorXd z = precondition(r), p = z;
        double rz = r.dot(z);
        for (int step = 0; step < 400 && r.norm() > 1e-13 * start; ++step) {
            const Eigen::VectorXd ap = apply(p);
            const double alpha = rz / p.dot(ap);
            psi += alpha * p;
            r -= alpha * ap;
            z = precondition(r);
            const double next = r.dot(z);
            p = z + (next / rz) * p;
            rz = next;
        }
        REQUIRE(r.norm() < 1e-12 * start);
        return with_sides(grid_, {psi.data(), psi.data() + count});
    }

  private:
    Eigen::VectorXd apply(const Eigen::VectorXd& psi) const {
        Strain strain;
        std::vector<double> loads;
        strain_of(grid_, with_sides(grid_, {psi.data(), psi.data() + psi.size()}), strain);
        weigh(grid_, strain);
        loads_of(grid_, strain, loads);
        Eigen::VectorXd out = Eigen::Map<Eigen::VectorXd>(loads.data(), psi.size());
        out.tail(grid_.nx - 1) += 2 * grid_.hx * grid_.hy / std::pow(grid_.hy, 4) * psi.tail(grid_.nx - 1);
        return out;
    }
    Eigen::VectorXd precondition(const Eigen::VectorXd& r) const {
        Eigen::VectorXd out(r.size());
        BoxSolver::Workspace workspace;
        solver_.solve(r.data(), nullptr, {}, out.data(), workspace);
        return out;
    }

    Grid grid_;
    BoxSolver solver_;
};

struct Centre {
    Vec2 place;
    double psi;
};

// Newton's method on the spline for the point where the velocity vanishes.
Centre centre_of(const SplineField& field, Vec2 guess) {
    for (int step = 0; step < 20; ++step) {
        const auto jet = field.jet(guess);
        const double det = jet.xx * jet.yy - jet.xy * jet.xy;
        guess += Vec2{-(jet.yy * jet.x - jet.xy * jet.y) / det, -(jet.xx * jet.y - jet.xy * jet.x) / det};
    }
    return {guess, field.value(guess)};
}

}  // namespace

// Computed reference, method: rational least squares for the biharmonic problem with poles clustered at the
// corners (the method of Brubeck & Trefethen 2022, SIAM J. Sci. Comput. 44, A1205), boundary residual 1e-10,
// three resolutions agreeing. It agrees with the usually quoted 0.100076 at (0.5, 0.765).
TEST_CASE("Stokes cavity: the primary eddy of the computed reference (corner-clustered rational solve)") {
    const double psi = 0.10007626642, x = 0.5, y = 0.76502654;
    double error[3];
    for (int level = 0; level < 3; ++level) {
        const int cells = 32 << level;
        const Cavity cavity(cells);
        const SplineField field(cavity.grid(), cavity.stream_function(), 1);
        const Centre centre = centre_of(field, {0.49, 0.75});
        error[level] = std::abs(std::abs(centre.psi) - psi);
        MESSAGE(cells << ": psi " << centre.psi << " at (" << centre.place.x << ", " << centre.place.y
                      << ")");
        if (cells < 128) continue;
        CHECK(error[level] < 2e-4);
        CHECK(std::abs(centre.place.x - x) < 5e-4);
        CHECK(std::abs(centre.place.y - y) < 5e-4);
        // The same reference: velocities on the middle lines (the lid moves with u = 1).
        CHECK(field.gradient({0.5, 0.25}).y == doctest::Approx(-0.12259555).epsilon(2e-3));
        CHECK(field.gradient({0.5, 0.5}).y == doctest::Approx(-0.20519171).epsilon(2e-3));
        CHECK(std::abs(field.gradient({0.25, 0.5}).x) == doctest::Approx(0.1788521).epsilon(2e-3));
        CHECK(std::abs(field.gradient({0.1, 0.5}).x) == doctest::Approx(0.1356661).epsilon(2e-3));
        // First corner eddy, turning the other way: 2.2275715e-6 at (0.0376632, 0.0381150).
        const Centre eddy = centre_of(field, {0.038, 0.038});
        CHECK(eddy.psi * centre.psi < 0);
        CHECK(std::abs(eddy.psi) == doctest::Approx(2.2275715e-6).epsilon(0.15));
        CHECK(length(eddy.place - Vec2{0.0376632, 0.0381150}) < 4e-3);
    }
    CHECK(error[0] / error[1] > 3);  // second order: a factor of 4
    CHECK(error[1] / error[2] > 3);
}
