#include "colour/swatch_problem.h"

#include <algorithm>
#include <cmath>

#include "colour/upsampling.h"

namespace foreslice::colour {
namespace {

constexpr double lab_weight = 1.5;  // one over the colour error of a good 8-bit patch, in units of dE00
// Against squared slopes of z. The second was chosen by fitting paints of one data set with the shapes of
// the other: 1, 2 and 4 do about as well.
constexpr double plain_slope_weight = 0.5, kin_slope_weight = 2;
constexpr double scatter_weight = 0.1;  // a weak pull on S; decides only what the bars leave open
constexpr double ratio_pull = 0.3;      // of a kin's S to its own proportion to K, in dE00 a factor e
constexpr double least_reflectance = 1e-4;
constexpr double least_k_per_mm = 1e-5, most_k_per_mm = 100;
constexpr auto bands = static_cast<Eigen::Index>(band_count);

double clamped_reflectance(double r) {
    return std::clamp(r, least_reflectance, 1 - least_reflectance);
}
double z_of(double r) {
    return std::atanh(2 * clamped_reflectance(r) - 1);
}
double exp_k(double log_k) {
    return std::exp(std::clamp(log_k, -20.0, 6.0));
}
double exp_factor(double log_factor) {
    return std::exp(std::clamp(log_factor, -12.0, 12.0));
}

std::size_t most_white(const std::vector<TestBar>& bars) {
    std::size_t best = 0;
    for (std::size_t n = 1; n < bars.size(); ++n)
        if (bars[n].white_g_per_kg_oils / bars[n].g_per_kg_oils >
            bars[best].white_g_per_kg_oils / bars[best].g_per_kg_oils)
            best = n;
    return best;
}

/// The shape with its K and its S each at a strength of their own.
Optics scaled(const PigmentShape& shape, double log_k, double log_s) {
    Optics unit;
    for (std::size_t i = 0; i < band_count; ++i) {
        unit.absorption_per_mm[i] = std::exp(log_k) * shape.absorption[i];
        unit.scattering_per_mm[i] = std::exp(log_s) * shape.scattering[i];
    }
    return unit;
}

}  // namespace

Lab lab_of_linear(const LinearSrgb& rgb) {
    return lab_of(xyz_of(rgb), white_of(Illuminant::d65));
}

double absorption_for(double reflectance, double scattering_per_mm) {
    double low = 0, high = most_k_per_mm;  // R falls steadily with K
    for (int step = 0; step < 60; ++step) {
        const double k = (low + high) / 2;
        (bar_reflectance(k, scattering_per_mm) > reflectance ? low : high) = k;
    }
    return (low + high) / 2;
}

// ---- the bars --------------------------------------------------------------------------------------------
Bars::Bars(const Optics& base, const Colourant* white, const std::vector<TestBar>& all) : tests(all) {
    for (const TestBar& bar : tests) {
        const std::vector<Dose> whitened{{white, bar.white_g_per_kg_oils}};
        ground.push_back(mixed(base, whitened));
        aims.push_back(lab_of_linear(bar.seen));
        scales.push_back(de00_scale(aims.back()));
    }
}

Spectrum Bars::reflectance(std::size_t bar, const Optics& unit) const {
    const double dose = tests[bar].g_per_kg_oils;
    Spectrum r{};
    for (std::size_t i = 0; i < band_count; ++i)
        r[i] = bar_reflectance(ground[bar].absorption_per_mm[i] + dose * unit.absorption_per_mm[i],
                               ground[bar].scattering_per_mm[i] + dose * unit.scattering_per_mm[i]);
    return r;
}

double Bars::de00(std::size_t bar, const Optics& unit) const {
    const Xyz xyz = xyz_of(reflectance(bar, unit), Illuminant::d65);
    return ciede2000(lab_of(xyz, white_of(Illuminant::d65)), aims[bar]);
}

Kin nearest_strength(const Bars& bars, const PigmentShape& shape) {
    const auto miss = [&](double log_k, double log_s) {
        const Optics unit = scaled(shape, log_k, log_s);
        double sum = 0;
        for (std::size_t bar = 0; bar < bars.tests.size(); ++bar) {
            const double d = bars.de00(bar, unit);
            sum += d * d;
        }
        const double apart = ratio_pull * (log_s - log_k);
        return sum + apart * apart;
    };
    const double peak = *std::max_element(shape.absorption.begin(), shape.absorption.end());
    double log_k = -std::log(peak * bars.tests.front().g_per_kg_oils), log_s = log_k;
    double least = miss(log_k, log_s);
    const double start = log_k;
    for (double step = 1.6; step > 0.02; step /= 2)  // pattern search: two unknowns, one smooth valley
        for (bool better = true; better;) {
            better = false;
            for (const auto& [k, s] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, -1}}) {
                const double next_k = log_k + k * step, next_s = log_s + s * step;
                if (std::abs(next_k - start) > 12 || std::abs(next_s - start) > 12) continue;
                const double next = miss(next_k, next_s);
                if (!(next < least)) continue;
                least = next, log_k = next_k, log_s = next_s, better = true;
            }
        }
    return {scaled(shape, log_k, log_s), least};
}

// ---- the problem -----------------------------------------------------------------------------------------
SwatchProblem::SwatchProblem(const Bars& bars, double scattering)
    : bars_(bars),
      z_expected_(bars.tests.size(), Spectrum{}),
      slope_weight_(plain_slope_weight),
      start_(inputs()) {
    scattering_.fill(scattering);
    const std::size_t palest = most_white(bars.tests);
    const double dose = bars.tests[palest].g_per_kg_oils;
    const Spectrum aim = reflectance_from(bars.tests[palest].seen);
    for (std::size_t i = 0; i < band_count; ++i) {
        const double all = bars.ground[palest].scattering_per_mm[i] + dose * scattering;
        const double k = (absorption_for(aim[i], all) - bars.ground[palest].absorption_per_mm[i]) / dose;
        start_[static_cast<Eigen::Index>(i)] = std::log(std::clamp(k, least_k_per_mm, most_k_per_mm));
    }
    start_[bands] = 0;
}

