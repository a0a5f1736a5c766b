#include "colour/fit_doses.h"

#include <algorithm>
#include <stdexcept>

namespace foreslice::testing {

using namespace colour;

namespace {

class Search {
  public:
    Search(const ColourantLibrary& library, const std::vector<std::string>& ids,
           const std::vector<Dose>& fixed, EncodedSrgb aim)
        : library_(library), fixed_(fixed), aim_(lab_of(xyz_of(decoded(aim)), white_of(Illuminant::d65))) {
        for (const std::string& id : ids) {
            const Colourant* colourant = library.find(id);
            if (colourant == nullptr) throw std::runtime_error("no colourant " + id);
            colourants_.push_back(colourant);
        }
    }

    std::vector<Dose> doses(const std::vector<double>& shares) const {
        std::vector<Dose> out = fixed_;
        for (std::size_t i = 0; i < shares.size(); ++i)
            out.push_back({colourants_[i], shares[i] * colourants_[i]->usual_most_g_per_kg_oils});
        return out;
    }

    double difference(const std::vector<double>& shares) const {
        return ciede2000(colour_of(mixed(library_.base(), doses(shares))).lab, aim_);
    }

    double cost(const std::vector<double>& shares) const {
        double sum = difference(shares);
        for (double share : shares) sum += 0.01 * share;
        return sum;
    }

    /// Steps one share at a time, up or down by a factor that shrinks when nothing helps.
    std::vector<double> from(std::vector<double> shares) const {
        double best = cost(shares);
        for (double step = 1.0; step > 1e-4;) {
            bool better = false;
            for (std::size_t i = 0; i < shares.size(); ++i)
                for (double factor : {1 + step, 1 / (1 + step), 0.0}) {
                    std::vector<double> trial = shares;
                    trial[i] = std::min(1.0, (shares[i] == 0 ? 0.01 * step : shares[i]) * factor);
                    if (const double c = cost(trial); c < best - 1e-9)
                        best = c, shares = trial, better = true;
                }
            if (!better) step /= 2;
        }
        return shares;
    }

    std::size_t size() const { return colourants_.size(); }

  private:
    const ColourantLibrary& library_;
    std::vector<Dose> fixed_;
    Lab aim_;
    std::vector<const Colourant*> colourants_;
};

}  // namespace

FittedDoses fit_doses(const ColourantLibrary& library, const std::vector<std::string>& ids,
                      const std::vector<Dose>& fixed, EncodedSrgb aim) {
    const Search search(library, ids, fixed, aim);
    std::vector<double> best(search.size(), 0.0);
    std::size_t starts = 1;
    for (std::size_t i = 0; i < ids.size(); ++i) starts *= 3;
    for (std::size_t start = 0; start < starts; ++start) {  // every corner of {low, middle, high}
        std::vector<double> shares;
        for (std::size_t i = 0, rest = start; i < ids.size(); ++i, rest /= 3)
            shares.push_back(rest % 3 == 0 ? 0.02 : rest % 3 == 1 ? 0.15 : 0.6);
        shares = search.from(std::move(shares));
        if (search.cost(shares) < search.cost(best)) best = shares;
    }
    FittedDoses fitted{search.doses(best), {}, search.difference(best)};
    fitted.colour = colour_of(mixed(library.base(), fitted.doses));
    return fitted;
}

}  // namespace foreslice::testing
