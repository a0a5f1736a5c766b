#include "colour/match.h"

#include <nlopt.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <memory>
#include <set>

#include "colour/bar_model.h"
#include "colour/upsampling.h"
#include "colour/viewing.h"
#include "foundation/error.h"

namespace foreslice::colour {
namespace {

constexpr std::size_t most_unknowns = 5;
using Column = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most_unknowns, 1>;
using Slopes = Eigen::Matrix<double, 3, Eigen::Dynamic, 0, 3, most_unknowns>;

struct Choice {
    const Colourant* colourant;
    Optics unit;  ///< at the bar's age
    double most;  ///< g per kg of oils
};

/// A set of choices (indices, the white first when there is one) and their doses.
struct Candidate {
    std::vector<std::size_t> of;
    std::vector<double> doses;
    double error = 1e9;  ///< about dE00, from the local metric
};

class Matcher {
  public:
    Matcher(const ColourantLibrary& library, const BarState& state, EncodedSrgb target,
            const MatchLimits& limits)
        : limits_(limits),
          bar_(plain_bar(library.base(), state)),
          library_(library),
          state_(state),
          target_(lab_of(xyz_of(decoded(target)), white_of(Illuminant::d65))),
          target_reflectance_(reflectance_from(decoded(target))) {
        const auto scale = de00_scale(target_);
        for (int r = 0; r < 3; ++r)
            for (int c = 0; c < 3; ++c)
                scale_(r, c) = scale[static_cast<std::size_t>(r)][static_cast<std::size_t>(c)];
        add_choices();
    }

    Match run() const {
        std::vector<Candidate> found = searched();
        Match match;
        for (Candidate& candidate : found) match.recipes.push_back(recipe(finished(candidate)));
        double nearest = match.recipes.front().de00;
        for (const Recipe& recipe : match.recipes) nearest = std::min(nearest, recipe.de00);
        const bool reached = nearest <= reachable_de00;  // else the nearest comes first, whatever it costs
        std::stable_sort(match.recipes.begin(), match.recipes.end(), [&](const Recipe& a, const Recipe& b) {
            return reached ? rank(a) < rank(b) : a.de00 < b.de00;
        });
        drop_repeats(match.recipes);
        if (match.recipes.size() > limits_.recipes)
            match.recipes.resize(std::max<std::size_t>(1, limits_.recipes));
        match.reachable = match.recipes.front().de00 <= reachable_de00;
        return match;
    }

  private:
    void add_choices() {
        const std::set<std::string> only(limits_.only.begin(), limits_.only.end()),
            without(limits_.without.begin(), limits_.without.end());
        for (const auto& ids : {limits_.only, limits_.without})
            for (const std::string& id : ids)
                if (library_.find(id) == nullptr) unknown(id);
        has_white_ = !limits_.white.empty();
        if (has_white_) {
            const Colourant* white = library_.find(limits_.white);
            if (white == nullptr) unknown(limits_.white);
            add(*white);
        }
        for (const Colourant& c : library_.colourants()) {
            const bool wanted = only.empty() ? keeps_colour(c) && c.kind != "white" : only.contains(c.id);
            if (wanted && !without.contains(c.id) && c.id != limits_.white) add(c);
        }
        if (choices_.empty()) throw InputError("", "match", "no colourant is left to choose from", "");
    }

    [[noreturn]] static void unknown(const std::string& id) {
        throw InputError("", "match", "the library has no colourant " + foreslice::quoted(id), "an id of it");
    }

    void add(const Colourant& c) {
        if (limits_.most_price_per_kg_oils > 0 && c.price_per_100_g <= 0) return;
        choices_.push_back({&c, aged_unit(c, state_.age_days),
                            std::min(c.usual_most_g_per_kg_oils, limits_.most_total_g_per_kg_oils)});
    }

