// What is weighed: the tables at the head of a bench sheet.
#include "picture/bench_sheet.h"

#include <algorithm>
#include <cmath>

#include "design/identity.h"
#include "picture/bench_words.h"
#include "picture/caption.h"

namespace foreslice::picture {
namespace {

using batter::Into;
using batter::UnitSystem;
using batter::weighed;
using batter::weighed_down;

std::string percent(double value) {
    return shown(value, 1) + " %";
}

std::string range_words(batter::Span span) {
    return span.low == span.high ? shown(span.low, 1) : shown(span.low, 1) + "–" + shown(span.high, 1);
}

class Weights {
  public:
    Weights(const BenchInput& input, const Scales& scales, UnitSystem units)
        : plan_(input.plan), batch_(input.plan.batch), scales_(scales), units_(units) {}

    std::vector<BenchTable> tables() {
        std::vector<BenchTable> out{oils(), lye()};
        if (BenchTable extras = the_extras(); !extras.rows.empty()) out.push_back(std::move(extras));
        return out;
    }
    /// What the tables' shown weights come to, less what is kept aside for the powders.
    double pot_g() const { return sum_g_ - plan_.split.oil_held_back_g - plan_.split.water_held_back_g; }

  private:
    BenchRow weighed_row(std::string id, std::string name, std::string note, const batter::Weighing& weight) {
        sum_g_ += weight.shown_g();
        return row_of(std::move(id), std::move(name), std::move(note), weight);
    }

    BenchTable oils() {
        BenchTable table{"oils", "Oils", "", {}};
        for (const batter::OilWeight& oil : batch_.oils) {
            std::string note = percent(oil.percent) + " · SV " + shown(oil.used(), 1);
            if (oil.certified)
                note += " (certificate)";
            else if (oil.koh_mg_per_g.low != oil.koh_mg_per_g.high)
                note += " (" + range_words(oil.koh_mg_per_g) + ")";
            if (oil.oil->id == plan_.split.oil_held_back_from && plan_.split.oil_held_back_g > 0.05)
                note += " · " + shown(plan_.split.oil_held_back_g, 1) + " g kept aside";
            table.rows.push_back(
                weighed_row(oil.oil->id, oil.oil->name, note, weighed(oil.g, scales_.coarse)));
        }
        table.note = mass_words(batch_.oils_g, units_) + " together";
        return table;
    }

    std::string water_note() const {
        std::string note = "cold";
        if (plan_.split.water_held_back_g > 0.05)
            note += " · " + shown(plan_.split.water_held_back_g, 1) + " g kept aside for the powders";
        return note;
    }

    BenchTable lye() {
        BenchTable table{"lye", "Lye", "", {}};
        if (batch_.water_g > 0)
            table.rows.push_back(
                weighed_row("water", "water", water_note(), weighed(batch_.water_g, scales_.coarse)));
        for (const batter::Added& liquid : batch_.liquids)
            table.rows.push_back(
                weighed_row(liquid.id, liquid.name,
                            liquid.into == Into::batter ? "at trace, not into the lye" : "instead of water",
                            weighed(liquid.g, scales_.coarse)));
        const auto alkali = [&](const char* id, const char* name, double g, double purity) {
            if (g <= 0) return;
            const std::string note =
                purity < 100 ? percent(purity) + " pure, counted in" : "taken as pure; rounded down";
            table.rows.push_back(weighed_row(id, name, note, weighed_down(g, scales_.fine)));
            table.rows.back().strong = true;
        };
        alkali(batter::naoh_id.data(), "sodium hydroxide", batch_.naoh_g,
               plan_.recipe.alkali.naoh_purity_percent);
        alkali(batter::koh_id.data(), "potassium hydroxide", batch_.koh_g,
               plan_.recipe.alkali.koh_purity_percent);
        table.note = "lye of " + percent(batch_.lye_percent) + " · " + shown(batch_.parts_per_alkali, 2) +
                     " parts water · " + shown(batch_.percent_of_oils, 1) + " % of oils";
        return table;
    }

