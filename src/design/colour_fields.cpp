#include "design/internal/colour_fields.h"

#include "design/tint.h"

namespace foreslice::design {

Range range_of(colour::DoseUnit unit) {
    switch (unit) {
        case colour::DoseUnit::g_per_kg_batter:
            return limits::dose_g_per_kg_batter;
        case colour::DoseUnit::percent_of_batter:
            return limits::dose_percent_of_batter;
        case colour::DoseUnit::teaspoons_per_pound_oils:
            return limits::dose_teaspoons_per_pound_oils;
        case colour::DoseUnit::drops_per_kg_oils:
            return limits::dose_drops_per_kg_oils;
        case colour::DoseUnit::g_per_kg_oils:
            break;
    }
    return limits::dose_g_per_kg_oils;
}

ColourantDose read_dose(Fields& fields) {
    ColourantDose dose;
    dose.colourant = fields.at("colourant", "the id of a colourant").id();
    int amounts = 0;
    for (const colour::DoseUnit unit : colour::all_dose_units) {
        const auto place = fields.find(std::string(key_of(unit)));
        if (!place) continue;
        if (++amounts > 1)
            place->fail("this amount stands beside another of the same dose", "one amount in one unit");
        const double amount = place->number(range_of(unit));
        if (unit == colour::DoseUnit::g_per_kg_oils)
            dose.g_per_kg_oils = amount;
        else
            dose.stated = StatedDose{unit, amount};
    }
    if (amounts == 0) fields.number("g_per_kg_oils", limits::dose_g_per_kg_oils);  // says that it is missing
    return dose;
}

colour::Dispersion read_dispersion(Fields& fields) {
    colour::Dispersion dispersion;
    if (const auto carrier = fields.find("carrier"))
        dispersion.carrier = colour::all_carriers[carrier->one_of(names_of(colour::all_carriers))];
    dispersion.parts_of_carrier =
        fields.number_or("parts_of_carrier", limits::parts_of_carrier, dispersion.parts_of_carrier);
    dispersion.drops_per_ml = fields.number_or("drops_per_ml", limits::drops_per_ml, dispersion.drops_per_ml);
    return dispersion;
}

Base read_base(Fields& fields) {
    Base base;
    if (const auto oils = fields.find("oils"))
        for (const Place& item : oils->items(0, limits::oils, "oils")) {
            Fields oil(item);
            base.oils.push_back(
                {oil.at("oil", "the id of an oil").id(), oil.number("percent", limits::oil_percent)});
        }
    base.superfat_percent =
        fields.number_or("superfat_percent", limits::superfat_percent, base.superfat_percent);
    if (const auto lye = fields.find("lye_percent")) base.lye_percent = lye->number(limits::lye_percent);
    if (const auto gelled = fields.find("gelled")) {
        if (!gelled->value().is_boolean()) gelled->fail_wrong("true or false");
        base.gelled = gelled->value().get<bool>();
    }
    base.fragrance_g_per_kg_oils = fields.number_or(
        "fragrance_g_per_kg_oils", limits::fragrance_g_per_kg_oils, base.fragrance_g_per_kg_oils);
    base.vanillin_percent =
        fields.number_or("vanillin_percent", limits::vanillin_percent, base.vanillin_percent);
    return base;
}

Json tree_of(const ColourantDose& dose) {
    Json tree = Json::object();
    tree["colourant"] = dose.colourant;
    if (dose.stated)
        tree[std::string(key_of(dose.stated->unit))] = json_number(dose.stated->amount);
    else
        tree["g_per_kg_oils"] = json_number(dose.g_per_kg_oils);
    return tree;
}

Json tree_of(const colour::Dispersion& dispersion) {
    const colour::Dispersion usual;
    Json tree = Json::object();
    tree["carrier"] = std::string(name_of(dispersion.carrier));
    if (dispersion.parts_of_carrier != usual.parts_of_carrier)
        tree["parts_of_carrier"] = json_number(dispersion.parts_of_carrier);
    if (dispersion.drops_per_ml != usual.drops_per_ml)
        tree["drops_per_ml"] = json_number(dispersion.drops_per_ml);
    return tree;
}

Json tree_of(const Base& base) {
    const Base usual;
    Json tree = Json::object();
    if (!base.oils.empty()) {
        Json& oils = tree["oils"] = Json::array();
        for (const colour::OilShare& share : base.oils) {
            Json oil = Json::object();
            oil["oil"] = share.oil;
            oil["percent"] = json_number(share.percent);
            oils.push_back(std::move(oil));
        }
    }
    const auto number = [&](const char* key, double value, double otherwise) {
        if (value != otherwise) tree[key] = json_number(value);
    };
    number("superfat_percent", base.superfat_percent, usual.superfat_percent);
    if (base.lye_percent) tree["lye_percent"] = json_number(*base.lye_percent);
    if (base.gelled) tree["gelled"] = true;
    number("fragrance_g_per_kg_oils", base.fragrance_g_per_kg_oils, usual.fragrance_g_per_kg_oils);
    number("vanillin_percent", base.vanillin_percent, usual.vanillin_percent);
    return tree;
}

}  // namespace foreslice::design