    // ---- the model --------------------------------------------------------------------------------------
    /// Lab of a set at doses, with slopes in the doses.
    Lab lab_at(const std::vector<std::size_t>& of, const double* doses, Slopes* slopes) const {
        Optics sum = bar_;
        for (std::size_t n = 0; n < of.size(); ++n)
            for (std::size_t i = 0; i < band_count; ++i) {
                sum.absorption_per_mm[i] += doses[n] * choices_[of[n]].unit.absorption_per_mm[i];
                sum.scattering_per_mm[i] += doses[n] * choices_[of[n]].unit.scattering_per_mm[i];
            }
        Spectrum reflectance{}, by_k{}, by_s{};
        for (std::size_t i = 0; i < band_count; ++i) {
            const BandResponse r = band_response(sum.absorption_per_mm[i], sum.scattering_per_mm[i]);
            reflectance[i] = r.reflectance;
            by_k[i] = r.by_k;
            by_s[i] = r.by_s;
        }
        const LabResponse response = lab_response(reflectance);
        if (slopes == nullptr) return response.lab;
        slopes->setZero(3, static_cast<Eigen::Index>(of.size()));
        for (std::size_t n = 0; n < of.size(); ++n)
            for (std::size_t i = 0; i < band_count; ++i) {
                const double by_dose = by_k[i] * choices_[of[n]].unit.absorption_per_mm[i] +
                                       by_s[i] * choices_[of[n]].unit.scattering_per_mm[i];
                for (std::size_t c = 0; c < 3; ++c)
                    (*slopes)(static_cast<Eigen::Index>(c), static_cast<Eigen::Index>(n)) +=
                        response.by_reflectance[c][i] * by_dose;
            }
        return response.lab;
    }

    Eigen::Vector3d miss(const Lab& lab) const {
        return scale_ * Eigen::Vector3d(lab.l - target_.l, lab.a - target_.a, lab.b - target_.b);
    }

    double total(const std::vector<double>& doses) const {
        double sum = 0;
        for (double dose : doses) sum += dose;
        return sum;
    }

    /// Damped Gauss-Newton on the local metric, doses kept within their bounds.
    void improve(Candidate& candidate, int most_rounds) const {
        Slopes slopes;
        double damping = 1e-3;
        Eigen::Vector3d error = miss(lab_at(candidate.of, candidate.doses.data(), &slopes));
        candidate.error = error.norm();
        for (int round = 0; round < most_rounds && candidate.error > 0.02; ++round) {
            // Doses are measured in parts of their most, so that damping treats all alike.
            Slopes scaled = scale_ * slopes;
            for (Eigen::Index n = 0; n < scaled.cols(); ++n) scaled.col(n) *= most(candidate, n);
            Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, most_unknowns, most_unknowns> normal =
                scaled.transpose() * scaled;
            Column pull = scaled.transpose() * error;
            for (Eigen::Index n = 0; n < scaled.cols(); ++n) {
                normal(n, n) *= 1 + damping;
                normal(n, n) += 1e-6;
                const bool stuck = (at(candidate, n) <= 0 && pull(n) > 0) ||
                                   (at(candidate, n) >= most(candidate, n) && pull(n) < 0);
                if (!stuck) continue;
                normal.row(n).setZero();
                normal.col(n).setZero();
                normal(n, n) = 1;
                pull(n) = 0;
            }
            const Column step = normal.ldlt().solve(pull);
            Candidate trial = candidate;
            for (Eigen::Index n = 0; n < scaled.cols(); ++n)
                trial.doses[static_cast<std::size_t>(n)] =
                    std::clamp(at(candidate, n) - step(n) * most(candidate, n), 0.0, most(candidate, n));
            Slopes next_slopes;
            const Eigen::Vector3d next = miss(lab_at(trial.of, trial.doses.data(), &next_slopes));
            if (next.norm() < candidate.error) {
                const bool settled = candidate.error - next.norm() < 1e-3 * candidate.error;
                trial.error = next.norm();
                candidate = std::move(trial);
                error = next;
                slopes = next_slopes;
                damping = std::max(1e-6, damping / 5);
                if (settled) break;
            } else {
                damping *= 8;
                if (damping > 1e4) break;
            }
        }
    }

    double most(const Candidate& candidate, Eigen::Index n) const {
        return choices_[candidate.of[static_cast<std::size_t>(n)]].most;
    }
    static double at(const Candidate& candidate, Eigen::Index n) {
        return candidate.doses[static_cast<std::size_t>(n)];
    }

    // ---- which sets ---------------------------------------------------------------------------------------
    static constexpr std::size_t beam = 6;
    static constexpr int rounds = 12;

