#include <cmath>
#include <nlohmann/json.hpp>

#include "foundation/csv.h"
#include "picture/bench_files.h"
#include "picture/bench_words.h"

namespace foreslice::picture {
namespace {

using Json = nlohmann::ordered_json;

/// Rounded to a thousandth of a gram, percent or dE00.
double round3(double value) {
    return std::round(value * 1000) / 1000;
}

Json json_of(const BenchRow& row) {
    Json out{{"id", row.id}, {"name", row.name}};
    if (!row.note.empty()) out["note"] = row.note;
    if (row.weight) {
        out["exact_g"] = round3(row.weight->exact_g);
        out["weigh"] = row.weight->shown();
        out["unit"] = std::string(name_of(row.weight->scale.unit));
        out["rounding_g"] = round3(row.weight->rounding_g());
    }
    if (row.ml > 0) out["ml"] = round3(row.ml);
    return out;
}

Json json_of(const BenchJug& jug) {
    Json out = json_of(jug.plain);
    out["share_percent"] = round3(jug.percent);
    out["jug_ml"] = jug.jug_ml;
    out["fragrance_share_g"] = round3(jug.fragrance_g);
    out["superfat_percent"] = round3(jug.superfat_percent);
    out["lye_percent"] = round3(jug.lye_percent);
    out["kept_for_top_g"] = round3(jug.top_g);
    out["de00_per_tenth_g"] = round3(jug.de00_per_tenth_g);
    out["powders"] = Json::array();
    for (const BenchPowder& powder : jug.powders) {
        Json item = json_of(powder.row);
        item["teaspoons"] = powder.spoon;
        item["liquid"] = powder.liquid;
        item["liquid_g"] = round3(powder.liquid_g);
        if (!powder.paste.empty()) item["paste"] = powder.paste;
        item["de00_per_tenth_g"] = round3(powder.de00_per_tenth_g);
        item["weigh_with_care"] = powder.matters;
        out["powders"].push_back(std::move(item));
    }
    return out;
}

Json json_of(const batter::Cost& cost, const std::string& money) {
    Json out{{"money", money}, {"total", round3(cost.total)}, {"complete", cost.complete}};
    out["lines"] = Json::array();
    for (const batter::CostLine& line : cost.lines) {
        Json item{{"item", line.item}, {"g", round3(line.g)}};
        if (line.cost) item["cost"] = round3(*line.cost);
        if (line.in_stock_g) item["in_stock_g"] = round3(*line.in_stock_g);
        item["short_g"] = round3(line.short_g);
        out["lines"].push_back(std::move(item));
    }
    return out;
}

Json json_of(const std::vector<BenchFact>& facts) {
    Json out = Json::array();
    for (const BenchFact& fact : facts)
        out.push_back({{"label", fact.label}, {"value", fact.value}, {"note", fact.note}});
    return out;
}

Json figures_of(const BenchSheet& sheet) {
    const batter::Batch& batch = sheet.plan.batch;
    Json out;
    out["batter_g"] = round3(batch.batter_g);
    out["mould_ml"] = round3(sheet.plan.mould_ml);
    out["density_kg_per_m3"] = sheet.density_kg_per_m3;
    out["oils_g"] = round3(batch.oils_g);
    out["sodium_hydroxide_g"] = round3(batch.naoh_g);
    out["potassium_hydroxide_g"] = round3(batch.koh_g);
    out["water_and_liquids_g"] = round3(batch.liquid_g);
    out["lye_percent"] = round3(batch.lye_percent);
    out["superfat_percent"] = round3(batch.superfat_percent);
    out["superfat_range_percent"] = {round3(batch.superfat_range_percent.low),
                                     round3(batch.superfat_range_percent.high)};
    out["iodine_value"] = {round3(batch.iodine.low), round3(batch.iodine.high)};
    out["oil_held_back_g"] = round3(sheet.plan.split.oil_held_back_g);
    out["water_held_back_g"] = round3(sheet.plan.split.water_held_back_g);
    out["oils"] = Json::array();
    for (const batter::OilWeight& oil : batch.oils)
        out["oils"].push_back({{"id", oil.oil->id},
                               {"percent", round3(oil.percent)},
                               {"koh_mg_per_g", {oil.koh_mg_per_g.low, oil.koh_mg_per_g.high}},
                               {"used", oil.used()},
                               {"certificate", oil.certified},
                               {"source", oil.certified ? "supplier's certificate" : oil.oil->source},
                               {"how_known", oil.certified ? "entered" : oil.oil->how_known}});
    return out;
}

void add_work(Json& out, const BenchSheet& sheet) {
    out["steps"] = Json::array();
    for (const BenchStep& step : sheet.steps)
        out["steps"].push_back(
            {{"when", step.when}, {"title", step.title}, {"lines", step.lines}, {"warnings", step.warnings}});
    out["pours"] = Json::array();
    for (const BenchPour& pour : sheet.pours)
        out["pours"].push_back({{"portion", pour.name},
                                {"amount", pour.amount},
                                {"manner", pour.manner.empty() ? "laid" : pour.manner},
                                {"from_mm", round3(pour.from_mm)},
                                {"to_mm", round3(pour.to_mm)}});
    out["calendar"] = json_of(sheet.dates);
    out["warnings"] = Json::array();
    for (const design::Warning& warning : sheet.warnings)
        out["warnings"].push_back(
            {{"place", warning.place}, {"sentence", warning.sentence}, {"cure", warning.cure}});
    out["cautions"] = sheet.cautions;
    out["not_this"] = sheet.not_this;
}

Json json_of(const BenchSheet& sheet) {
    Json out{{"soap", sheet.title}, {"code", sheet.code}};
    if (!sheet.date.empty()) out["date"] = sheet.date;
    if (!sheet.batch_number.empty()) out["batch"] = sheet.batch_number;
    out["units"] = sheet.units == batter::UnitSystem::us ? "us" : "metric";
    out["bars"] = sheet.bars;
    out["figures"] = figures_of(sheet);
    out["tables"] = Json::array();
    for (const BenchTable& table : sheet.tables) {
        Json item{{"id", table.id}, {"rows", Json::array()}};
        for (const BenchRow& row : table.rows) item["rows"].push_back(json_of(row));
        out["tables"].push_back(std::move(item));
    }
    out["jugs"] = Json::array();
    for (const BenchJug& jug : sheet.jugs) out["jugs"].push_back(json_of(jug));
    add_work(out, sheet);
    if (sheet.cost) {
        out["cost"] = json_of(*sheet.cost, sheet.money);
        out["cost_per_bar"] = round3(sheet.cost_per_bar);
    }
    return out;
}

Json json_of(const BenchCollection& collection) {
    Json out{{"title", collection.title}, {"soaps", collection.soaps}};
    out["pastes"] = Json::array();
    for (const batter::Masterbatch& paste : collection.pastes) {
        Json item{{"id", paste.id},
                  {"liquid", std::string(name_of(paste.liquid))},
                  {"parts_of_liquid", round3(paste.parts_of_liquid)},
                  {"powder_g", round3(paste.powder_g)},
                  {"liquid_g", round3(paste.liquid_g)}};
        for (const auto& dose : paste.doses)
            item["doses"].push_back({{"soap", dose.soap},
                                     {"jug", dose.jug},
                                     {"powder_g", round3(dose.powder_g)},
                                     {"paste_g", round3(dose.paste_g)}});
        out["pastes"].push_back(std::move(item));
    }
    if (collection.cost) out["cost"] = json_of(*collection.cost, collection.money);
    return out;
}

class Table {
  public:
    Table() {
        text_ = csv_line({"soap", "part", "item", "name", "exact_g", "weigh", "unit", "teaspoons", "note"});
    }
    void add(const std::string& soap, const std::string& part, const BenchRow& row,
             const std::string& spoon = "", const std::string& note = "") {
        if (!row.weight) return;
        text_ +=
            csv_line({soap, part, row.id, row.name, shown(row.weight->exact_g, 3), row.weight->text(),
                      std::string(name_of(row.weight->scale.unit)), spoon, note.empty() ? row.note : note});
    }
    const std::string& text() const { return text_; }

