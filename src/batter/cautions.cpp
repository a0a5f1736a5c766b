// Recipes that can be made but deserve a second look. Thresholds: common practice, no source, but for the
// worst case of the superfat, which follows from the ranges.
#include <algorithm>
#include <cmath>

#include "batter/batch.h"
#include "foundation/error.h"
#include "foundation/numbers.h"

namespace foreslice::batter {
namespace {

constexpr double little_superfat_percent = 2, much_superfat_percent = 15;
constexpr double strong_lye_percent = 40, weak_lye_percent = 25;
constexpr double much_fragrance_g_per_kg = 60;
constexpr double much_wax_percent = 10;
constexpr double rancid_iodine = 70, rancid_superfat_percent = 8;
constexpr double coconut_soap_percent = 80;  // of coconut: high superfat is usual there

class Watcher {
  public:
    Watcher(const Recipe& recipe, const Batch& batch) : recipe_(recipe), batch_(batch) {}

    std::vector<Caution> all() {
        superfat();
        lye();
        oils();
        additives();
        fragrance();
        return std::move(found_);
    }

  private:
    void add(std::string place, std::string sentence, std::string cure) {
        found_.push_back({std::move(place), std::move(sentence), std::move(cure)});
    }

    /// The least superfat at which no range brings it below zero, rounded up to half a percent.
    double safe_superfat_percent() const {
        const double used = 1 - batch_.superfat_percent / 100;
        const double worst = 1 - batch_.superfat_range_percent.low / 100;
        return std::ceil(2 * 100 * (1 - used / worst)) / 2;
    }

    void superfat() {
        const Span range = batch_.superfat_range_percent;
        if (range.low <= 1e-9)
            add("/superfat_percent",
                "In the worst case no oil is left over: if all saponification values lie at the low end of "
                "their ranges, a superfat of " +
                    rounded_number(batch_.superfat_percent, 1) + " % comes out as " +
                    rounded_number(range.low, 1) + " %: lye is left in the bar.",
                "Enter the values of your suppliers' certificates, or plan " +
                    plain_number(safe_superfat_percent()) + " % or more.");
        if (batch_.superfat_percent < little_superfat_percent)
            add("/superfat_percent",
                "A superfat of " + rounded_number(batch_.superfat_percent, 1) +
                    " % leaves no room for a weighing error.",
                "Plan 3 % or more unless this is laundry soap.");
        double coconut = 0;
        for (const OilWeight& oil : batch_.oils)
            if (oil.oil->id == "coconut") coconut += oil.percent;
        if (batch_.superfat_percent > much_superfat_percent && coconut < coconut_soap_percent)
            add("/superfat_percent",
                "A superfat of " + rounded_number(batch_.superfat_percent, 1) +
                    " % makes soft, greasy bars that turn "
                    "rancid sooner.",
                "3 to 8 % is usual; more only in soap of coconut alone.");
        if (batch_.iodine.middle() > rancid_iodine && batch_.superfat_percent > rancid_superfat_percent)
            add("/oils",
                "Soft oils (iodine value " + rounded_number(batch_.iodine.middle(), 1) +
                    ") with a superfat of " + rounded_number(batch_.superfat_percent, 1) +
                    " % may get orange spots in store.",
                "Less superfat or more hard oils; keep the bars cool and dark.");
    }

    void lye() {
        if (batch_.lye_percent > strong_lye_percent + 1e-9)
            add("/lye_percent",
                "Lye of " + rounded_number(batch_.lye_percent, 1) +
                    " % thickens the batter fast and leaves little time "
                    "for the wire.",
                "33 to 38 % gives time; weigh the water with care.");
        if (batch_.lye_percent < weak_lye_percent - 1e-9)
            add("/lye_percent",
                "Lye of " + rounded_number(batch_.lye_percent, 1) +
                    " % brings much water: soft bars, long cure, ash and "
                    "glycerine rivers.",
                "28 to 40 % is usual.");
    }

    void oils() {
        double wax = 0;
        std::string memory;
        for (const OilWeight& oil : batch_.oils) {
            if (oil.oil->kind == OilKind::wax) wax += oil.percent;
            if (!oil.certified && oil.oil->how_known == "memory")
                memory += (memory.empty() ? "" : ", ") + oil.oil->name;
        }
        if (wax > much_wax_percent)
            add("/oils",
                rounded_number(wax, 1) +
                    " % of wax: about half of a wax never turns to soap, and the batter "
                    "sets early.",
                "Keep wax to a few percent.");
        if (!memory.empty())
            add("/oils",
                "The saponification value of " + memory + " is from memory; its source was not re-read.",
                "Enter the value of your supplier's certificate.");
    }

    void additives() {
        for (std::size_t i = 0; i < recipe_.additives.size(); ++i) {
            const AdditiveKind* kind = find_additive(recipe_.additives[i].what);
            const double percent = 100 * batch_.additives[i].g / batch_.oils_g;
            if (kind == nullptr || percent <= kind->most_percent_of_oils + 1e-9) continue;
            add("/additives/" + std::to_string(i),
                rounded_number(percent, 1) + " % of " + batch_.additives[i].name +
                    " (of the oils) is much: " + std::string(kind->why_not_more) + ".",
                "Stay at or below " + plain_number(kind->most_percent_of_oils) + " % of the oils.");
        }
    }

    void fragrance() {
        const double of_batter = 100 * batch_.fragrance_g / batch_.batter_g;
        if (recipe_.fragrance_limit_percent && of_batter > *recipe_.fragrance_limit_percent + 1e-9)
            add("/fragrance_g_per_kg_oils",
                "The fragrance is " + plain_number(std::round(of_batter * 100) / 100) +
                    " % of the batter, above the supplier's limit of " +
                    plain_number(*recipe_.fragrance_limit_percent) + " % that you entered.",
                "Use less; bars lose water and the share rises as they dry.");
        if (recipe_.fragrance_g_per_kg_oils > much_fragrance_g_per_kg)
            add("/fragrance_g_per_kg_oils",
                plain_number(recipe_.fragrance_g_per_kg_oils) +
                    " g of fragrance per kg of oils is much; it may "
                    "thicken the batter or seep out.",
                "20 to 60 g is usual, and never above the supplier's documented limit.");
    }

    const Recipe& recipe_;
    const Batch& batch_;
    std::vector<Caution> found_;
};

}  // namespace

std::vector<Caution> cautions_of(const Recipe& recipe, const Batch& batch) {
    return Watcher(recipe, batch).all();
}

}  // namespace foreslice::batter
