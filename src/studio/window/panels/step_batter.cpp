// Step 1: the mould, how far it is filled, and how thick the batter is.
#include <algorithm>

#include "batter/rheology.h"
#include "design/limits.h"
#include "studio/window/panels.h"
#include "studio/window/panels/bench_panel.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;

void draw_mould(const Studio& studio) {
    studio.ui.section("Mould, inside");
    struct Row {
        const char *name, *label, *words, *help;
        double design::Mould::*value;
        design::Range range;
        double usual_least, usual_most;
    };
    const double height = studio.session.design().mould.height_mm;
    const Row rows[] = {
        {"mould:width", "Width", "mould width", "From side wall to side wall, where the batter touches them.",
         &design::Mould::width_mm, limits::mould_width_mm, 40, 150},
        {"mould:height", "Height", "mould height", "From the floor to the mould's edge.",
         &design::Mould::height_mm, limits::mould_height_mm, 40, 150},
        {"mould:length", "Length", "mould length", "The way the wire lies; it gives the number of bars.",
         &design::Mould::length_mm, limits::mould_length_mm, 150, 600},
        {"mould:fill",
         "Filled to",
         "fill height",
         "Height at which the batter comes to rest above the floor.",
         &design::Mould::fill_mm,
         {limits::fill_mm.least, height},
         20,
         height},
    };
    for (const Row& row : rows) {
        auto next = studio.session.design();
        const Quantity quantity{
            row.name,       row.label, Unit::mm, row.range.least, row.range.most, row.usual_least,
            row.usual_most, 1,         1,        row.help};
        const Edited edited = studio.ui.quantity(quantity, next.mould.*(row.value));
        next.mould.fill_mm = std::min(next.mould.fill_mm, next.mould.height_mm);
        apply(studio, edited, std::move(next), row.words, row.name);
    }
    const auto& mould = studio.session.design().mould;
    const double litres = mould.width_mm * mould.fill_mm * mould.length_mm * 1e-6;
    const double kilograms = litres * studio.session.design().batter.density_kg_per_m3 * 1e-3;
    const bool ounces = studio.ui.units.ounces;
    studio.ui.quiet_text(
        "Holds " + format_number(litres, 2) + " L, " +
        (ounces ? studio.ui.shown(1000 * kilograms, Unit::g, 0) : format_number(kilograms, 2) + " kg") +
        " of batter.");
}

// Per document: a maker who thinks in inches and ounces gets this soap's numbers in them.
void draw_units(const Studio& studio) {
    studio.ui.section("Written in");
    const int now = static_cast<int>(studio.session.design().bench.units);
    const int clicked = studio.ui.choice("units", {"mm and grams", "inches and ounces"}, now);
    if (clicked < 0 || clicked == now) return;
    auto next = studio.session.design();
    next.bench.units = static_cast<batter::UnitSystem>(clicked);
    studio.session.edit(std::move(next), "other units");
}

std::string sentence_of(batter::Trace trace) {
    return "pours like " + std::string(batter::behaves_like(trace));
}

void draw_trace_list(const Studio& studio) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const std::string shown =
        design.batter.trace ? std::string(batter::name_of(*design.batter.trace)) : "own figures";
    if (ui.begin_list("trace", "Trace", shown)) {
        for (const auto trace : batter::all_traces) {
            const std::string word(batter::name_of(trace));
            if (ui.list_entry("trace/" + word, word + "   " + sentence_of(trace),
                              design.batter.trace == trace)) {
                auto next = design;
                next.batter.trace = trace;
                studio.session.edit(std::move(next), word + " trace");
            }
        }
        if (ui.list_entry("trace/own figures", "own figures", !design.batter.trace)) {
            auto next = design;
            next.batter.explicit_rheology = next.batter.rheology();
            next.batter.trace.reset();
            studio.session.edit(std::move(next), "own figures for the batter");
        }
        ui.end_list();
    }
    if (studio.session.design().batter.trace)
        ui.quiet_text("At this trace the batter " + sentence_of(*studio.session.design().batter.trace) + ".");
}

void draw_figures(const Studio& studio) {
    struct Row {
        const char *name, *label, *help;
        double batter::Rheology::*value;
        Unit unit;
        design::Range range;
        double usual_most, step;
        int decimals;
    };
    static const Row rows[] = {
        {"batter:yield", "Yield stress",
         "Below this stress the batter stays put: 3.6 Pa hold a trail 1 mm high.",
         &batter::Rheology::yield_stress_pa, Unit::pa, limits::yield_stress_pa, 60, 0.5, 2},
        {"batter:consistency", "Consistency K", "How hard it resists once it moves.",
         &batter::Rheology::consistency_pa_sn, Unit::pa_sn, limits::consistency_pa_sn, 40, 0.5, 3},
        {"batter:index", "Flow index n", "1: moves evenly; lower: gets thinner the faster it is stirred.",
         &batter::Rheology::flow_index, Unit::none, limits::flow_index, 1.2, 0.05, 2},
    };
    for (const Row& row : rows) {
        auto next = studio.session.design();
        const Quantity quantity{row.name, row.label,      row.unit, row.range.least, row.range.most,
                                0,        row.usual_most, row.step, row.decimals,    row.help};
        const Edited edited = studio.ui.quantity(quantity, next.batter.explicit_rheology.*(row.value));
        apply(studio, edited, std::move(next), row.label, row.name);
    }
}

void draw_preset_figures(const Studio& studio) {
    const auto rheology = studio.session.design().batter.rheology();
    const double trail =
        batter::trail_height_that_stays_mm(rheology, studio.session.design().batter.density_kg_per_m3);
    std::string words = "Reckoned with a yield stress of " +
                        format_quantity(rheology.yield_stress_pa, Unit::pa, 2) + ", K " +
                        format_quantity(rheology.consistency_pa_sn, Unit::pa_sn, 2) + ", n " +
                        format_number(rheology.flow_index, 2) + ".";
    if (trail > 0.05)
        words += " A trail up to " + studio.ui.shown(trail, Unit::mm, 1) + " high stays on top.";
    else
        words += " Every trail sinks back at once.";
    studio.ui.quiet_text(words);
}

}  // namespace

void draw_batter(const Studio& studio) {
    draw_mould(studio);
    studio.ui.section("Batter");
    draw_trace_list(studio);
    if (studio.session.design().batter.trace)
        draw_preset_figures(studio);
    else
        draw_figures(studio);
    auto next = studio.session.design();
    const Quantity density{"batter:density",
                           "Density",
                           Unit::kg_per_m3,
                           limits::density_kg_per_m3.least,
                           limits::density_kg_per_m3.most,
                           900,
                           1100,
                           1,
                           0,
                           "Fresh batter weighs close to 1016 kg per cubic metre."};
    const Edited edited = studio.ui.quantity(density, next.batter.density_kg_per_m3);
    apply(studio, edited, std::move(next), "batter density", density.name);
    draw_units(studio);
    draw_bench(studio);
}

}  // namespace foreslice::studio
