#include "colour/swatch_fit.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <unsupported/Eigen/NonLinearOptimization>

#include "colour/bar_model.h"
#include "colour/upsampling.h"
#include "foundation/error.h"

namespace foreslice::colour {
namespace {

constexpr double lab_weight = 1.5;       // one over the colour error of a good 8-bit patch, in units of dE00
constexpr double slope_weight = 0.5;  // against the squared slopes of z
constexpr double scatter_weight =
    0.1;  // a weak pull of log S to its guess; decides only what the bars leave open
constexpr double least_reflectance = 1e-4;
constexpr double least_k_per_mm = 1e-7, most_k_per_mm = 100;
constexpr auto bands = static_cast<Eigen::Index>(band_count);

Lab lab_of_linear(const LinearSrgb& rgb) {
    return lab_of(xyz_of(rgb), white_of(Illuminant::d65));
}

double clamped_reflectance(double r) {
    return std::clamp(r, least_reflectance, 1 - least_reflectance);
}

/// The K that gives this reflectance at scattering s; by bisection, as R falls steadily with K.
double absorption_for(double reflectance, double s) {
    double low = 0, high = most_k_per_mm;
    for (int step = 0; step < 60; ++step) {
        const double k = (low + high) / 2;
        (band_response(k, s).reflectance > reflectance ? low : high) = k;
    }
    return (low + high) / 2;
}

/// Unknowns: log K of the 36 bands, then log S.
class Problem {
  public:
    Problem(const Optics& base, const Colourant* white, const std::vector<TestBar>& bars,
            double scatter_guess)
        : bars_(bars), scatter_guess_(scatter_guess) {
        for (const TestBar& bar : bars) {
            const std::vector<Dose> whitened{{white, bar.white_g_per_kg_oils}};
            ground_.push_back(mixed(base, whitened));
            aims_.push_back(lab_of_linear(bar.seen));
            scales_.push_back(de00_scale(aims_.back()));
        }
    }

    int inputs() const { return static_cast<int>(bands) + 1; }
    int values() const { return static_cast<int>(bars_.size()) * (3 + static_cast<int>(bands) - 1) + 1; }

    Eigen::VectorXd start() const {
        Eigen::VectorXd x(inputs());
        const std::size_t palest = most_white();
        const double dose = bars_[palest].g_per_kg_oils;
        const Spectrum aim = reflectance_from(bars_[palest].seen);
        const double s = std::exp(scatter_guess_);
        for (std::size_t i = 0; i < band_count; ++i) {
            const double all = ground_[palest].scattering_per_mm[i] + dose * s;
            const double k = (absorption_for(aim[i], all) - ground_[palest].absorption_per_mm[i]) / dose;
            x[static_cast<Eigen::Index>(i)] = std::log(std::clamp(k, 1e-5, most_k_per_mm));
        }
        x[bands] = scatter_guess_;
        return x;
    }

    Spectrum reflectance(const Eigen::VectorXd& x, std::size_t bar) const {
        Spectrum r{};
        for (std::size_t i = 0; i < band_count; ++i) r[i] = response(x, bar, i).reflectance;
        return r;
    }

    int operator()(const Eigen::VectorXd& x, Eigen::VectorXd& f) const {
        evaluate(x, &f, nullptr);
        return 0;
    }
    int df(const Eigen::VectorXd& x, Eigen::MatrixXd& j) const {
        evaluate(x, nullptr, &j);
        return 0;
    }

  private:
    std::size_t most_white() const {
        std::size_t best = 0;
        for (std::size_t n = 1; n < bars_.size(); ++n)
            if (bars_[n].white_g_per_kg_oils / bars_[n].g_per_kg_oils >
                bars_[best].white_g_per_kg_oils / bars_[best].g_per_kg_oils)
                best = n;
        return best;
    }

