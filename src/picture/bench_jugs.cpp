// The jugs of a bench sheet: what each gets, and how much a tenth of a gram matters there.
#include <algorithm>
#include <cmath>

#include "batter/split.h"
#include "design/tint.h"
#include "picture/bench_words.h"
#include "picture/caption.h"

namespace foreslice::picture {
namespace {

constexpr double tenth_g = 0.1;
constexpr double coarse_share = 0.1;  // a scale's step that is more than a tenth of the weight

unsigned rgb_of(const colour::EncodedSrgb& code) {
    return (unsigned{code.r} << 16U) | (unsigned{code.g} << 8U) | unsigned{code.b};
}

/// Colours of one portion with its doses changed a little.
class Shift {
  public:
    Shift(const design::Design& design, const design::Portion& portion,
          const colour::ColourantLibrary& library)
        : design_(design), library_(library), doses_(design::doses_of(portion, design, library)) {
        lab_ = colour_of(doses_).lab;
    }

    /// dE00 when the dose of this colourant grows by so many g per kg of oils.
    double of_more(const std::string& colourant, double g_per_kg) const {
        auto doses = doses_;
        for (colour::Dose& dose : doses)
            if (dose.colourant->id == colourant) dose.g_per_kg_oils += g_per_kg;
        return colour::ciede2000(lab_, colour_of(doses).lab);
    }
    /// dE00 when all doses are multiplied.
    double of_all(double factor) const {
        auto doses = doses_;
        for (colour::Dose& dose : doses) dose.g_per_kg_oils *= factor;
        return colour::ciede2000(lab_, colour_of(doses).lab);
    }
    double powder_g_per_kg() const {
        double sum = 0;
        for (const colour::Dose& dose : doses_) sum += dose.g_per_kg_oils;
        return sum;
    }

