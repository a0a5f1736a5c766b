// The recipe's own fields: oils, superfat, lye, fragrance.
#include <algorithm>
#include <cmath>

#include "design/limits.h"
#include "design/recipe.h"
#include "studio/window/panels.h"
#include "studio/window/panels/bench_parts.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;

void draw_oil(const Studio& studio, const batter::OilsTable& table, std::size_t index) {
    auto next = studio.session.design();
    batter::RecipeOil& oil = next.recipe.oils[index];
    const batter::Oil* known = table.find(oil.oil);
    const bool by_weight = next.recipe.basis == batter::OilBasis::grams;
    Quantity quantity{"bench:oil:" + oil.oil,
                      known != nullptr ? known->name : oil.oil,
                      by_weight ? Unit::g : Unit::percent,
                      by_weight ? limits::oil_g.least : limits::recipe_oil_percent.least,
                      by_weight ? limits::oil_g.most : limits::recipe_oil_percent.most,
                      by_weight ? 10.0 : 1.0,
                      by_weight ? 1000.0 : 80.0,
                      by_weight ? 5.0 : 1.0,
                      1,
                      "Share of all oils. All shares add up to 100 %."};
    quantity.end = next.recipe.oils.size() > 1 ? Quantity::End::remove : Quantity::End::empty;
    const Edited edited = studio.ui.quantity(quantity, oil.amount);
    if (edited.removed) {
        next.recipe.oils.erase(next.recipe.oils.begin() + static_cast<std::ptrdiff_t>(index));
        studio.session.edit(std::move(next), "take an oil out");
        return;
    }
    apply(studio, edited, std::move(next), "share of an oil", quantity.name);
}

void draw_more_oils(const Studio& studio, const batter::OilsTable& table) {
    Ui& ui = studio.ui;
    if (!ui.begin_list("bench:add-oil", "Add", "an oil")) return;
    for (const batter::Oil& oil : table.oils()) {
        const auto& oils = studio.session.design().recipe.oils;
        const bool there =
            std::any_of(oils.begin(), oils.end(), [&](const auto& one) { return one.oil == oil.id; });
        if (there || !ui.list_entry("bench:add-oil/" + oil.id, oil.name, false)) continue;
        auto next = studio.session.design();
        next.recipe.oils.push_back({oil.id, next.recipe.basis == batter::OilBasis::grams ? 50.0 : 5.0});
        studio.session.edit(std::move(next), "add " + oil.name);
        break;
    }
    ui.end_list();
}

/// Oils by percent that do not add up are a fault; one button mends them.
void draw_sum(const Studio& studio) {
    const auto& recipe = studio.session.design().recipe;
    double sum = 0;
    for (const auto& oil : recipe.oils) sum += oil.amount;
    if (recipe.basis == batter::OilBasis::grams || std::abs(sum - 100) < 0.05) return;
    studio.ui.quiet_text("The oils add up to " + format_quantity(sum, Unit::percent, 1) + ".");
    if (!studio.ui.button("bench:make-100", "Make it 100 %")) return;
    auto next = studio.session.design();
    for (auto& oil : next.recipe.oils) oil.amount = std::round(1000 * oil.amount * 100 / sum) / 1000;
    studio.session.edit(std::move(next), "oils to 100 %");
}

}  // namespace

void start_usual_blend(const Studio& studio) {
    auto next = studio.session.design();
    next.recipe.basis = batter::OilBasis::percent;
    if (!next.base.oils.empty())
        for (const auto& share : next.base.oils) next.recipe.oils.push_back({share.oil, share.percent});
    else
        next.recipe.oils = {
            {"olive", 40}, {"coconut", 25}, {"palm", 25}, {"sunflower-high-oleic", 5}, {"castor", 5}};
    studio.session.edit(std::move(next), "start a recipe");
}

void draw_recipe(const Studio& studio, const batter::OilsTable& table) {
    const std::size_t count = studio.session.design().recipe.oils.size();
    for (std::size_t i = 0; i < count && i < studio.session.design().recipe.oils.size(); ++i)
        draw_oil(studio, table, i);
    draw_more_oils(studio, table);
    draw_sum(studio);
    struct Row {
        const char *name, *label, *words, *help;
        double design::Base::*value;
        Unit unit;
        design::Range range;
        double usual_most;
    };
    const Row rows[] = {
        {"bench:superfat", "Superfat", "superfat",
         "The share of the alkali that is left out, so that some oil stays in the bar.",
         &design::Base::superfat_percent, Unit::percent, limits::superfat_percent, 10},
        {"bench:fragrance", "Fragrance", "fragrance",
         "Grams per kilogram of oils. What is allowed stands in the supplier's documents.",
         &design::Base::fragrance_g_per_kg_oils, Unit::g_per_kg, limits::fragrance_g_per_kg_oils, 60}};
    for (const Row& row : rows) {
        auto next = studio.session.design();
        const Quantity quantity{row.name,       row.label, row.unit, row.range.least, row.range.most, 0,
                                row.usual_most, 0.5,       1,        row.help};
        const Edited edited = studio.ui.quantity(quantity, next.base.*(row.value));
        apply(studio, edited, std::move(next), row.words, row.name);
    }
}

}  // namespace foreslice::studio
