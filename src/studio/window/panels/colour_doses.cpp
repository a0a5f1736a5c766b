// The doses of a portion, each in the unit that the maker measures in.
#include <algorithm>
#include <array>
#include <cmath>

#include "design/limits.h"
#include "design/tint.h"
#include "studio/session/colour_edits.h"
#include "studio/session/edits.h"
#include "studio/window/colour_desk.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

struct UnitWords {
    colour::DoseUnit unit;
    const char *name, *words, *help;
    int decimals;
};
constexpr std::array units{
    UnitWords{colour::DoseUnit::g_per_kg_oils, "g-per-kg-oils", "g per kg of oils",
              "Grams for each kilogram of the oils in this portion, not in the whole batch.", 2},
    UnitWords{colour::DoseUnit::g_per_kg_batter, "g-per-kg-batter", "g per kg of batter",
              "Grams for each kilogram of this portion's batter.", 2},
    UnitWords{colour::DoseUnit::percent_of_batter, "percent", "% of batter",
              "Percent of this portion's batter.", 3},
    UnitWords{colour::DoseUnit::teaspoons_per_pound_oils, "teaspoons", "level tsp per lb of oils",
              "Level US teaspoons of dry powder for each pound of the oils in this portion.", 3},
    UnitWords{colour::DoseUnit::drops_per_kg_oils, "drops", "drops per kg of oils",
              "Drops of the dispersion for each kilogram of the oils in this portion.", 0}};

const UnitWords& words_for(colour::DoseUnit unit) {
    return *std::find_if(units.begin(), units.end(), [&](const UnitWords& w) { return w.unit == unit; });
}

/// A dose as it is shown and typed.
struct Row {
    const design::ColourantDose& dose;
    const colour::Colourant* colourant;
    double grams = 0;  ///< per kg of oils
};

Row row_of(const Studio& studio, const design::ColourantDose& dose) {
    const auto& library = studio.session.colour_library();
    return {dose, library.find(dose.colourant),
            design::g_per_kg_oils_of(dose, studio.session.design(), library)};
}

double in_unit(const Studio& studio, const Row& row, colour::DoseUnit unit, double grams) {
    if (row.colourant == nullptr) return grams;
    // As it was typed, not there and back through grams.
    if (row.dose.stated && row.dose.stated->unit == unit && grams == row.grams)
        return row.dose.stated->amount;
    return colour::amount_in(unit, grams, *row.colourant, row.dose.dispersion.value_or(colour::Dispersion{}),
                             design::batter_kg_per_kg_oils(studio.session.design()));
}

/// What the dose is in the unit that is not shown.
std::string under_words(const Row& row, colour::DoseUnit unit) {
    if (row.colourant == nullptr) return "not in the library";
    if (unit != colour::DoseUnit::g_per_kg_oils) return format_number(row.grams, 2) + " g/kg of oils";
    return format_number(colour::teaspoons_per_pound(*row.colourant, row.grams), 2) + " tsp per lb of oils";
}

Edited draw_dose(const Studio& studio, const std::string& name, const Row& row, bool removable,
                 double& amount) {
    const colour::DoseUnit unit = studio.view.shelf.at<ColourDesk>().unit;
    const UnitWords& words = words_for(unit);
    const design::Range range = design::range_of(unit);
    const double usual =
        in_unit(studio, row, unit, row.colourant ? row.colourant->usual_most_g_per_kg_oils : 20);
    Quantity quantity;
    quantity.name = name;
    quantity.label = row.colourant ? row.colourant->name : row.dose.colourant;
    quantity.unit = unit == colour::DoseUnit::g_per_kg_oils ? Unit::g_per_kg : Unit::none;
    quantity.least = range.least;
    quantity.most = range.most;
    quantity.usual_least = 0;
    quantity.usual_most = std::min(usual, range.most);
    quantity.decimals = words.decimals;
    // A twentieth of the usual most, on a round figure.
    quantity.step = std::pow(10, std::round(std::log10(std::max(usual, 1e-3) / 20)));
    if (unit == colour::DoseUnit::g_per_kg_oils) quantity.step = usual > 10 ? 0.5 : 0.1;
    quantity.help = words.help;
    quantity.under = under_words(row, unit);
    quantity.end = removable ? Quantity::End::remove : Quantity::End::empty;
    amount = in_unit(studio, row, unit, row.grams);
    return studio.ui.quantity(quantity, amount);
}

void draw_dispersion(const Studio& studio, std::size_t index) {
    Ui& ui = studio.ui;
    const auto& portion = studio.session.design().portions[index];
    colour::Dispersion now = dispersion_of(portion);
    const colour::Dispersion before = now;
    ui.label("Powder to carrier");
    const int parts = now.parts_of_carrier == 1 ? 0 : now.parts_of_carrier == 3 ? 1 : -1;
    if (const int chosen = ui.choice("dispersion", {"1:1", "1:3"}, parts); chosen >= 0)
        now.parts_of_carrier = chosen == 0 ? 1 : 3;
    ui.label("Stirred into");
    constexpr std::array carriers{colour::Carrier::oil, colour::Carrier::water, colour::Carrier::glycerin};
    const auto at = std::find(carriers.begin(), carriers.end(), now.carrier) - carriers.begin();
    if (const int chosen = ui.choice("carrier", {"oil", "water", "glycerin"}, static_cast<int>(at));
        chosen >= 0)
        now.carrier = carriers[static_cast<std::size_t>(chosen)];
    if (now == before) return;
    studio.session.edit(with_dispersion(studio.session.design(), index, now),
                        "dispersion of " + portion_name(portion));
}

void draw_units(const Studio& studio) {
    Ui& ui = studio.ui;
    ColourDesk& desk = studio.view.shelf.at<ColourDesk>();
    if (!ui.begin_list("dose-unit", "Doses in", words_for(desk.unit).words)) return;
    for (const UnitWords& one : units) {
        if (ui.list_entry(std::string("dose-unit/") + one.name, one.words, one.unit == desk.unit))
            desk.unit = one.unit;
        ui.help(one.help);
    }
    ui.end_list();
}

}  // namespace

void draw_doses(const Studio& studio, std::size_t index) {
    const colour::DoseUnit unit = studio.view.shelf.at<ColourDesk>().unit;
    const auto portion = studio.session.design().portions[index];
    const std::string of = " of " + portion_name(portion);
    draw_units(studio);
    double amount = 0;
    const Edited whitened = draw_dose(studio, "dose:white", row_of(studio, portion.white), false, amount);
    apply(studio, whitened, with_stated_dose(studio.session.design(), index, std::nullopt, unit, amount),
          "white" + of, "white:" + portion.id);
    for (std::size_t i = 0; i < portion.doses.size(); ++i) {
        const auto& dose = portion.doses[i];
        const Edited edited = draw_dose(studio, "dose:" + dose.colourant, row_of(studio, dose), true, amount);
        if (edited.removed) {
            studio.session.edit(without_dose(studio.session.design(), index, i),
                                "take " + dose.colourant + " out");
            return;
        }
        if (edited.changed) studio.view.shelf.at<ColourDesk>().reach_of = i;
        apply(studio, edited, with_stated_dose(studio.session.design(), index, i, unit, amount),
              dose.colourant + of, "dose:" + portion.id + ":" + dose.colourant);
    }
    if (unit == colour::DoseUnit::drops_per_kg_oils) draw_dispersion(studio, index);
}

}  // namespace foreslice::studio