    BandResponse response(const Eigen::VectorXd& x, std::size_t bar, std::size_t band) const {
        const double dose = bars_[bar].g_per_kg_oils;
        const double k = std::exp(std::clamp(x[static_cast<Eigen::Index>(band)], -20.0, 6.0));
        const double s = std::exp(std::clamp(x[bands], -20.0, 3.0));
        return band_response(ground_[bar].absorption_per_mm[band] + dose * k,
                             ground_[bar].scattering_per_mm[band] + dose * s);
    }

    void evaluate(const Eigen::VectorXd& x, Eigen::VectorXd* f, Eigen::MatrixXd* j) const {
        if (j != nullptr) j->setZero();
        Eigen::Index row = 0;
        const double s = std::exp(std::clamp(x[bands], -20.0, 3.0));
        for (std::size_t bar = 0; bar < bars_.size(); ++bar) {
            const double dose = bars_[bar].g_per_kg_oils;
            Spectrum r{}, by_k{}, by_s{};  // slopes in log K and log S
            for (std::size_t i = 0; i < band_count; ++i) {
                const BandResponse one = response(x, bar, i);
                r[i] = one.reflectance;
                by_k[i] = one.by_k * dose * std::exp(std::clamp(x[static_cast<Eigen::Index>(i)], -20.0, 6.0));
                by_s[i] = one.by_s * dose * s;
            }
            row = colour_rows(bar, r, by_k, by_s, row, f, j);
            row = slope_rows(r, by_k, by_s, row, f, j);
        }
        if (f != nullptr) (*f)[row] = scatter_weight * (x[bands] - scatter_guess_);
        if (j != nullptr) (*j)(row, bands) = scatter_weight;
    }

    Eigen::Index colour_rows(std::size_t bar, const Spectrum& r, const Spectrum& by_k, const Spectrum& by_s,
                             Eigen::Index row, Eigen::VectorXd* f, Eigen::MatrixXd* j) const {
        const LabResponse lab = lab_response(r);
        const double miss[3] = {lab.lab.l - aims_[bar].l, lab.lab.a - aims_[bar].a, lab.lab.b - aims_[bar].b};
        for (std::size_t c = 0; c < 3; ++c, ++row)
            for (std::size_t d = 0; d < 3; ++d) {
                const double weight = lab_weight * scales_[bar][c][d];
                if (f != nullptr) (*f)[row] = (d == 0 ? 0 : (*f)[row]) + weight * miss[d];
                if (j == nullptr) continue;
                for (std::size_t i = 0; i < band_count; ++i) {
                    (*j)(row, static_cast<Eigen::Index>(i)) += weight * lab.by_reflectance[d][i] * by_k[i];
                    (*j)(row, bands) += weight * lab.by_reflectance[d][i] * by_s[i];
                }
            }
        return row;
    }

    static Eigen::Index slope_rows(const Spectrum& r, const Spectrum& by_k, const Spectrum& by_s,
                                   Eigen::Index row, Eigen::VectorXd* f, Eigen::MatrixXd* j) {
        const auto z = [&](std::size_t i) { return std::atanh(2 * clamped_reflectance(r[i]) - 1); };
        const auto z_slope = [&](std::size_t i) {
            const double c = clamped_reflectance(r[i]);
            return 1 / (2 * c * (1 - c));
        };
        for (std::size_t i = 0; i + 1 < band_count; ++i, ++row) {
            if (f != nullptr) (*f)[row] = slope_weight * (z(i + 1) - z(i));
            if (j == nullptr) continue;
            const auto column = static_cast<Eigen::Index>(i);
            (*j)(row, column) = -slope_weight * z_slope(i) * by_k[i];
            (*j)(row, column + 1) = slope_weight * z_slope(i + 1) * by_k[i + 1];
            (*j)(row, bands) = slope_weight * (z_slope(i + 1) * by_s[i + 1] - z_slope(i) * by_s[i]);
        }
        return row;
    }

