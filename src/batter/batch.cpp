#include "batter/batch.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "batter/units.h"
#include "foundation/error.h"

namespace foreslice::batter {
namespace {

constexpr double percent_slack = 0.5;  // shares of oils may add up to 99.5 .. 100.5

[[noreturn]] void fail(const std::string& place, const std::string& problem, const std::string& allowed) {
    throw InputError("", place, problem, allowed);
}

std::string words_of(Span span) {
    return plain_number(span.low) + " to " + plain_number(span.high);
}

void check(double value, Span allowed, const std::string& place, const std::string& what) {
    if (value >= allowed.low && value <= allowed.high) return;
    fail(place, what + " " + plain_number(value) + " cannot be", words_of(allowed));
}

std::string at(const char* list, std::size_t index, const char* field) {
    std::string place = "/";
    place.append(list).append("/").append(std::to_string(index)).append("/").append(field);
    return place;
}

/// Everything per gram of oils, and the share of the batter that goes by the batter.
struct Per {
    std::vector<double> shares;  ///< of the oils, add up to 1
    double koh_low = 0, koh_mid = 0, koh_high = 0;
    double pure_naoh = 0, pure_koh = 0, naoh = 0, koh = 0;
    double liquid = 0, fragrance = 0;
    std::vector<double> additives;  ///< those by the batter are 0 here
    double of_batter = 0;           ///< share of the batter that additives by the batter are
    double batter() const {
        double sum = 1 + naoh + koh + liquid + fragrance;
        for (const double additive : additives) sum += additive;
        return sum / (1 - of_batter);
    }
};

void take_oils(Per& per, const Recipe& recipe, const OilsTable& table) {
    if (recipe.oils.empty()) fail("/oils", "the recipe names no oils", "at least one oil with its share");
    double sum = 0;
    std::set<std::string> seen;
    for (std::size_t i = 0; i < recipe.oils.size(); ++i) {
        const RecipeOil& oil = recipe.oils[i];
        if (table.find(oil.oil) == nullptr)
            fail(at("oils", i, "oil"), "there is no oil " + foreslice::quoted(oil.oil),
                 "an oil of the table, such as " + table.some_ids());
        if (!seen.insert(oil.oil).second)
            fail(at("oils", i, "oil"), foreslice::quoted(oil.oil) + " stands twice", "every oil once");
        if (!(oil.amount > 0) || !std::isfinite(oil.amount))
            fail(at("oils", i, recipe.basis == OilBasis::percent ? "percent" : "g"),
                 "an amount of " + plain_number(oil.amount) + " cannot be weighed", "more than 0");
        if (oil.certificate_koh_mg_per_g)
            check(*oil.certificate_koh_mg_per_g, possible_koh_mg_per_g,
                  at("oils", i, "certificate_koh_mg_per_g"), "a saponification value of");
        sum += oil.amount;
    }
    if (recipe.basis == OilBasis::percent && std::abs(sum - 100) > percent_slack)
        fail("/oils", "the oils add up to " + plain_number(sum) + " %", "99.5 to 100.5 % together");
    for (const RecipeOil& oil : recipe.oils) {
        const double share = oil.amount / sum;
        const Span range = table.find(oil.oil)->koh_mg_per_g;
        const double certified = oil.certificate_koh_mg_per_g.value_or(0);
        const bool has = oil.certificate_koh_mg_per_g.has_value();
        per.shares.push_back(share);
        per.koh_low += share * (has ? certified : range.low) / 1000;
        per.koh_mid += share * (has ? certified : range.middle()) / 1000;
        per.koh_high += share * (has ? certified : range.high) / 1000;
    }
}

void take_alkali(Per& per, const Recipe& recipe) {
    const Alkali& alkali = recipe.alkali;
    check(recipe.superfat_percent, superfat_limits_percent, "/superfat_percent", "a superfat of");
    check(alkali.koh_percent, {0, 100}, "/alkali/koh_percent", "a share of");
    check(alkali.naoh_purity_percent, naoh_purity_limits_percent, "/alkali/naoh_purity_percent",
          "a purity of");
    check(alkali.koh_purity_percent, koh_purity_limits_percent, "/alkali/koh_purity_percent", "a purity of");
    const double need = per.koh_mid * (1 - recipe.superfat_percent / 100);
    const double by_koh = alkali.koh_percent / 100;
    per.pure_koh = need * by_koh;
    per.pure_naoh = need * (1 - by_koh) * naoh_per_koh;
    per.koh = per.pure_koh * 100 / alkali.koh_purity_percent;
    per.naoh = per.pure_naoh * 100 / alkali.naoh_purity_percent;
}

/// Per gram of oils; also checks that it dissolves the alkali.
void take_water(Per& per, const Recipe& recipe) {
    const double pure = per.pure_naoh + per.pure_koh, alkali = per.naoh + per.koh;
    const double amount = recipe.water.amount;
    std::string place = "/water/percent_of_oils";
    switch (recipe.water.by) {
        case Water::By::lye_percent:
            place = "/lye_percent";
            check(amount, lye_limits_percent, place, "a lye concentration of");
            per.liquid = pure * 100 / amount - alkali;
            break;
        case Water::By::parts_per_alkali:
            place = "/water/parts_per_alkali";
            check(amount, {1, 4}, place, "a ratio of");
            per.liquid = alkali * amount;
            break;
        case Water::By::percent_of_oils:
            check(amount, {5, 60}, place, "water of");
            per.liquid = amount / 100;
            break;
    }
    const double lye_percent = 100 * pure / (alkali + per.liquid);
    if (lye_percent > lye_limits_percent.high + 1e-9 || lye_percent < lye_limits_percent.low - 1e-9)
        fail(place, "so much water makes a lye of " + plain_number(std::round(lye_percent * 10) / 10) + " %",
             words_of(lye_limits_percent) + " %");
}

void check_liquids(const Per& per, const Recipe& recipe) {
    double sum = 0, later = 0;
    for (std::size_t i = 0; i < recipe.liquids.size(); ++i) {
        const Liquid& liquid = recipe.liquids[i];
        const std::string place = at("liquids", i, "percent_of_water");
        check(liquid.percent_of_water, {0, 100}, place, "a share of");
        if (liquid.into == Into::oils)
            fail(at("liquids", i, "into"), "a liquid does not mix with the oils", "lye-water or batter");
        sum += liquid.percent_of_water;
        if (liquid.into == Into::batter) later += liquid.percent_of_water;
        if (sum > 100 + 1e-9)
            fail(place, "the liquids replace " + plain_number(sum) + " % of the water",
                 "at most 100 % together");
    }
    const double in_lye = per.liquid * (1 - later / 100), alkali = per.naoh + per.koh;
    if (100 * (per.pure_naoh + per.pure_koh) / (alkali + in_lye) > lye_limits_percent.high + 1e-9)
        fail("/liquids",
             "what goes in at trace leaves only " + plain_number(std::round(1000 * in_lye / alkali) / 1000) +
                 " g of water to dissolve each gram of alkali",
             "at least as much water as alkali");
}

double g_per_g_oils(const Additive& additive, double liquid) {
    const AdditiveKind* kind = find_additive(additive.what);
    switch (additive.unit) {
        case AdditiveUnit::percent_of_oils:
            return additive.amount / 100;
        case AdditiveUnit::percent_of_water:
            return additive.amount / 100 * liquid;
        case AdditiveUnit::g_per_kg_oils:
            return additive.amount / 1000;
        case AdditiveUnit::teaspoons_per_pound_oils:
            return additive.amount * (kind == nullptr ? 0 : kind->g_per_teaspoon) / g_per(MassUnit::lb);
        case AdditiveUnit::percent_of_batter:
            break;
    }
    return 0;
}

void take_additives(Per& per, const Recipe& recipe) {
    check(recipe.fragrance_g_per_kg_oils, fragrance_limits_g_per_kg, "/fragrance_g_per_kg_oils",
          "a fragrance dose of");
    per.fragrance = recipe.fragrance_g_per_kg_oils / 1000;
    for (std::size_t i = 0; i < recipe.additives.size(); ++i) {
        const Additive& additive = recipe.additives[i];
        const bool known = find_additive(additive.what) != nullptr;
        if (!known && additive.what != "other") {
            std::string ids;
            for (const AdditiveKind& kind : additive_kinds()) ids += std::string(kind.id) + ", ";
            fail(at("additives", i, "what"), "there is no additive " + foreslice::quoted(additive.what),
                 ids + "other");
        }
        if (!known && additive.name.empty())
            fail(at("additives", i, "name"), "an additive of another kind has no name", "a name for people");
        if (!known && additive.unit == AdditiveUnit::teaspoons_per_pound_oils)
            fail(at("additives", i, "teaspoons_per_pound_oils"), "what a teaspoon of it weighs is not known",
                 "an amount by weight");
        check(additive.amount, {0, most_of(additive.unit)}, at("additives", i, key_of(additive.unit).data()),
              "an amount of");
        per.additives.push_back(g_per_g_oils(additive, per.liquid));
        if (additive.unit == AdditiveUnit::percent_of_batter) per.of_batter += additive.amount / 100;
    }
    if (per.of_batter > 0.5)
        fail("/additives", "additives take " + plain_number(100 * per.of_batter) + " % of the batter",
             "at most 50 % together");
}

Per per_g_oils(const Recipe& recipe, const OilsTable& table) {
    Per per;
    take_oils(per, recipe, table);
    take_alkali(per, recipe);
    take_water(per, recipe);
    check_liquids(per, recipe);
    take_additives(per, recipe);
    return per;
}

Span iodine_of(const std::vector<OilWeight>& oils) {
    Span sum;
    double known = 0;
    for (const OilWeight& weight : oils) {
        if (weight.oil->iodine == Span{}) continue;
        known += weight.percent;
        sum.low += weight.percent * weight.oil->iodine.low;
        sum.high += weight.percent * weight.oil->iodine.high;
    }
    return known > 0 ? Span{sum.low / known, sum.high / known} : Span{};
}

Batch batch_from(const Recipe& recipe, const OilsTable& table, const Per& per, double oils_g) {
    Batch batch;
    batch.oils_g = oils_g;
    batch.batter_g = oils_g * per.batter();
    for (std::size_t i = 0; i < recipe.oils.size(); ++i) {
        const Oil* oil = table.find(recipe.oils[i].oil);
        const auto& certificate = recipe.oils[i].certificate_koh_mg_per_g;
        const Span range = certificate ? Span{*certificate, *certificate} : oil->koh_mg_per_g;
        batch.oils.push_back(
            {oil, oils_g * per.shares[i], 100 * per.shares[i], range, certificate.has_value()});
    }
    batch.naoh_g = oils_g * per.naoh;
    batch.koh_g = oils_g * per.koh;
    batch.pure_naoh_g = oils_g * per.pure_naoh;
    batch.pure_koh_g = oils_g * per.pure_koh;
    batch.liquid_g = batch.water_g = oils_g * per.liquid;
    for (const Liquid& liquid : recipe.liquids) {
        const double g = batch.liquid_g * liquid.percent_of_water / 100;
        batch.liquids.push_back({liquid.name, liquid.name, g, liquid.into, ""});
        batch.water_g -= g;
    }
    batch.water_g = std::max(0.0, batch.water_g);
    for (std::size_t i = 0; i < recipe.additives.size(); ++i) {
        const Additive& additive = recipe.additives[i];
        const AdditiveKind* kind = find_additive(additive.what);
        const double g = additive.unit == AdditiveUnit::percent_of_batter
                             ? additive.amount / 100 * batch.batter_g
                             : oils_g * per.additives[i];
        const bool usual_place = kind != nullptr && into_of(additive) == kind->into;
        batch.additives.push_back({additive.what == "other" ? additive.name : additive.what,
                                   name_of(additive), g, into_of(additive),
                                   usual_place ? std::string(kind->how) : ""});
    }
    batch.fragrance_g = oils_g * per.fragrance;
    batch.lye_percent = 100 * (per.pure_naoh + per.pure_koh) / (per.naoh + per.koh + per.liquid);
    batch.parts_per_alkali = per.liquid / (per.naoh + per.koh);
    batch.percent_of_oils = 100 * per.liquid;
    batch.superfat_percent = recipe.superfat_percent;
    batch.superfat_range_percent = {superfat_percent_for(per.pure_naoh, per.pure_koh, per.koh_low),
                                    superfat_percent_for(per.pure_naoh, per.pure_koh, per.koh_high)};
    batch.iodine = iodine_of(batch.oils);
    return batch;
}

}  // namespace

double batter_ml(const MouldSpace& space) {
    const double width = space.width_mm - 2 * space.liner_mm, length = space.length_mm - 2 * space.liner_mm;
    if (!(width > 0) || !(length > 0) || !(space.fill_mm > 0) || space.moulds < 1)
        fail("/mould",
             "the mould has no room: " + plain_number(length) + " x " + plain_number(width) + " x " +
                 plain_number(space.fill_mm) + " mm",
             "lengths above 0 after the liner is taken off");
    return width * length * (space.fill_mm + space.top_allowance_mm) * space.moulds / 1000;
}

double top_ml(const MouldSpace& space) {
    return batter_ml(space) * space.top_allowance_mm / (space.fill_mm + space.top_allowance_mm);
}

double batter_g(double ml, double kg_per_m3, const Losses& losses) {
    check(kg_per_m3, density_limits_kg_per_m3, "/batter/density_kg_per_m3", "a density of");
    return ml * kg_per_m3 / 1000 * (1 + losses.spare_percent / 100) + losses.jugs * losses.jug_residue_g;
}

Batch batch_of_oils(const Recipe& recipe, const OilsTable& table, double oils_g) {
    if (!(oils_g > 0) || !std::isfinite(oils_g))
        fail("/oils", plain_number(oils_g) + " g of oils cannot be weighed", "more than 0");
    return batch_from(recipe, table, per_g_oils(recipe, table), oils_g);
}

Batch batch_of_batter(const Recipe& recipe, const OilsTable& table, double batter_g) {
    if (!(batter_g > 0) || !std::isfinite(batter_g))
        fail("/mould", plain_number(batter_g) + " g of batter cannot be made", "more than 0");
    const Per per = per_g_oils(recipe, table);
    return batch_from(recipe, table, per, batter_g / per.batter());
}

double stated_oils_g(const Recipe& recipe) {
    double sum = 0;
    if (recipe.basis == OilBasis::grams)
        for (const RecipeOil& oil : recipe.oils) sum += oil.amount;
    return sum;
}

double superfat_percent_for(double pure_naoh_g, double pure_koh_g, double koh_need_g) {
    return 100 * (1 - (pure_koh_g + pure_naoh_g / naoh_per_koh) / koh_need_g);
}

}  // namespace foreslice::batter
