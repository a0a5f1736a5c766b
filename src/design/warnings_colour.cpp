// Every threshold here is common practice without a published source, unless its line says otherwise. What a
// powder may be used for is never judged: suppliers' documents and local rules do that.
#include "design/internal/warnings_colour.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "design/internal/tree.h"
#include "design/tint.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

constexpr double much_powder_g_per_kg = 40;  // of all colourants in a portion, per kg of its oils
constexpr double river_white_g_per_kg = 3;   // with gel and much water; a maker's test used about 4
constexpr double river_lye_percent = 34;     // rivers at 29 % lye, none at 42 % in that test
constexpr double specks_from_g_per_kg = 1;
constexpr double much_superfat_rise = 1.5;      // percentage points
constexpr double much_lye_drop = 2;             // percentage points
constexpr double much_browning_g_per_kg = 0.3;  // vanillin: 1 % of a fragrance at 30 g per kg of oils
constexpr double short_life_days = 365;

std::string shown(double value) {
    return plain_number(std::round(value * 10) / 10);
}

class Colours {
  public:
    Colours(const Design& design, const colour::ColourantLibrary& library, std::vector<Warning>& found)
        : design_(design), library_(library), found_(found) {}

    void all() {
        for (std::size_t i = 0; i < design_.portions.size(); ++i) portion(i);
        browning();
        rules();
    }

  private:
    void warn(std::string place, std::string sentence, std::string cure) {
        found_.push_back({std::move(place), std::move(sentence), std::move(cure)});
    }

    void portion(std::size_t index) {
        const Portion& portion = design_.portions[index];
        const std::string path = path_to("/portions", index);
        double powder = 0;
        for (const colour::Dose& dose : doses_of(portion, design_, library_)) powder += dose.g_per_kg_oils;
        if (powder > much_powder_g_per_kg)
            warn(path,
                 "Together " + shown(powder) + " g of powder per kg of oils in " + portion.name +
                     " thicken the batter, and the bar may crumble and stain.",
                 "Stay below about " + plain_number(much_powder_g_per_kg) +
                     " g per kg of oils, with stronger colourants.");
        for (std::size_t k = 0; k < portion.doses.size(); ++k)
            dose(portion, portion.doses[k], path_to(path + "/doses", k));
        dose(portion, portion.white, path + "/white");
        carriers(portion, path);
        rivers(portion, path);
        gamut(portion, path);
    }

    void dose(const Portion& portion, const ColourantDose& dose, const std::string& path) {
        const colour::Colourant* c = library_.find(dose.colourant);
        const double grams = g_per_kg_oils_of(dose, design_, library_);
        if (c == nullptr || grams <= 0) return;
        const std::string it = c->name + " in " + portion.name;
        if (c->not_soap_safe)
            warn(path,
                 "The library marks " + c->name +
                     " as not for soap: lye destroys it or it is not meant for skin.",
                 "Ask its supplier, or take another colourant.");
        if (dose.dispersion && dose.dispersion->carrier == colour::Carrier::none &&
            grams >= specks_from_g_per_kg && c->kind != "dye")
            warn(path,
                 shown(grams) + " g of dry " + it +
                     " per kg of oils leave specks where lumps do not break up.",
                 "Stir it into two to three parts of oil taken from the recipe, without lumps, before it "
                 "goes in.");
        if (c->bleeds)
            warn(path, "The colour of " + it + " bleeds: its edges soften and its neighbours take it up.",
                 "Keep it away from white and from fine lines, or take a pigment.");
        if (c->lost_in_alkali_share >= 0.15)
            warn(path,
                 "Lye changes " + it + ": about " + plain_number(std::round(100 * c->lost_in_alkali_share)) +
                     " % of its colour goes in the first days.",
                 "Pour a small test bar first, or take a colourant that alkali does not harm.");
        else if (c->fade_half_life_days > 0 && c->fade_half_life_days < short_life_days)
            warn(path,
                 "The colour of " + it + " fades: about half of it is gone after " +
                     plain_number(std::round(c->fade_half_life_days)) + " days, sooner in light.",
                 "Look at the bars at six months (age_days 180), keep them dark, or take a mineral pigment.");
    }