    std::vector<Candidate> searched() const {
        Candidate none;
        if (has_white_) none = {{0}, {0.3 * choices_[0].most}, 1e9};
        improve(none, rounds);
        std::vector<Candidate> all{none}, level{none};
        const std::size_t levels = std::min<std::size_t>(limits_.most_colourants, most_unknowns - 1);
        for (std::size_t size = 1; size <= levels; ++size) {
            std::vector<Candidate> next;
            std::set<std::vector<std::size_t>> tried;
            for (const Candidate& parent : level) extend(parent, size == 1, next, tried);
            std::stable_sort(next.begin(), next.end(),
                             [](const Candidate& a, const Candidate& b) { return a.error < b.error; });
            if (next.size() > beam) next.resize(beam);
            level = next;
            all.insert(all.end(), next.begin(), next.end());
        }
        std::stable_sort(all.begin(), all.end(),
                         [](const Candidate& a, const Candidate& b) { return a.error < b.error; });
        if (all.size() > limits_.recipes + 4) all.resize(limits_.recipes + 4);
        return all;
    }

    void extend(const Candidate& parent, bool first, std::vector<Candidate>& next,
                std::set<std::vector<std::size_t>>& tried) const {
        for (std::size_t c = has_white_ ? 1 : 0; c < choices_.size(); ++c) {
            if (std::find(parent.of.begin(), parent.of.end(), c) != parent.of.end()) continue;
            std::vector<std::size_t> set = parent.of;
            set.push_back(c);
            std::sort(set.begin(), set.end());
            if (!tried.insert(set).second) continue;
            Candidate child = parent;
            child.of.push_back(c);
            child.doses.push_back(0.03 * choices_[c].most);
            improve(child, rounds);
            if (first) {  // a dark target has another way in
                Candidate strong = parent;
                strong.of.push_back(c);
                strong.doses.push_back(0.5 * choices_[c].most);
                improve(strong, rounds);
                if (strong.error < child.error) child = strong;
            }
            next.push_back(std::move(child));
        }
    }

    // ---- the finish ---------------------------------------------------------------------------------------
    struct Goal {
        const Matcher* matcher;
        const Candidate* candidate;
    };

    static double goal(unsigned count, const double* doses, double* gradient, void* data) {
        const Goal& goal = *static_cast<const Goal*>(data);
        Slopes slopes;
        const Lab lab = goal.matcher->lab_at(goal.candidate->of, doses, &slopes);
        const auto square = [&](const Lab& at) {
            const double d = ciede2000(at, goal.matcher->target_);
            return d * d;
        };
        const double value = square(lab);
        constexpr double h = 1e-4, thrift = 1e-4;  // thrift: of equal recipes the one with less powder
        const Eigen::Vector3d by_lab(
            (square({lab.l + h, lab.a, lab.b}) - square({lab.l - h, lab.a, lab.b})) / (2 * h),
            (square({lab.l, lab.a + h, lab.b}) - square({lab.l, lab.a - h, lab.b})) / (2 * h),
            (square({lab.l, lab.a, lab.b + h}) - square({lab.l, lab.a, lab.b - h})) / (2 * h));
        double powder = 0;
        for (unsigned n = 0; n < count; ++n) {
            powder += doses[n];
            if (gradient != nullptr) gradient[n] = slopes.col(n).dot(by_lab) + thrift;
        }
        return value + thrift * powder;
    }

    static double powder_left(unsigned count, const double* doses, double* gradient, void* data) {
        const Goal& goal = *static_cast<const Goal*>(data);
        double sum = -goal.matcher->limits_.most_total_g_per_kg_oils;
        for (unsigned n = 0; n < count; ++n) {
            sum += doses[n];
            if (gradient != nullptr) gradient[n] = 1;
        }
        return sum;
    }

    static double money_left(unsigned count, const double* doses, double* gradient, void* data) {
        const Goal& goal = *static_cast<const Goal*>(data);
        double sum = -goal.matcher->limits_.most_price_per_kg_oils;
        for (unsigned n = 0; n < count; ++n) {
            const double price =
                goal.matcher->choices_[goal.candidate->of[n]].colourant->price_per_100_g / 100;
            sum += price * doses[n];
            if (gradient != nullptr) gradient[n] = price;
        }
        return sum;
    }

