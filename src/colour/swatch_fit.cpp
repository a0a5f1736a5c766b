#include "colour/swatch_fit.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <unsupported/Eigen/NonLinearOptimization>

#include "colour/swatch_problem.h"
#include "colour/upsampling.h"
#include "foundation/error.h"

namespace foreslice::colour {
namespace {

// A spectrum without kin has to be smoother than one with kin by as much as two units of cost: pigments look
// like pigments. How sharply cost decides between kin was chosen as the slope weights were.
constexpr double without_kin_extra = 2, cost_spread = 0.2;
constexpr std::size_t most_kin = 14;  // the nearest by colour; the others are never picked

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

struct Trial {
    Optics unit;
    double cost = 0;
};

Trial solved(SwatchProblem problem, double extra) {
    Eigen::VectorXd x = problem.start(), f(problem.values());
    Eigen::LevenbergMarquardt<SwatchProblem> solver(problem);
    solver.parameters.maxfev = 200;
    solver.parameters.xtol = solver.parameters.ftol = 1e-6;
    solver.minimize(x);
    problem(x, f);
    return {problem.unit(x), f.squaredNorm() + extra};
}

/// The smoothest without kin, then one a pigment that comes near the bars.
std::vector<Trial> trials_of(const Bars& bars, std::span<const PigmentShape> shapes) {
    std::vector<Trial> smooth, trials;
    // From a weak, a middling and a strong scatterer: S is the one unknown with valleys of its own.
    for (const double guess : {1e-3, 1e-2, 6e-2})
        smooth.push_back(solved(SwatchProblem(bars, guess), without_kin_extra));
    trials.push_back(*std::min_element(smooth.begin(), smooth.end(),
                                       [](const Trial& a, const Trial& b) { return a.cost < b.cost; }));
    std::vector<Kin> kin;
    for (const PigmentShape& shape : shapes) kin.push_back(nearest_strength(bars, shape));
    std::stable_sort(kin.begin(), kin.end(), [](const Kin& a, const Kin& b) { return a.miss < b.miss; });
    if (kin.size() > most_kin) kin.resize(most_kin);
    for (const Kin& one : kin) trials.push_back(solved(SwatchProblem(bars, one), 0));
    return trials;
}

/// Mean of the logarithms, each trial with the weight of its likelihood.
Optics blended(const std::vector<Trial>& trials) {
    double least = trials.front().cost, all = 0;
    for (const Trial& trial : trials) least = std::min(least, trial.cost);
    Spectrum log_k{}, log_s{};
    for (const Trial& trial : trials) {
        const double weight = std::exp(-(trial.cost - least) / cost_spread);
        all += weight;
        for (std::size_t i = 0; i < band_count; ++i) {
            log_k[i] += weight * std::log(trial.unit.absorption_per_mm[i]);
            log_s[i] += weight * std::log(trial.unit.scattering_per_mm[i]);
        }
    }
    Optics unit;
    for (std::size_t i = 0; i < band_count; ++i) {
        unit.absorption_per_mm[i] = std::exp(log_k[i] / all);
        unit.scattering_per_mm[i] = std::exp(log_s[i] / all);
    }
    return unit;
}

}  // namespace

SwatchFit fit_colourant(const Optics& base, const Colourant* white, const std::vector<TestBar>& tests,
                        std::span<const PigmentShape> shapes) {
    check(tests, white);
    const Bars bars(base, white, tests);
    SwatchFit fit;
    fit.scattering_known = tells_scattering(tests);
    // A single bar cannot tell kin apart: any of them can be made to agree with it.
    fit.unit = blended(trials_of(bars, fit.scattering_known ? shapes : std::span<const PigmentShape>{}));
    for (std::size_t n = 0; n < tests.size(); ++n) {
        fit.de00.push_back(bars.de00(n, fit.unit));
        fit.mean_de00 += fit.de00.back() / static_cast<double>(tests.size());
        fit.greatest_de00 = std::max(fit.greatest_de00, fit.de00.back());
    }
    return fit;
}

Optics fit_base(const Optics& library_base, const LinearSrgb& seen) {
    const Spectrum aim = reflectance_from(seen);
    Optics base = library_base;
    for (std::size_t i = 0; i < band_count; ++i)
        base.absorption_per_mm[i] = absorption_for(aim[i], base.scattering_per_mm[i]);
    return base;
}

}  // namespace foreslice::colour
