// The least-squares problem behind a fit to test bars. Internal to the colour room.
#pragma once

#include <Eigen/Dense>
#include <array>
#include <vector>

#include "colour/bar_model.h"
#include "colour/pigment_shapes.h"
#include "colour/swatch_fit.h"

namespace foreslice::colour {

Lab lab_of_linear(const LinearSrgb& rgb);
/// The K that gives a bar this reflectance at scattering s, at most 100 per mm.
double absorption_for(double reflectance, double scattering_per_mm);

/// The bars, and what they are made of besides the colourant that is sought.
struct Bars {
    Bars(const Optics& base, const Colourant* white, const std::vector<TestBar>& tests);

    const std::vector<TestBar>& tests;
    std::vector<Optics> ground;  ///< base and white of each
    std::vector<Lab> aims;
    std::vector<std::array<std::array<double, 3>, 3>> scales;  ///< de00_scale at each aim
    Spectrum reflectance(std::size_t bar, const Optics& unit) const;
    double de00(std::size_t bar, const Optics& unit) const;
};

/// A shape with the strengths at which it comes nearest to the bars.
struct Kin {
    Optics unit;
    double miss = 0;  ///< squared dE00, summed over the bars
};
Kin nearest_strength(const Bars& bars, const PigmentShape& shape);

/// What the bars leave open is decided by the slopes of z = atanh(2 R - 1) of every bar: they are kept small
/// (the least-slope measure of Burns 2017, LHTSS), or near those of a known pigment.
/// Unknowns: log K of the 36 bands, then the log of a factor on S.
class SwatchProblem {
  public:
    /// No kin: S is one number for all wavelengths, guessed at `scattering`.
    SwatchProblem(const Bars& bars, double scattering);
    SwatchProblem(const Bars& bars, const Kin& kin);

    int inputs() const { return static_cast<int>(band_count) + 1; }
    int values() const;
    Eigen::VectorXd start() const { return start_; }
    Optics unit(const Eigen::VectorXd& x) const;

    int operator()(const Eigen::VectorXd& x, Eigen::VectorXd& f) const;
    int df(const Eigen::VectorXd& x, Eigen::MatrixXd& j) const;

  private:
    void evaluate(const Eigen::VectorXd& x, Eigen::VectorXd* f, Eigen::MatrixXd* j) const;
    Eigen::Index colour_rows(std::size_t bar, const Spectrum& r, const Spectrum& by_k, const Spectrum& by_s,
                             Eigen::Index row, Eigen::VectorXd* f, Eigen::MatrixXd* j) const;
    Eigen::Index slope_rows(std::size_t bar, const Spectrum& r, const Spectrum& by_k, const Spectrum& by_s,
                            Eigen::Index row, Eigen::VectorXd* f, Eigen::MatrixXd* j) const;

    const Bars& bars_;
    Spectrum scattering_{};             ///< where the factor is one
    std::vector<Spectrum> z_expected_;  ///< of each bar
    double slope_weight_;
    Eigen::VectorXd start_;
};

}  // namespace foreslice::colour