    Candidate finished(const Candidate& candidate) const {
        if (candidate.of.empty()) return candidate;
        const auto count = static_cast<unsigned>(candidate.of.size());
        const std::unique_ptr<nlopt_opt_s, decltype(&nlopt_destroy)> solver(
            nlopt_create(NLOPT_LD_SLSQP, count), &nlopt_destroy);
        Goal data{this, &candidate};
        std::vector<double> upper, doses = candidate.doses;
        for (std::size_t n : candidate.of) upper.push_back(choices_[n].most);
        const double surplus = total(doses) / limits_.most_total_g_per_kg_oils;
        if (surplus > 1)
            for (double& dose : doses) dose /= surplus;
        nlopt_set_lower_bounds1(solver.get(), 0);
        nlopt_set_upper_bounds(solver.get(), upper.data());
        nlopt_set_min_objective(solver.get(), &Matcher::goal, &data);
        nlopt_add_inequality_constraint(solver.get(), &Matcher::powder_left, &data, 1e-6);
        if (limits_.most_price_per_kg_oils > 0)
            nlopt_add_inequality_constraint(solver.get(), &Matcher::money_left, &data, 1e-6);
        nlopt_set_ftol_abs(solver.get(), 1e-6);
        nlopt_set_maxeval(solver.get(), 60);
        double value = 0;
        nlopt_optimize(solver.get(), doses.data(),
                       &value);  // its code does not matter: doses are feasible or dropped
        Candidate out = candidate;
        out.doses = doses;
        return out;
    }

    // ---- what is handed back ------------------------------------------------------------------------------
    Recipe recipe(const Candidate& candidate) const {
        constexpr double least_dose = 0.005;  // g per kg of oils; below it no scale follows
        Recipe out;
        for (std::size_t n = 0; n < candidate.of.size(); ++n)
            if (candidate.doses[n] >= least_dose)
                out.doses.push_back({choices_[candidate.of[n]].colourant, candidate.doses[n]});
        std::stable_sort(out.doses.begin(), out.doses.end(), [&](const Dose& a, const Dose& b) {
            const bool white_a = a.colourant->id == limits_.white, white_b = b.colourant->id == limits_.white;
            return white_a != white_b ? white_b : a.g_per_kg_oils > b.g_per_kg_oils;
        });
        out.colour = colour_of(aged_mix(library_.base(), state_, out.doses), {}, model_thickness_mm);
        out.de00 = ciede2000(out.colour.lab, target_);
        for (const Illuminant lamp : {Illuminant::a, Illuminant::led_b3, Illuminant::fl11})
            out.metamerism = std::max(
                out.metamerism,
                metamerism_index(out.colour.reflectance, target_reflectance_, Illuminant::d65, lamp));
        for (const Dose& dose : out.doses) {
            out.total_g_per_kg_oils += dose.g_per_kg_oils;
            out.price_per_kg_oils += dose.g_per_kg_oils * dose.colourant->price_per_100_g / 100;
        }
        return out;
    }

    /// Differences nobody sees do not count; then agreement under other lamps, thrift and few powders decide.
    static double rank(const Recipe& recipe) {
        return std::max(0.3, recipe.de00) + 0.1 * recipe.metamerism + 0.01 * recipe.total_g_per_kg_oils +
               0.05 * static_cast<double>(recipe.doses.size());
    }

    static void drop_repeats(std::vector<Recipe>& recipes) {
        std::set<std::set<std::string>> seen;
        std::erase_if(recipes, [&](const Recipe& recipe) {
            std::set<std::string> ids;
            for (const Dose& dose : recipe.doses) ids.insert(dose.colourant->id);
            return !seen.insert(ids).second;
        });
    }

    const MatchLimits& limits_;
    Optics bar_;
    const ColourantLibrary& library_;
    const BarState& state_;
    Lab target_;
    Spectrum target_reflectance_;
    Eigen::Matrix3d scale_;
    std::vector<Choice> choices_;
    bool has_white_ = false;
};

}  // namespace

bool keeps_colour(const Colourant& c) {
    constexpr double lasting_days = 365, little_lost = 0.1;
    const bool lasts = c.fade_half_life_days <= 0 || c.fade_half_life_days >= lasting_days;
    return lasts && !c.bleeds && !c.not_soap_safe && c.lost_in_alkali_share < little_lost;
}

Match match(const ColourantLibrary& library, const BarState& state, EncodedSrgb target,
            const MatchLimits& limits) {
    return Matcher(library, state, target, limits).run();
}

}  // namespace foreslice::colour
