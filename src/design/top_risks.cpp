// What keeps a top from being made, and what a batter too soft for it does.
#include <algorithm>
#include <cmath>

#include "batter/pouring.h"
#include "batter/rheology.h"
#include "design/internal/top_fields.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

std::string in_mm(double value) {
    return plain_number(std::round(value * 10) / 10) + " mm";
}

std::string at_spooned(std::size_t index, const char* field) {
    return path_to("/top/spooned", index) + "/" + field;
}

// A stroke's furrows and ridges are half its height off level each.
double stands_mm(const Design& design) {
    batter::Rheology held = design.batter.rheology();
    held.yield_stress_pa = top_yield_stress_pa(design);
    return 2 * batter::trail_height_that_stays_mm(held, design.batter.density_kg_per_m3);
}

void watch_heap(const Design& design, std::size_t index, double area_mm2, const Warn& warn) {
    const Spooned& spooned = design.top.spooned[index];
    const double tau_pa = top_yield_stress_pa(design);
    const double wanted_mm = 1.5 * area_mm2 / std::min(spooned.width_mm, design.mould.width_mm);
    const double held_mm =
        tau_pa > 0 ? batter::mound_at_rest(tau_pa, design.batter.density_kg_per_m3, area_mm2 / 2).height_mm
                   : 0;
    if (area_mm2 <= 0 || wanted_mm <= held_mm + 0.5) return;
    warn(at_spooned(index, "width_mm"),
         "A heap of " + in_mm(wanted_mm) + " does not stand in batter this soft; it slumps to about " +
             in_mm(held_mm) + ".",
         "Wait for thicker batter (firmed_yield_stress_pa), spread it wider, or keep back less.");
}

}  // namespace

void check_top(const Design& design, const Fail& fail) {
    const double width_mm = design.mould.width_mm;
    const std::string across = "0 to " + plain_number(width_mm) + " (the mould's width)";
    for (std::size_t i = 0; i < design.top.spooned.size(); ++i) {
        const Spooned& spooned = design.top.spooned[i];
        if (!find_portion(design, spooned.portion))
            fail(at_spooned(i, "portion"), "there is no portion " + foreslice::quoted(spooned.portion),
                 "a portion's id");
        if (spooned.at_mm.value_or(0) > width_mm)
            fail(at_spooned(i, "at_mm"), in_mm(*spooned.at_mm) + " lies beyond the mould's wall", across);
    }
    const double level_mm = box_of(design).height_mm;
    if (level_mm < limits::fill_mm.least)
        fail("/top/spooned",
             "so much is kept back that only " + in_mm(std::max(0.0, level_mm)) + " are poured",
             "so little that at least " + in_mm(limits::fill_mm.least) + " are poured");
    const double most_mm = limits::most_top_per_fill * level_mm;
    for (std::size_t i = 0; i < design.top.strokes.size(); ++i) {
        const TopStroke& stroke = design.top.strokes[i];
        const std::string path = path_to("/top/strokes", i);
        if (stroke.height_mm > most_mm)
            fail(path + "/height_mm", "ridges of " + in_mm(stroke.height_mm) + " are too high for this fill",
                 "up to " + in_mm(std::floor(most_mm * 10) / 10) + " (two fifths of what is poured)");
        if (stroke.crest_mm.value_or(0) > width_mm)
            fail(path + "/crest_mm", in_mm(*stroke.crest_mm) + " lies beyond the mould's wall", across);
    }
}

void watch_top(const Design& design, const Warn& warn) {
    const auto areas_mm2 = spooned_areas_mm2(design);
    for (std::size_t i = 0; i < areas_mm2.size(); ++i) watch_heap(design, i, areas_mm2[i], warn);
    const double holds_mm = stands_mm(design);
    for (std::size_t i = 0; i < design.top.strokes.size(); ++i)
        if (design.top.strokes[i].height_mm > holds_mm)
            warn(path_to("/top/strokes", i) + "/height_mm",
                 "Ridges of " + in_mm(design.top.strokes[i].height_mm) +
                     " do not stand in batter this soft; they sink to " + in_mm(holds_mm) + ".",
                 "Wait until the batter stands (about 1.8 Pa of yield stress for every mm), or make them "
                 "lower.");
}

}  // namespace foreslice::design