  private:
    colour::PortionColour colour_of(const std::vector<colour::Dose>& doses) const {
        return colour::colour_of(colour::aged_mix(library_.base(), design::bar_state_of(design_), doses), {},
                                 design_.cut.bar_thickness_mm);
    }
    const design::Design& design_;
    const colour::ColourantLibrary& library_;
    std::vector<colour::Dose> doses_;
    colour::Lab lab_;
};

const batter::Masterbatch* paste_for(const batter::PowderWeight& weight,
                                     const std::vector<batter::Masterbatch>& pastes) {
    for (const batter::Masterbatch& paste : pastes)
        if (paste.id == weight.id && paste.liquid == weight.liquid) return &paste;
    return nullptr;
}

BenchPowder powder_of(const batter::PowderWeight& weight, const batter::Jug& jug, const Shift& shift,
                      const batter::Scale& scale, const std::vector<batter::Masterbatch>& pastes) {
    BenchPowder powder;
    const batter::Masterbatch* paste = paste_for(weight, pastes);
    const double strength =
        paste == nullptr ? 1 : 1 + paste->parts_of_liquid;  // g to weigh for 1 g of powder
    const double g = weight.g * strength;
    powder.row = row_of(weight.id, weight.name, "", batter::weighed(g, scale));
    if (powder.row.weight->steps == 0 || scale.step_g() > coarse_share * g)
        powder.row.note = "less than this scale can weigh well: take a finer scale, or a paste";
    powder.spoon = batter::spoon_words(weight.teaspoons);
    powder.liquid = std::string(name_of(weight.liquid));
    powder.liquid_g = weight.liquid_g;
    if (paste != nullptr) {
        powder.paste = "1 : " + shown(paste->parts_of_liquid, 1);
        powder.liquid_g = std::max(0.0, weight.liquid_g - weight.g * paste->parts_of_liquid);
    }
    powder.de00_per_tenth_g = shift.of_more(weight.id, 1000 * tenth_g / strength / jug.oils_g);
    return powder;
}

/// Batter that is kept back for the top comes out of the jug of the last pour.
std::string last_portion(const design::Design& design) {
    return design.pours.empty() ? "" : design.pours.back().portion;
}

}  // namespace

std::string words_under(const BenchPowder& powder) {
    std::string words;
    if (!powder.paste.empty()) {
        words = "of the paste " + powder.paste;
        if (powder.liquid_g > 0.05) words += ", and " + shown(powder.liquid_g, 1) + " g " + powder.liquid;
    } else {
        words = powder.spoon == "a pinch" ? powder.spoon : "about " + powder.spoon + " tsp";
        words +=
            powder.liquid == "dry" ? ", dry" : " in " + shown(powder.liquid_g, 1) + " g " + powder.liquid;
    }
    return powder.row.note.empty() ? words : words + " · too little to weigh well";
}

std::vector<BenchJug> bench_jugs(const BenchInput& input, const BenchOptions& options, const Scales& scales,
                                 double pot_g, batter::UnitSystem units) {
    std::vector<double> parts;
    const auto& jugs = input.plan.split.jugs;
    parts.reserve(jugs.size());
    for (const batter::Jug& jug : jugs) parts.push_back(jug.plain_g);
    const auto weights = weighed_parts(parts, batter::weighed(pot_g, scales.coarse));
    std::vector<BenchJug> out;
    for (std::size_t i = 0; i < jugs.size(); ++i) {
        const batter::Jug& jug = jugs[i];
        const design::Portion* portion = design::find_portion(input.design, jug.id);
        const Shift shift(input.design, *portion, input.colour_library);
        BenchJug entry;
        entry.plain = row_of(jug.id, jug.name, "", weights[i]);
        entry.plain.ml = jug.full_ml;
        entry.rgb = rgb_of(design::colour_of(*portion, input.design, input.colour_library).srgb);
        entry.percent = jug.percent;
        entry.jug_ml = jug.jug_ml;
        entry.volume = volume_words(jug.full_ml, units);
        entry.jug_size = volume_words(jug.jug_ml, units);
        entry.fragrance_g = jug.fragrance_g;
        entry.superfat_percent = jug.superfat_percent;
        entry.lye_percent = jug.lye_percent;
        entry.powder_g_per_kg_oils = shift.powder_g_per_kg();
        entry.de00_per_tenth_g = shift.of_all(jug.batter_g / (jug.batter_g + tenth_g));
        for (const batter::PowderWeight& weight : jug.powders)
            entry.powders.push_back(powder_of(weight, jug, shift, scales.powder, options.pastes));
        if (jug.id == last_portion(input.design) && input.plan.top_g > 0) {
            entry.top_g = std::min(input.plan.top_g, jug.batter_g);
            entry.top = mass_words(entry.top_g, units);
        }
        out.push_back(std::move(entry));
    }
    return out;
}

std::vector<BenchPour> bench_pours(const BenchInput& input, const BenchSheet& sheet) {
    const design::Design& design = input.design;
    const auto areas_mm2 = design::pour_areas_mm2(design);
    std::vector<BenchPour> out;
    for (std::size_t i = 0; i < design.pours.size(); ++i) {
        const design::Pour& pour = design.pours[i];
        const design::Portion* portion = design::find_portion(design, pour.portion);
        BenchPour entry;
        entry.name = portion->name;
        for (const BenchJug& jug : sheet.jugs)
            if (jug.plain.id == pour.portion) entry.rgb = jug.rgb;
        // The face is one plane of the loaf; all moulds together take this much.
        const double ml = areas_mm2[i] * design.mould.length_mm * design.bench.moulds / 1000;
        entry.amount = mass_words(ml * design.batter.density_kg_per_m3 / 1000, sheet.units);
        const auto manner = static_cast<std::size_t>(pour.manner);
        if (pour.manner != design::PourManner::laid) entry.manner = design::manner_names()[manner];
        std::replace(entry.manner.begin(), entry.manner.end(), '-', ' ');
        entry.with_previous = pour.with_previous;
        entry.from_mm = design::level_after_mm(design, i);
        entry.to_mm = design::level_after_mm(design, i + 1);
        out.push_back(std::move(entry));
    }
    return out;
}

std::vector<BenchWire> bench_wires(const design::Design& design) {
    std::vector<BenchWire> out;
    for (const design::StrokeGroup& group : design::stroke_groups(design)) {
        if (group.strokes.empty()) continue;
        BenchWire wire;
        wire.level_mm = design::level_after_mm(design, group.pours);
        wire.title = group.pours < design.pours.size() ? "after pour " + std::to_string(group.pours)
                                                       : "when all is poured";
        for (const flow::Stroke& stroke : group.strokes) {
            wire.paths_mm.push_back(stroke.path_mm);
            wire.diameter_mm = std::max(wire.diameter_mm, stroke.wire_diameter_mm);
        }
        out.push_back(std::move(wire));
    }
    return out;
}

}  // namespace foreslice::picture