    BenchTable the_extras() {
        BenchTable table{"extras", "Extras", "", {}};
        const auto where = [](Into into) {
            return into == Into::lye_water ? "into the water"
                   : into == Into::oils    ? "into the oils"
                                           : "at trace";
        };
        for (const batter::Added& added : batch_.additives) {
            if (added.g <= 0) continue;
            table.rows.push_back(
                weighed_row(added.id, added.name, where(added.into), weighed(added.g, scales_.fine)));
        }
        if (batch_.fragrance_g > 0)
            table.rows.push_back(weighed_row(batter::fragrance_id.data(), "fragrance",
                                             "into the whole batter, before it is split",
                                             weighed(batch_.fragrance_g, scales_.fine)));
        return table;
    }

    const design::BatchPlan& plan_;
    const batter::Batch& batch_;
    const Scales& scales_;
    UnitSystem units_;
    double sum_g_ = 0;
};

std::string subtitle_of(const design::Design& design, int bars, UnitSystem units) {
    const auto& mould = design.mould;
    std::string words =
        design.bench.moulds > 1 ? std::to_string(design.bench.moulds) + " moulds of " : "mould ";
    words += length_words(mould.length_mm, units) + " × " + length_words(mould.width_mm, units) +
             ", filled to " + length_words(mould.fill_mm, units) + " · " + std::to_string(bars) +
             (bars == 1 ? " bar of " : " bars of ") + length_words(design.cut.bar_thickness_mm, units) +
             " · " + batter_words(design);
    return words;
}

std::vector<BenchFact> facts_of(const BenchInput& input, UnitSystem units) {
    const design::Design& design = input.design;
    const batter::Batch& batch = input.plan.batch;
    std::vector<BenchFact> facts;
    facts.push_back({"Batter", mass_words(batch.batter_g, units),
                     volume_words(input.plan.mould_ml, units) + " in the mould at " +
                         shown(design.batter.density_kg_per_m3 / 1000, 3) + " g/cm³"});
    const double least = batch.superfat_range_percent.low;
    facts.push_back({"Superfat", percent(batch.superfat_percent),
                     "between " + percent(least) + " and " + percent(batch.superfat_range_percent.high) +
                         ", as the oils' values allow"});
    const double length = design.mould.length_mm, area = design.mould.width_mm * design.mould.fill_mm;
    const double cut = design::bar_count(design) * design.cut.bar_thickness_mm;
    const double ends_g = (length - cut) * area * design.batter.density_kg_per_m3 * 1e-6;
    const double bar_g = design.cut.bar_thickness_mm * area * design.batter.density_kg_per_m3 * 1e-6;
    facts.push_back(
        {"Bar, fresh", mass_words(bar_g, units), "trimmed ends " + mass_words(ends_g, units) + " a loaf"});
    if (batch.iodine.high > 0)
        facts.push_back({"Iodine value", shown(batch.iodine.middle(), 0), "of the blend"});
    return facts;
}

void add_cost(BenchSheet& sheet, const BenchInput& input) {
    if (input.stock == nullptr) return;
    auto needs = needs_of(input.plan);
    sheet.cost = cost_of(needs, *input.stock);
    sheet.money = input.stock->money();
    if (sheet.bars > 0) sheet.cost_per_bar = sheet.cost->total / sheet.bars;
    for (const batter::CostLine& line : sheet.cost->lines)
        if (line.short_g > 0)
            sheet.warnings.push_back(
                {"/bench/stock_file",
                 "The shelf is " + mass_words(line.short_g, sheet.units) + " short of " + line.name + ".",
                 "Buy it before the day."});
}

/// The powders whose tenth of a gram shows most.
void mark_what_matters(BenchSheet& sheet) {
    constexpr double seen_de00 = 0.5;  // about half of a just visible step; common practice
    constexpr std::size_t most = 4;
    std::vector<std::pair<BenchPowder*, const BenchJug*>> powders;
    for (BenchJug& jug : sheet.jugs)
        for (BenchPowder& powder : jug.powders)
            if (powder.de00_per_tenth_g >= seen_de00) powders.emplace_back(&powder, &jug);
    std::stable_sort(powders.begin(), powders.end(), [](const auto& a, const auto& b) {
        return a.first->de00_per_tenth_g > b.first->de00_per_tenth_g;
    });
    if (powders.size() > most) powders.resize(most);
    for (const auto& [powder, jug] : powders) {
        powder->matters = true;
        sheet.weigh_best.push_back(powder->row.name + " in " + jug->plain.name + " (" +
                                   shown(powder->de00_per_tenth_g, 1) + ")");
    }
}

}  // namespace

std::vector<batter::Need> needs_of(const design::BatchPlan& plan) {
    const batter::Batch& batch = plan.batch;
    std::vector<batter::Need> needs;
    for (const batter::OilWeight& oil : batch.oils) needs.push_back({oil.oil->id, oil.oil->name, oil.g});
    const auto add = [&needs](std::string id, std::string name, double g) {
        if (g > 0) needs.push_back({std::move(id), std::move(name), g});
    };
    add(std::string(batter::naoh_id), "sodium hydroxide", batch.naoh_g);
    add(std::string(batter::koh_id), "potassium hydroxide", batch.koh_g);
    for (const batter::Added& liquid : batch.liquids) add(liquid.id, liquid.name, liquid.g);
    for (const batter::Added& added : batch.additives) add(added.id, added.name, added.g);
    add(std::string(batter::fragrance_id), "fragrance", batch.fragrance_g);
    for (const batter::Jug& jug : plan.split.jugs)
        for (const batter::PowderWeight& powder : jug.powders) add(powder.id, powder.name, powder.g);
    return needs;
}

BenchSheet bench_sheet(const BenchInput& input, const BenchOptions& options) {
    BenchSheet sheet;
    const design::Design& design = input.design;
    sheet.units = options.units.value_or(design.bench.units);
    const Scales scales = scales_of(sheet.units, options);
    sheet.title = design.name;
    sheet.bars = design::bar_count(design) * design.bench.moulds;
    sheet.subtitle = subtitle_of(design, sheet.bars, sheet.units);
    sheet.code = design::identity_code(design);
    if (options.date) sheet.date = date_words(*options.date);
    sheet.batch_number = options.batch_number;
    sheet.plan = input.plan;
    sheet.density_kg_per_m3 = design.batter.density_kg_per_m3;
    sheet.width_mm = design.mould.width_mm;
    sheet.height_mm = design.mould.height_mm;
    sheet.fill_mm = design.mould.fill_mm;
    sheet.face = input.face;
    sheet.facts = facts_of(input, sheet.units);
    Weights weights(input, scales, sheet.units);
    sheet.tables = weights.tables();
    sheet.jugs = bench_jugs(input, options, scales, weights.pot_g(), sheet.units);
    sheet.pot = "the pot holds " + mass_words(weights.pot_g(), sheet.units) + " of plain batter";
    sheet.jugs_note =
        "ΔE: how far a tenth of a gram more moves the colour of its portion (CIEDE2000); about 1 shows "
        "side by side. Oil or water of the powders is part of the recipe and was kept aside.";
    mark_what_matters(sheet);
    sheet.warnings = input.plan.warnings;
    sheet.warnings.insert(sheet.warnings.end(), input.warnings.begin(), input.warnings.end());
    add_cost(sheet, input);
    sheet.pours = bench_pours(input, sheet);
    sheet.wires = bench_wires(design);
    sheet.steps = bench_steps(input, sheet, options);
    sheet.dates = bench_dates(input, options);
    sheet.cautions = lye_cautions();
    sheet.not_this = not_an_assessment;
    return sheet;
}

}  // namespace foreslice::picture