SwatchProblem::SwatchProblem(const Bars& bars, const Kin& kin)
    : bars_(bars),
      scattering_(kin.unit.scattering_per_mm),
      slope_weight_(kin_slope_weight),
      start_(inputs()) {
    for (std::size_t bar = 0; bar < bars.tests.size(); ++bar) {
        Spectrum z = bars.reflectance(bar, kin.unit);
        for (double& value : z) value = z_of(value);
        z_expected_.push_back(z);
    }
    for (std::size_t i = 0; i < band_count; ++i)
        start_[static_cast<Eigen::Index>(i)] =
            std::log(std::clamp(kin.unit.absorption_per_mm[i], least_k_per_mm, most_k_per_mm));
    start_[bands] = 0;
}

int SwatchProblem::values() const {
    return static_cast<int>(bars_.tests.size()) * (3 + static_cast<int>(bands) - 1) + 1;
}

Optics SwatchProblem::unit(const Eigen::VectorXd& x) const {
    Optics out;
    for (std::size_t i = 0; i < band_count; ++i) {
        out.absorption_per_mm[i] = exp_k(x[static_cast<Eigen::Index>(i)]);
        out.scattering_per_mm[i] = exp_factor(x[bands]) * scattering_[i];
    }
    return out;
}

int SwatchProblem::operator()(const Eigen::VectorXd& x, Eigen::VectorXd& f) const {
    evaluate(x, &f, nullptr);
    return 0;
}

int SwatchProblem::df(const Eigen::VectorXd& x, Eigen::MatrixXd& j) const {
    evaluate(x, nullptr, &j);
    return 0;
}

void SwatchProblem::evaluate(const Eigen::VectorXd& x, Eigen::VectorXd* f, Eigen::MatrixXd* j) const {
    if (j != nullptr) j->setZero();
    Eigen::Index row = 0;
    const Optics unit = this->unit(x);
    for (std::size_t bar = 0; bar < bars_.tests.size(); ++bar) {
        const double dose = bars_.tests[bar].g_per_kg_oils;
        Spectrum r{}, by_k{}, by_s{};  // slopes in log K and the log of the factor
        for (std::size_t i = 0; i < band_count; ++i) {
            const double k = dose * unit.absorption_per_mm[i], s = dose * unit.scattering_per_mm[i];
            const BandResponse one = band_response(bars_.ground[bar].absorption_per_mm[i] + k,
                                                   bars_.ground[bar].scattering_per_mm[i] + s);
            r[i] = one.reflectance;
            by_k[i] = one.by_k * k;
            by_s[i] = one.by_s * s;
        }
        row = colour_rows(bar, r, by_k, by_s, row, f, j);
        row = slope_rows(bar, r, by_k, by_s, row, f, j);
    }
    if (f != nullptr) (*f)[row] = scatter_weight * x[bands];
    if (j != nullptr) (*j)(row, bands) = scatter_weight;
}

Eigen::Index SwatchProblem::colour_rows(std::size_t bar, const Spectrum& r, const Spectrum& by_k,
                                        const Spectrum& by_s, Eigen::Index row, Eigen::VectorXd* f,
                                        Eigen::MatrixXd* j) const {
    const LabResponse lab = lab_response(r);
    const Lab& aim = bars_.aims[bar];
    const double miss[3] = {lab.lab.l - aim.l, lab.lab.a - aim.a, lab.lab.b - aim.b};
    for (std::size_t c = 0; c < 3; ++c, ++row)
        for (std::size_t d = 0; d < 3; ++d) {
            const double weight = lab_weight * bars_.scales[bar][c][d];
            if (f != nullptr) (*f)[row] = (d == 0 ? 0 : (*f)[row]) + weight * miss[d];
            if (j == nullptr) continue;
            for (std::size_t i = 0; i < band_count; ++i) {
                (*j)(row, static_cast<Eigen::Index>(i)) += weight * lab.by_reflectance[d][i] * by_k[i];
                (*j)(row, bands) += weight * lab.by_reflectance[d][i] * by_s[i];
            }
        }
    return row;
}

Eigen::Index SwatchProblem::slope_rows(std::size_t bar, const Spectrum& r, const Spectrum& by_k,
                                       const Spectrum& by_s, Eigen::Index row, Eigen::VectorXd* f,
                                       Eigen::MatrixXd* j) const {
    const Spectrum& expected = z_expected_[bar];
    const auto bend = [&](std::size_t i) { return z_of(r[i]) - expected[i]; };
    const auto z_slope = [&](std::size_t i) {
        const double c = clamped_reflectance(r[i]);
        return 1 / (2 * c * (1 - c));
    };
    for (std::size_t i = 0; i + 1 < band_count; ++i, ++row) {
        if (f != nullptr) (*f)[row] = slope_weight_ * (bend(i + 1) - bend(i));
        if (j == nullptr) continue;
        const auto column = static_cast<Eigen::Index>(i);
        (*j)(row, column) = -slope_weight_ * z_slope(i) * by_k[i];
        (*j)(row, column + 1) = slope_weight_ * z_slope(i + 1) * by_k[i + 1];
        (*j)(row, bands) = slope_weight_ * (z_slope(i + 1) * by_s[i + 1] - z_slope(i) * by_s[i]);
    }
    return row;
}

}  // namespace foreslice::colour
