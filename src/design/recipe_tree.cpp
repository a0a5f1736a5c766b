#include "design/internal/recipe_tree.h"

#include "design/internal/tree.h"

namespace foreslice::design {
namespace {

using batter::AdditiveUnit;
using batter::Into;
using batter::Water;

Range range_of(AdditiveUnit unit) {
    return {0, batter::most_of(unit)};
}

batter::RecipeOil read_oil(Fields& fields, bool by_weight) {
    batter::RecipeOil oil;
    oil.oil = fields.at("oil", "the id of an oil").id();
    const std::string mine = by_weight ? "g" : "percent", other = by_weight ? "percent" : "g";
    if (const auto wrong = fields.find(other))
        wrong->fail("some oils go by percent and some by weight", "all oils by percent, or all in g");
    oil.amount = fields.number(mine, by_weight ? limits::oil_g : limits::recipe_oil_percent);
    if (const auto value = fields.find("certificate_koh_mg_per_g"))
        oil.certificate_koh_mg_per_g = value->number(limits::certificate_koh_mg_per_g);
    return oil;
}

void read_oils(Fields& recipe, Formula& formula, const KeepUnknown& keep) {
    const auto oils = recipe.find("oils");
    if (!oils) return;
    Addresses addresses("recipe/oils");
    for (const Place& item : oils->items(0, limits::oils, "oils")) {
        Fields fields(item);
        if (formula.oils.empty() && fields.find("g") && !fields.find("percent"))
            formula.basis = batter::OilBasis::grams;
        formula.oils.push_back(read_oil(fields, formula.basis == batter::OilBasis::grams));
        keep(addresses.next(formula.oils.back().oil), fields);
    }
}

batter::Alkali read_alkali(const Place& place, const KeepUnknown& keep) {
    Fields fields(place);
    batter::Alkali alkali;
    alkali.koh_percent = fields.number_or("koh_percent", limits::koh_percent, alkali.koh_percent);
    alkali.naoh_purity_percent =
        fields.number_or("naoh_purity_percent", limits::naoh_purity_percent, alkali.naoh_purity_percent);
    alkali.koh_purity_percent =
        fields.number_or("koh_purity_percent", limits::koh_purity_percent, alkali.koh_purity_percent);
    keep("recipe/alkali", fields);
    return alkali;
}

Water read_water(const Place& place, const KeepUnknown& keep) {
    Fields fields(place);
    const auto parts = fields.find("parts_per_alkali"), percent = fields.find("percent_of_oils");
    if (parts.has_value() == percent.has_value())
        place.fail(parts ? "the water is stated twice" : "the water is not stated",
                   "either \"parts_per_alkali\" or \"percent_of_oils\"");
    keep("recipe/water", fields);
    if (parts) return {Water::By::parts_per_alkali, parts->number(limits::water_parts_per_alkali)};
    return {Water::By::percent_of_oils, percent->number(limits::water_percent_of_oils)};
}

batter::Liquid read_liquid(Fields& fields) {
    batter::Liquid liquid;
    liquid.name = fields.at("name", "a name for people").text(limits::name_length);
    liquid.percent_of_water = fields.number("percent_of_water", limits::liquid_percent);
    if (const auto into = fields.find("into"))
        liquid.into = into->one_of({"lye-water", "batter"}) == 0 ? Into::lye_water : Into::batter;
    return liquid;
}

batter::Additive read_additive(Fields& fields) {
    batter::Additive additive;
    additive.what = fields.at("what", "the id of an additive, or other").id();
    if (const auto name = fields.find("name")) additive.name = name->text(limits::name_length);
    int amounts = 0;
    for (const AdditiveUnit unit : batter::all_additive_units) {
        const auto amount = fields.find(std::string(key_of(unit)));
        if (!amount) continue;
        if (++amounts > 1) amount->fail("this amount stands beside another", "one amount in one unit");
        additive.amount = amount->number(range_of(unit));
        additive.unit = unit;
    }
    if (amounts == 0) fields.number("percent_of_oils", range_of(additive.unit));  // says that it is missing
    if (const auto into = fields.find("into"))
        additive.into = batter::all_into[into->one_of(names_of(batter::all_into))];
    return additive;
}

/// A name in the design's own folder or below it.
std::string read_stock_file(const Place& place) {
    std::string name = place.text(limits::stock_file_length);
    const bool inside = !name.empty() && name.front() != '/' && name.find("..") == std::string::npos &&
                        name.find_first_of(":\\") == std::string::npos;
    if (!inside) place.fail_wrong("the name of a file in the design's folder or below it");
    return name;
}

void add_oils(Json& tree, const Formula& recipe, const RestoreUnknown& restore) {
    if (recipe.oils.empty()) return;
    Addresses addresses("recipe/oils");
    Json& oils = tree["oils"] = Json::array();
    for (const batter::RecipeOil& oil : recipe.oils) {
        Json item = Json::object();
        item["oil"] = oil.oil;
        item[recipe.basis == batter::OilBasis::grams ? "g" : "percent"] = json_number(oil.amount);
        if (oil.certificate_koh_mg_per_g)
            item["certificate_koh_mg_per_g"] = json_number(*oil.certificate_koh_mg_per_g);
        restore(addresses.next(oil.oil), item);
        oils.push_back(std::move(item));
    }
}

void add_alkali_and_water(Json& tree, const Formula& recipe, const RestoreUnknown& restore) {
    const batter::Alkali usual;
    Json alkali = Json::object();
    const auto number = [&alkali](const char* key, double value, double otherwise) {
        if (value != otherwise) alkali[key] = json_number(value);
    };
    number("koh_percent", recipe.alkali.koh_percent, usual.koh_percent);
    number("naoh_purity_percent", recipe.alkali.naoh_purity_percent, usual.naoh_purity_percent);
    number("koh_purity_percent", recipe.alkali.koh_purity_percent, usual.koh_purity_percent);
    restore("recipe/alkali", alkali);
    if (!alkali.empty()) tree["alkali"] = std::move(alkali);
    if (!recipe.water) return;
    Json water = Json::object();
    const bool by_parts = recipe.water->by == Water::By::parts_per_alkali;
    water[by_parts ? "parts_per_alkali" : "percent_of_oils"] = json_number(recipe.water->amount);
    restore("recipe/water", water);
    tree["water"] = std::move(water);
}

void add_others(Json& tree, const Formula& recipe, const RestoreUnknown& restore) {
    Addresses liquid_addresses("recipe/liquids"), additive_addresses("recipe/additives");
    for (const batter::Liquid& liquid : recipe.liquids) {
        Json item = Json::object();
        item["name"] = liquid.name;
        item["percent_of_water"] = json_number(liquid.percent_of_water);
        if (liquid.into != Into::lye_water) item["into"] = std::string(name_of(liquid.into));
        restore(liquid_addresses.next(liquid.name), item);
        tree["liquids"].push_back(std::move(item));
    }
    for (const batter::Additive& additive : recipe.additives) {
        Json item = Json::object();
        item["what"] = additive.what;
        if (!additive.name.empty()) item["name"] = additive.name;
        item[std::string(key_of(additive.unit))] = json_number(additive.amount);
        if (additive.into) item["into"] = std::string(name_of(*additive.into));
        restore(additive_addresses.next(additive.what), item);
        tree["additives"].push_back(std::move(item));
    }
}

}  // namespace

Formula read_recipe(const Place& place, const KeepUnknown& keep) {
    Fields fields(place);
    Formula recipe;
    read_oils(fields, recipe, keep);
    if (const auto alkali = fields.find("alkali")) recipe.alkali = read_alkali(*alkali, keep);
    if (const auto water = fields.find("water")) recipe.water = read_water(*water, keep);
    if (const auto liquids = fields.find("liquids")) {
        Addresses addresses("recipe/liquids");
        for (const Place& item : liquids->items(0, limits::liquids, "liquids")) {
            Fields liquid(item);
            recipe.liquids.push_back(read_liquid(liquid));
            keep(addresses.next(recipe.liquids.back().name), liquid);
        }
    }
    if (const auto additives = fields.find("additives")) {
        Addresses addresses("recipe/additives");
        for (const Place& item : additives->items(0, limits::additives, "additives")) {
            Fields additive(item);
            recipe.additives.push_back(read_additive(additive));
            keep(addresses.next(recipe.additives.back().what), additive);
        }
    }
    if (const auto limit = fields.find("fragrance_limit_percent"))
        recipe.fragrance_limit_percent = limit->number(limits::fragrance_limit_percent);
    keep("recipe", fields);
    return recipe;
}

Bench read_bench(const Place& place, const KeepUnknown& keep) {
    Fields fields(place);
    Bench bench;
    if (const auto units = fields.find("units"))
        bench.units =
            units->one_of({"metric", "us"}) == 0 ? batter::UnitSystem::metric : batter::UnitSystem::us;
    if (const auto moulds = fields.find("moulds"))
        bench.moulds = static_cast<int>(moulds->whole_number(limits::moulds));
    bench.liner_mm = fields.number_or("liner_mm", limits::liner_mm, bench.liner_mm);
    bench.top_allowance_mm =
        fields.number_or("top_allowance_mm", limits::top_allowance_mm, bench.top_allowance_mm);
    bench.jug_residue_g = fields.number_or("jug_residue_g", limits::jug_residue_g, bench.jug_residue_g);
    bench.spare_percent = fields.number_or("spare_percent", limits::spare_percent, bench.spare_percent);
    if (const auto stock = fields.find("stock_file")) bench.stock_file = read_stock_file(*stock);
    keep("bench", fields);
    return bench;
}

Json tree_of(const Formula& recipe, const RestoreUnknown& restore) {
    Json tree = Json::object();
    add_oils(tree, recipe, restore);
    add_alkali_and_water(tree, recipe, restore);
    add_others(tree, recipe, restore);
    if (recipe.fragrance_limit_percent)
        tree["fragrance_limit_percent"] = json_number(*recipe.fragrance_limit_percent);
    restore("recipe", tree);
    return tree;
}

Json tree_of(const Bench& bench, const RestoreUnknown& restore) {
    const Bench usual;
    Json tree = Json::object();
    if (bench.units == batter::UnitSystem::us) tree["units"] = "us";
    if (bench.moulds != usual.moulds) tree["moulds"] = bench.moulds;
    const auto number = [&tree](const char* key, double value, double otherwise) {
        if (value != otherwise) tree[key] = json_number(value);
    };
    number("liner_mm", bench.liner_mm, usual.liner_mm);
    number("top_allowance_mm", bench.top_allowance_mm, usual.top_allowance_mm);
    number("jug_residue_g", bench.jug_residue_g, usual.jug_residue_g);
    number("spare_percent", bench.spare_percent, usual.spare_percent);
    if (!bench.stock_file.empty()) tree["stock_file"] = bench.stock_file;
    restore("bench", tree);
    return tree;
}

}  // namespace foreslice::design