    const std::vector<TestBar>& bars_;
    double scatter_guess_;
    std::vector<Optics> ground_;
    std::vector<Lab> aims_;
    std::vector<std::array<std::array<double, 3>, 3>> scales_;
};

void check(const std::vector<TestBar>& bars, const Colourant* white) {
    if (bars.empty())
        throw InputError("", "bars", "there are no test bars", "at least one, better two or more");
    for (std::size_t n = 0; n < bars.size(); ++n) {
        const TestBar& bar = bars[n];
        const std::string place = "bar " + std::to_string(n + 1);
        if (!(bar.g_per_kg_oils > 0 && bar.g_per_kg_oils <= 200))
            throw InputError("", place, "a dose of " + plain_number(bar.g_per_kg_oils) + " g per kg of oils",
                             "above 0 to 200");
        if (!(bar.white_g_per_kg_oils >= 0 && bar.white_g_per_kg_oils <= 200))
            throw InputError("", place,
                             "a white of " + plain_number(bar.white_g_per_kg_oils) + " g per kg of oils",
                             "0 to 200");
        if (bar.white_g_per_kg_oils > 0 && white == nullptr)
            throw InputError("", place, "holds white, but no white colourant is named", "the id of a white");
        if (!std::isfinite(bar.seen.r) || !std::isfinite(bar.seen.g) || !std::isfinite(bar.seen.b))
            throw InputError("", place, "has no colour", "a patch inside the photo");
    }
}

/// Bars that differ only in one factor of dose leave S open; white or several strengths do not.
bool tells_scattering(const std::vector<TestBar>& bars) {
    return std::any_of(bars.begin(), bars.end(), [&](const TestBar& bar) {
        return bar.white_g_per_kg_oils / bar.g_per_kg_oils !=
                   bars.front().white_g_per_kg_oils / bars.front().g_per_kg_oils ||
               bar.g_per_kg_oils != bars.front().g_per_kg_oils;
    });
}

}  // namespace

SwatchFit fit_colourant(const Optics& base, const Colourant* white, const std::vector<TestBar>& bars) {
    check(bars, white);
    SwatchFit best;
    double least = 0;
    // From a weak, a middling and a strong scatterer: log S is the one unknown with valleys of its own.
    for (const double guess : {1e-3, 1e-2, 6e-2}) {
        Problem problem(base, white, bars, std::log(guess));
        Eigen::VectorXd x = problem.start(), f(problem.values());
        Eigen::LevenbergMarquardt<Problem> solver(problem);
        solver.parameters.maxfev = 200;
        solver.parameters.xtol = solver.parameters.ftol = 1e-7;
        solver.minimize(x);
        problem(x, f);
        if (!best.de00.empty() && !(f.squaredNorm() < least)) continue;
        least = f.squaredNorm();
        best = {};
        for (std::size_t i = 0; i < band_count; ++i) {
            best.unit.absorption_per_mm[i] = std::max(
                0.0, std::exp(std::clamp(x[static_cast<Eigen::Index>(i)], -20.0, 6.0)) - least_k_per_mm);
            best.unit.scattering_per_mm[i] = std::exp(std::clamp(x[bands], -20.0, 3.0));
        }
        for (std::size_t n = 0; n < bars.size(); ++n) {
            const Lab made = colour_of_reflectance(problem.reflectance(x, n)).lab;
            best.de00.push_back(ciede2000(made, lab_of_linear(bars[n].seen)));
            best.mean_de00 += best.de00.back() / static_cast<double>(bars.size());
            best.greatest_de00 = std::max(best.greatest_de00, best.de00.back());
        }
    }
    best.scattering_known = tells_scattering(bars);
    return best;
}

Optics fit_base(const Optics& library_base, const LinearSrgb& seen) {
    const Spectrum aim = reflectance_from(seen);
    Optics base = library_base;
    for (std::size_t i = 0; i < band_count; ++i)
        base.absorption_per_mm[i] = absorption_for(aim[i], base.scattering_per_mm[i]);
    return base;
}

}  // namespace foreslice::colour
