#include "studio/window/panels/bench_panel.h"

#include <algorithm>
#include <filesystem>
#include <memory>

#include "batter/rounding.h"
#include "batter/stock.h"
#include "design/recipe.h"
#include "foundation/error.h"
#include "picture/assets.h"
#include "picture/bench_sheet.h"
#include "picture/bench_words.h"
#include "studio/window/panels.h"
#include "studio/window/panels/bench_parts.h"

namespace foreslice::studio {
namespace {

/// The program's own table, read once; empty when it is missing, and then the panel says so.
const batter::OilsTable& table_of_oils() {
    static const batter::OilsTable table = [] {
        try {
            return batter::OilsTable::load(picture::own_file("palettes/oils.csv"));
        } catch (const InputError&) {
            return batter::OilsTable();
        }
    }();
    return table;
}

/// A name at the left and a figure at the right, which scripts find.
void weight_line(const Studio& studio, const std::string& name, const std::string& label,
                 const std::string& figure, bool strong = false) {
    Ui& ui = studio.ui;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.fonts.bold->FontSize + ui.px(5);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float figure_width = ui.text_width(ui.fonts.bold, figure);
    ui.text_at(list, strong ? ui.fonts.bold : ui.fonts.body, at, dusk::chalk,
               ui.fitted(ui.fonts.body, label, width - figure_width - ui.px(10)));
    ui.text_at(list, ui.fonts.bold, ImVec2(at.x + width, at.y), dusk::chalk, figure, 1);
    ImGui::Dummy(ImVec2(width, height));
    ui.note("bench:" + name, figure);
}

void draw_weights(const Studio& studio, const design::BatchPlan& plan) {
    const auto units = studio.session.design().bench.units;
    const picture::Scales scales = picture::scales_of(units, {});
    const auto coarse = [&](double g) { return picture::words_of(batter::weighed(g, scales.coarse)); };
    const auto fine = [&](double g) { return picture::words_of(batter::weighed_down(g, scales.fine)); };
    const batter::Batch& batch = plan.batch;
    weight_line(studio, "batter", "Batter", coarse(batch.batter_g), true);
    for (const batter::OilWeight& oil : batch.oils)
        weight_line(studio, "weight:" + oil.oil->id, oil.oil->name, coarse(oil.g));
    weight_line(studio, "weight:water", "water", coarse(batch.water_g));
    for (const batter::Added& liquid : batch.liquids)
        weight_line(studio, "weight:" + liquid.id, liquid.name, coarse(liquid.g));
    if (batch.naoh_g > 0)
        weight_line(studio, "weight:sodium-hydroxide", "sodium hydroxide", fine(batch.naoh_g), true);
    if (batch.koh_g > 0)
        weight_line(studio, "weight:potassium-hydroxide", "potassium hydroxide", fine(batch.koh_g), true);
    for (const batter::Added& added : batch.additives)
        weight_line(studio, "weight:" + added.id, added.name, fine(added.g));
    if (batch.fragrance_g > 0) weight_line(studio, "weight:fragrance", "fragrance", fine(batch.fragrance_g));
    studio.ui.quiet_text(
        "Superfat " + format_quantity(batch.superfat_percent, Unit::percent, 1) + ", truly between " +
        format_quantity(batch.superfat_range_percent.low, Unit::percent, 1) + " and " +
        format_quantity(batch.superfat_range_percent.high, Unit::percent, 1) +
        " as the oils' values allow; lye of " + format_quantity(batch.lye_percent, Unit::percent, 1) + ".");
    studio.ui.section("Into the jugs");
    for (const batter::Jug& jug : plan.split.jugs)
        weight_line(studio, "jug:" + jug.id, jug.name, coarse(jug.plain_g));
}

void draw_cautions(const Studio& studio, const design::BatchPlan& plan) {
    Ui& ui = studio.ui;
    for (std::size_t i = 0; i < plan.warnings.size(); ++i) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.bold, at, dusk::lamp, "!");
        ImGui::Indent(ui.px(12));
        ui.quiet_text(plan.warnings[i].sentence + " " + plan.warnings[i].cure);
        ui.note("bench:warning:" + std::to_string(i), plan.warnings[i].sentence);
        ImGui::Unindent(ui.px(12));
    }
}

/// The stock table of the design, read again when the design names another one or lies elsewhere.
struct Shelf {
    std::filesystem::path file;
    std::unique_ptr<const batter::Stock> stock;
    std::string trouble;
};

const Shelf& shelf_of(const Studio& studio) {
    static Shelf shelf;
    const std::string& name = studio.session.design().bench.stock_file;
    const auto file = name.empty() ? std::filesystem::path() : studio.session.file().parent_path() / name;
    if (file == shelf.file) return shelf;
    shelf = {file, nullptr, ""};
    if (file.empty()) return shelf;
    try {
        shelf.stock = std::make_unique<const batter::Stock>(batter::Stock::load(file));
    } catch (const InputError& error) {
        shelf.trouble = error.what();
    }
    return shelf;
}

void draw_cost(const Studio& studio, const design::BatchPlan& plan) {
    const Shelf& shelf = shelf_of(studio);
    if (!shelf.trouble.empty()) studio.ui.quiet_text(shelf.trouble);
    if (shelf.stock == nullptr) return;
    const batter::Cost cost = cost_of(picture::needs_of(plan), *shelf.stock);
    const auto& design = studio.session.design();
    const int bars = std::max(1, design::bar_count(design) * design.bench.moulds);
    const std::string money = shelf.stock->money().empty() ? "" : " " + shelf.stock->money();
    studio.ui.section("Cost");
    weight_line(studio, "cost-per-bar", cost.complete ? "A bar" : "A bar, of what has a price",
                format_number(cost.total / bars, 2) + money, true);
    for (const batter::CostLine& line : cost.lines)
        if (line.short_g > 0)
            studio.ui.quiet_text(format_number(line.short_g, 1) + " g short of " + line.name + ".");
}

}  // namespace

void draw_bench(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("On the bench");
    const batter::OilsTable& table = table_of_oils();
    if (table.oils().empty()) {
        ui.quiet_text("The program's table of oils is missing, so nothing can be weighed.");
        return;
    }
    const auto& design = studio.session.design();
    if (design.recipe.oils.empty() && !design::has_recipe(design)) {
        ui.quiet_text("With a recipe the studio says what to weigh for this mould.");
        if (ui.button("bench:start", "Start with a usual blend")) start_usual_blend(studio);
        return;
    }
    if (design.recipe.oils.empty()) {
        if (ui.button("bench:start", "Change the oils here")) start_usual_blend(studio);
    } else {
        draw_recipe(studio, table);
    }
    try {
        const auto plan = design::plan_batch(studio.session.design(), table, studio.session.colour_library());
        ui.section("To weigh");
        draw_weights(studio, plan);
        draw_cautions(studio, plan);
        draw_cost(studio, plan);
    } catch (const InputError& error) {
        ui.quiet_text(error.problem() + ". " +
                      (error.allowed().empty() ? "" : "Allowed: " + error.allowed() + "."));
        ui.note("bench:fault", error.problem());
    }
    ui.quiet_text("Arithmetic, not a safety assessment. The bench sheet has the rest.");
}

}  // namespace foreslice::studio