    /// What the dispersing liquids add to the portion, per kg of its oils.
    void carriers(const Portion& portion, const std::string& path) {
        double oil_g = 0, water_g = 0;
        const auto add = [&](const ColourantDose& dose) {
            if (!dose.dispersion) return;
            const double g = g_per_kg_oils_of(dose, design_, library_) * dose.dispersion->parts_of_carrier;
            if (dose.dispersion->carrier == colour::Carrier::oil) oil_g += g;
            if (dose.dispersion->carrier == colour::Carrier::water) water_g += g;
        };
        for (const ColourantDose& each : portion.doses) add(each);
        add(portion.white);
        const double superfat = design_.base.superfat_percent;
        const double with_oil = (10 * superfat + oil_g) / (1000 + oil_g) * 100;
        if (with_oil - superfat > much_superfat_rise)
            warn(path,
                 "The oil that the colours of " + portion.name +
                     " are stirred into raises its superfat from " + shown(superfat) + " to " +
                     shown(with_oil) + " % unless it is taken from the recipe.",
                 "Weigh that oil out of the recipe's oils.");
        const double lye = design_.base.lye_percent.value_or(33);
        const double naoh_g = 148.6 * (1 - superfat / 100);  // per kg of oils, a usual blend
        const double with_water = 100 * naoh_g / (naoh_g * 100 / lye + water_g);
        if (lye - with_water > much_lye_drop)
            warn(path,
                 "The water that the colours of " + portion.name + " are stirred into thins its lye from " +
                     shown(lye) + " to " + shown(with_water) + " % unless it is taken from the lye's water.",
                 "Hold that water back when the lye is mixed, or disperse in oil.");
    }

    void rivers(const Portion& portion, const std::string& path) {
        if (!design_.base.lye_percent || !design_.base.gelled ||
            *design_.base.lye_percent > river_lye_percent)
            return;
        const colour::Colourant* white = library_.find(portion.white.colourant);
        const double grams = g_per_kg_oils_of(portion.white, design_, library_);
        if (white == nullptr || grams < river_white_g_per_kg) return;
        warn(path + "/white",
             shown(grams) + " g of " + white->name + " per kg of oils, lye of " +
                 plain_number(*design_.base.lye_percent) + " % and gel: glycerine rivers are likely in " +
                 portion.name + ".",
             "Mix the lye stronger (36 % or more), pour cooler, keep it from gelling, or use less white.");
    }

    void gamut(const Portion& portion, const std::string& path) {
        if (!colour_of(portion, design_, library_).in_gamut)
            warn(path,
                 "The colour of " + portion.name +
                     " lies outside sRGB: screens and prints show it with less chroma.",
                 "Judge it by a test bar, not by the picture.");
    }

    void browning() {
        const double vanillin = design_.base.fragrance_g_per_kg_oils * design_.base.vanillin_percent / 100;
        if (vanillin >= much_browning_g_per_kg)
            warn(
                "/base/vanillin_percent",
                "The fragrance brings " + shown(vanillin) +
                    " g of vanillin per kg of oils: the bars turn brown over weeks, from the outside in.",
                "Look at the bars at 28 and 180 days, plan with the brown, or scent only the dark portions.");
    }

    void rules() {
        std::string names;
        for (const Portion& portion : design_.portions)
            for (const colour::Dose& dose : doses_of(portion, design_, library_)) {
                const colour::Colourant& c = *dose.colourant;
                const bool mineral =
                    c.kind == "white" || c.kind == "oxide" || c.kind == "ultramarine" || c.kind == "clay";
                if (!mineral && names.find(c.name) == std::string::npos)
                    names += (names.empty() ? "" : ", ") + c.name;
            }
        if (!names.empty())
            warn("/portions",
                 "Rules on colour additives differ by country, and not every one allows " + names + ".",
                 "Check the supplier's documents and the rules where the soap is sold.");
    }

    const Design& design_;
    const colour::ColourantLibrary& library_;
    std::vector<Warning>& found_;
};

}  // namespace

void warn_of_colours(const Design& design, const colour::ColourantLibrary& library,
                     std::vector<Warning>& found) {
    Colours(design, library, found).all();
}

}  // namespace foreslice::design
