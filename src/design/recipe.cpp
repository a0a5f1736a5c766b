#include "design/recipe.h"

#include <cmath>

#include "design/tint.h"
#include "foundation/error.h"
#include "foundation/numbers.h"

namespace foreslice::design {
namespace {

constexpr double usual_naoh_g_per_g_oils = 0.1486;  // as in colour::batter_kg_per_kg_oils
constexpr double much_superfat_moved = 2,
                 much_lye_moved = 2;  // percentage points of one jug; common practice

/// From a place inside the recipe to its place in the design file.
std::string place_in(const Design& design, const std::string& place) {
    for (const char* of_base : {"/superfat_percent", "/lye_percent", "/fragrance_g_per_kg_oils"})
        if (place == of_base) return "/base" + place;
    if (place.starts_with("/oils")) return (design.recipe.oils.empty() ? "/base" : "/recipe") + place;
    for (const char* of_recipe : {"/alkali", "/water", "/liquids", "/additives"})
        if (place.starts_with(of_recipe)) return "/recipe" + place;
    return place;
}

template <typename Work>
auto with_places(const Design& design, const Work& work) {
    try {
        return work();
    } catch (const InputError& error) {
        throw InputError(error.file(), place_in(design, error.place()), error.problem(), error.allowed());
    }
}

batter::PowderLiquid liquid_of(colour::Carrier carrier) {
    switch (carrier) {
        case colour::Carrier::none:
            return batter::PowderLiquid::none;
        case colour::Carrier::water:
            return batter::PowderLiquid::water;
        case colour::Carrier::glycerin:
            return batter::PowderLiquid::glycerin;
        case colour::Carrier::oil:
            break;
    }
    return batter::PowderLiquid::oil;
}

void add_powder(std::vector<batter::Powder>& powders, const ColourantDose& dose, const Design& design,
                const colour::ColourantLibrary& library) {
    const colour::Colourant* colourant = library.find(dose.colourant);
    const double grams = g_per_kg_oils_of(dose, design, library);
    if (colourant == nullptr || grams <= 0) return;
    const auto dispersion = dose.dispersion.value_or(colour::Dispersion{});
    powders.push_back({colourant->id, colourant->name, grams, colourant->gram_per_teaspoon,
                       liquid_of(dispersion.carrier), dispersion.parts_of_carrier});
}

void require_recipe(const batter::Recipe& recipe) {
    if (recipe.oils.empty())
        throw InputError("", "/recipe/oils", "the design does not say what its batter is made of",
                         "a list such as [{\"oil\": \"olive\", \"percent\": 100}]");
}

void warn_of_jugs(const Design& design, BatchPlan& plan) {
    for (const batter::Jug& jug : plan.split.jugs) {
        std::size_t index = 0;
        while (index < design.portions.size() && design.portions[index].id != jug.id) ++index;
        const std::string place = "/portions/" + std::to_string(index);
        if (jug.superfat_percent - plan.batch.superfat_percent > much_superfat_moved)
            plan.warnings.push_back({place,
                                     "The oil for its powders brings the jug of " + jug.name +
                                         " to a superfat of " + rounded_number(jug.superfat_percent, 1) +
                                         " % and leaves the others with less.",
                                     "Stir the powders into fewer parts of oil."});
        if (plan.batch.lye_percent - jug.lye_percent > much_lye_moved)
            plan.warnings.push_back({place,
                                     "The water for its powders thins the lye in the jug of " + jug.name +
                                         " to " + rounded_number(jug.lye_percent, 1) +
                                         " %: rivers are likely there if the loaf gels.",
                                     "Disperse in oil, or in fewer parts of water."});
    }
}

void warn_of_mould(const Design& design, BatchPlan& plan) {
    if (design.bench.liner_mm > 0.01 * design.mould.width_mm)
        plan.warnings.push_back({"/bench/liner_mm",
                                 "The liner narrows the mould to " +
                                     rounded_number(design.mould.width_mm - 2 * design.bench.liner_mm, 1) +
                                     " mm; the faces are drawn " + rounded_number(design.mould.width_mm, 1) +
                                     " mm wide.",
                                 "Give the lined measures in /mould and no liner to see true faces."});
}

void warn_of_two_blends(const Design& design, BatchPlan& plan) {
    if (design.recipe.oils.empty() || design.base.oils.empty()) return;
    for (const batter::OilWeight& weight : plan.batch.oils) {
        double tinted = 0;
        for (const colour::OilShare& share : design.base.oils)
            if (share.oil == weight.oil->id) tinted = share.percent;
        if (std::abs(tinted - weight.percent) < 5) continue;
        plan.warnings.push_back({"/recipe/oils",
                                 "The recipe has " + rounded_number(weight.percent, 1) + " % of " +
                                     weight.oil->name + ", but the plain bar is coloured for " +
                                     rounded_number(tinted, 1) + " %.",
                                 "Give both the same oils, or leave one of the lists out."});
        return;
    }
}

BatchPlan finished(const Design& design, const colour::ColourantLibrary& library, batter::Recipe recipe,
                   batter::Batch batch) {
    BatchPlan plan{std::move(recipe), std::move(batch), {}, 0, 0, {}};
    plan.mould_ml = batter_ml(mould_space_of(design));
    plan.top_g = top_ml(mould_space_of(design)) * design.batter.density_kg_per_m3 / 1000;
    plan.split = split_of(plan.batch, shares_of(design, library), design.batter.density_kg_per_m3);
    for (const batter::Caution& caution : cautions_of(plan.recipe, plan.batch))
        plan.warnings.push_back({place_in(design, caution.place), caution.sentence, caution.cure});
    warn_of_two_blends(design, plan);
    warn_of_jugs(design, plan);
    warn_of_mould(design, plan);
    return plan;
}

}  // namespace

batter::Recipe recipe_of(const Design& design) {
    batter::Recipe recipe;
    recipe.basis = design.recipe.basis;
    recipe.oils = design.recipe.oils;
    if (recipe.oils.empty()) {
        recipe.basis = batter::OilBasis::percent;
        for (const colour::OilShare& share : design.base.oils)
            if (share.percent > 0) recipe.oils.push_back({share.oil, share.percent});
    }
    recipe.alkali = design.recipe.alkali;
    recipe.water = design.recipe.water.value_or(
        batter::Water{batter::Water::By::lye_percent, design.base.lye_percent.value_or(33)});
    recipe.superfat_percent = design.base.superfat_percent;
    recipe.liquids = design.recipe.liquids;
    recipe.additives = design.recipe.additives;
    recipe.fragrance_g_per_kg_oils = design.base.fragrance_g_per_kg_oils;
    recipe.fragrance_limit_percent = design.recipe.fragrance_limit_percent;
    return recipe;
}

bool has_recipe(const Design& design) {
    return !design.recipe.oils.empty() || !design.base.oils.empty();
}

std::optional<double> stated_lye_percent(const Design& design) {
    if (design.base.lye_percent || !design.recipe.water) return design.base.lye_percent;
    const batter::Water& water = *design.recipe.water;
    if (water.by == batter::Water::By::parts_per_alkali) return 100 / (1 + water.amount);
    const double naoh = usual_naoh_g_per_g_oils * (1 - design.base.superfat_percent / 100);
    return 100 * naoh / (naoh + water.amount / 100);
}

batter::MouldSpace mould_space_of(const Design& design) {
    return {design.mould.length_mm, design.mould.width_mm,         design.mould.fill_mm,
            design.bench.liner_mm,  design.bench.top_allowance_mm, design.bench.moulds};
}

batter::Losses losses_of(const Design& design) {
    int jugs = 0;
    for (const Portion& portion : design.portions)
        if (portion.share_percent > 0) ++jugs;
    return {jugs, design.bench.jug_residue_g, design.bench.spare_percent};
}

std::vector<batter::Share> shares_of(const Design& design, const colour::ColourantLibrary& library) {
    std::vector<batter::Share> shares;
    for (const Portion& portion : design.portions) {
        if (portion.share_percent <= 0) continue;
        batter::Share share{portion.id, portion.name, portion.share_percent, {}};
        for (const ColourantDose& dose : portion.doses) add_powder(share.powders, dose, design, library);
        add_powder(share.powders, portion.white, design, library);
        shares.push_back(std::move(share));
    }
    return shares;
}

BatchPlan plan_batch(const Design& design, const batter::OilsTable& oils,
                     const colour::ColourantLibrary& library) {
    return with_places(design, [&] {
        batter::Recipe recipe = recipe_of(design);
        require_recipe(recipe);
        const double g =
            batter_g(batter_ml(mould_space_of(design)), design.batter.density_kg_per_m3, losses_of(design));
        batter::Batch batch = batch_of_batter(recipe, oils, g);
        return finished(design, library, std::move(recipe), std::move(batch));
    });
}

BatchPlan plan_batch_of_oils(const Design& design, const batter::OilsTable& oils,
                             const colour::ColourantLibrary& library, double oils_g) {
    return with_places(design, [&] {
        batter::Recipe recipe = recipe_of(design);
        require_recipe(recipe);
        batter::Batch batch = batch_of_oils(recipe, oils, oils_g);
        return finished(design, library, std::move(recipe), std::move(batch));
    });
}

void validate(const Design& design, const batter::OilsTable& oils, const std::string& file_name) {
    if (design.recipe.oils.empty()) return;
    try {
        with_places(design, [&] { return batch_of_batter(recipe_of(design), oils, 1000); });
    } catch (const InputError& error) {
        throw error.in_file(file_name);
    }
}

}  // namespace foreslice::design
