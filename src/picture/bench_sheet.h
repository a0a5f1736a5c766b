// The bench sheet: what is weighed, split, tinted, poured and drawn tomorrow morning. One description of the
// pages, which several writers turn into a PDF, pictures, HTML, JSON and a table of weights.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "batter/rounding.h"
#include "batter/stock.h"
#include "design/recipe.h"
#include "foundation/vec2.h"
#include "picture/image.h"

namespace foreslice::picture {

/// A day, and the time at which the lye goes into the oils when it is known.
struct BenchDate {
    int year = 0, month = 0, day = 0;
    std::optional<int> minute_of_day{};  ///< 0..1439
};
/// "2026-11-26" or "2026-11-26T09:30"; empty for anything else.
std::optional<BenchDate> bench_date_from_text(const std::string& text);
/// "Thu 26 Nov 2026".
std::string date_words(const BenchDate& date);
/// So many hours later; a date without a time moves by whole days.
BenchDate later(const BenchDate& date, double hours);

struct BenchOptions {
    std::optional<batter::UnitSystem> units{};  ///< empty: the design's
    std::optional<batter::Scale> scale{};       ///< for oils, water, batter; empty: 1 g, or 0.05 oz
    std::optional<batter::Scale> fine_scale{};  ///< for alkali and additives; empty: 0.1 g, or 0.01 oz
    batter::Scale powder_scale{0.01, batter::MassUnit::g};
    std::optional<BenchDate> date{};
    std::string batch_number;
    /// Pastes made for the whole collection, weighed out instead of the powders; empty: powders by weight.
    std::vector<batter::Masterbatch> pastes;
};

/// Something to weigh or measure, with a box to tick.
struct BenchRow {
    std::string id, name;
    std::string note;  ///< small, below the name
    std::optional<batter::Weighing> weight{};
    double ml = 0;        ///< volume, when it helps; else 0
    bool strong = false;  ///< wants special care
    std::string exact;    ///< "exact 141.19", when rounding shows
};

struct BenchTable {
    std::string id, title, note;
    std::vector<BenchRow> rows;
};

struct BenchPowder {
    BenchRow row;
    std::string spoon;            ///< "¼"; level US teaspoons
    std::string liquid;           ///< "oil", "water", "glycerin", "dry"
    double liquid_g = 0;          ///< besides what is in a paste
    std::string paste;            ///< "1 : 3": the row's weight is of a paste this strong; empty: of powder
    double de00_per_tenth_g = 0;  ///< how far a tenth of a gram more of it moves the portion's colour
    bool matters = false;         ///< among those to weigh with most care
};

struct BenchJug {
    BenchRow plain;  ///< batter from the pot
    unsigned rgb = 0;
    double percent = 0, jug_ml = 0, fragrance_g = 0, superfat_percent = 0, lye_percent = 0;
    double de00_per_tenth_g = 0;  ///< the same for the batter poured into the jug
    double powder_g_per_kg_oils = 0;
    double top_g = 0;              ///< of it kept back for the top
    std::string top;               ///< "33 g"; empty: none
    std::string volume, jug_size;  ///< "371 ml", "750 ml"
    std::vector<BenchPowder> powders;
};

struct BenchStep {
    std::string when;  ///< "−90 min", "+4 min", "day 1"
    std::string title;
    std::vector<std::string> lines;
    std::vector<std::string> warnings;
};

/// A layer as it is poured.
struct BenchPour {
    std::string name, amount, manner;
    unsigned rgb = 0;
    double from_mm = 0, to_mm = 0;  ///< level before and after
    bool with_previous = false;
};

/// Ways of the wire that are drawn at one time, in the cross-section.
struct BenchWire {
    std::string title;
    double level_mm = 0;
    std::vector<std::vector<Vec2>> paths_mm;
    double diameter_mm = 0;
};

struct BenchFact {
    std::string label, value, note;
};

struct BenchSheet {
    std::string title, subtitle, code, date, batch_number;
    batter::UnitSystem units = batter::UnitSystem::metric;
    std::vector<BenchFact> facts;
    std::vector<BenchTable> tables;  ///< "oils", "lye", "extras" (may be absent)
    std::vector<BenchJug> jugs;
    std::string pot;  ///< what all jugs are filled from
    std::string jugs_note;
    std::vector<std::string> weigh_best;  ///< powders that matter most, in words
    std::vector<BenchStep> steps;
    std::vector<BenchPour> pours;
    std::vector<BenchWire> wires;
    double width_mm = 0, height_mm = 0, fill_mm = 0;
    std::vector<BenchFact> dates;
    std::vector<design::Warning> warnings;
    std::vector<std::string> cautions;
    std::string not_this;  ///< what the figures are not
    std::optional<batter::Cost> cost{};
    std::string money;
    double cost_per_bar = 0;
    int bars = 0;
    Image face;  ///< may be empty
    design::BatchPlan plan;
    double density_kg_per_m3 = 0;
};

struct BenchInput {
    const design::Design& design;
    const design::BatchPlan& plan;
    const colour::ColourantLibrary& colour_library;
    std::vector<design::Warning> warnings;  ///< of the design; those of the plan are added
    const batter::Stock* stock = nullptr;
    Image face = {};
};
BenchSheet bench_sheet(const BenchInput& input, const BenchOptions& options);

/// What a batch needs, for prices and stock: oils, alkali, additives, fragrance, powders.
std::vector<batter::Need> needs_of(const design::BatchPlan& plan);

/// What several soaps that are made together share.
struct BenchCollection {
    std::string title, date;
    std::vector<std::string> soaps;
    std::vector<batter::Masterbatch> pastes;
    std::optional<batter::Cost> cost{};
    std::string money;
    batter::Scale powder_scale;
};

}  // namespace foreslice::picture