  private:
    std::string text_;
};

}  // namespace

std::string bench_json(const std::vector<BenchSheet>& sheets, const BenchCollection* collection) {
    if (sheets.size() == 1 && collection == nullptr)
        return json_of(sheets.front()).dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
    Json out;
    if (collection != nullptr) out["collection"] = json_of(*collection);
    out["sheets"] = Json::array();
    for (const BenchSheet& sheet : sheets) out["sheets"].push_back(json_of(sheet));
    return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string bench_csv(const std::vector<BenchSheet>& sheets, const BenchCollection* collection) {
    Table table;
    if (collection != nullptr)
        for (const batter::Masterbatch& paste : collection->pastes) {
            const auto row = [&](const std::string& id, const std::string& name, double g) {
                table.add(collection->title, "paste of " + paste.name,
                          row_of(id, name, "", batter::weighed(g, collection->powder_scale)));
            };
            row(paste.id, paste.name, paste.powder_g);
            row(std::string(name_of(paste.liquid)), std::string(name_of(paste.liquid)), paste.liquid_g);
        }
    for (const BenchSheet& sheet : sheets) {
        for (const BenchTable& part : sheet.tables)
            for (const BenchRow& row : part.rows) table.add(sheet.title, part.id, row);
        for (const BenchJug& jug : sheet.jugs) {
            table.add(sheet.title, "jug", jug.plain, "", "plain batter");
            for (const BenchPowder& powder : jug.powders)
                table.add(sheet.title, "jug of " + jug.plain.name, powder.row,
                          powder.paste.empty() ? powder.spoon : "", words_under(powder));
        }
    }
    return table.text();
}

}  // namespace foreslice::picture
