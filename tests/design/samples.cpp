#include "design/samples.h"

#include <doctest/doctest.h>

#include <cmath>

#include "foundation/random.h"

using namespace foreslice;
using namespace foreslice::design;

namespace samples {
namespace {

class Dice {
  public:
    explicit Dice(std::uint64_t seed) : seed_(seed) {}
    double between(double least, double most) {
        return least + (most - least) * (0.5 + 0.5 * seeded_uniform(seed_, next_++));
    }
    int whole(int least, int most) {
        return least +
               static_cast<int>(mixed_bits(seed_ * 31 + next_++) % static_cast<unsigned>(most - least + 1));
    }
    bool heads() { return whole(0, 1) == 1; }

  private:
    std::uint64_t seed_;
    std::uint64_t next_ = 0;
};

const char* const names[] = {
    "", "slate", "Möwe über Pier 7", "a \"quoted\" \\ name", "line\nbreak\ttab", "夕暮れ 🌒"};
const char* const colourants[] = {"ultramarine-blue", "kaolin", "mica-gold", "iron-oxide-red", "rose-clay"};

Portion random_portion(Dice& dice, int index) {
    Portion portion;
    portion.id = "p_" + std::to_string(index) + (dice.heads() ? "-Z" : "");
    portion.name = names[dice.whole(0, 5)];
    const int doses = dice.whole(0, 5);
    for (int k = 0; k < doses; ++k) portion.doses.push_back({colourants[k], dice.between(0, 200)});
    if (doses > 2) {
        portion.doses[1] = {colourants[1], 0,
                            StatedDose{colour::DoseUnit::g_per_kg_batter, dice.between(0, 140)}};
        portion.doses[2].dispersion = {colour::Carrier::glycerin, dice.between(0.2, 50), 20};
    }
    portion.white = {dice.heads() ? "titanium-dioxide" : "zinc-oxide",
                     dice.heads() ? 0 : dice.between(0, 200)};
    if (dice.heads()) portion.trace = batter::all_traces[static_cast<std::size_t>(dice.whole(0, 5))];
    if (dice.heads()) portion.times_as_thick = dice.between(0.05, 20);
    return portion;
}

void add_random_bench(Dice& dice, Design& design) {
    Formula& recipe = design.recipe;
    recipe.basis = dice.heads() ? batter::OilBasis::grams : batter::OilBasis::percent;
    recipe.oils = {{"olive", dice.between(10, 90), dice.between(180, 200)},
                   {"coconut", dice.between(10, 90)}};
    recipe.alkali = {dice.between(0, 100), dice.between(80, 100), dice.between(70, 100)};
    if (!design.base.lye_percent)
        recipe.water = dice.heads() ? batter::Water{batter::Water::By::parts_per_alkali, dice.between(1, 4)}
                                    : batter::Water{batter::Water::By::percent_of_oils, dice.between(5, 60)};
    recipe.liquids = {{names[dice.whole(0, 5)], dice.between(0, 100), batter::Into::batter}, {"aloe", 5}};
    for (const auto unit : batter::all_additive_units)
        recipe.additives.push_back({dice.heads() ? "salt" : "other", names[dice.whole(0, 5)],
                                    dice.between(0, 30), unit, batter::Into::oils});
    recipe.fragrance_limit_percent = dice.between(0.01, 100);
    design.bench = {dice.heads() ? batter::UnitSystem::us : batter::UnitSystem::metric,
                    dice.whole(1, 50),
                    dice.between(0, 5),
                    dice.between(0, 50),
                    dice.between(0, 200),
                    dice.between(0, 50),
                    "shelf/stock.csv"};
}

Stroke random_stroke(Dice& dice, const Mould& mould) {
    Stroke stroke;
    stroke.wire_diameter_mm = dice.between(1, 4);
    stroke.speed_mm_per_s = dice.between(1, 500);
    const double radius = stroke.wire_diameter_mm / 2;
    if (dice.heads()) {
        Passes passes;
        passes.count = dice.whole(1, 9);
        passes.margin_mm = dice.between(1.3 * radius, 5);
        if (dice.heads()) passes.spacing_mm = dice.between(0.5, 1.2);
        passes.floor_clearance_mm = dice.between(0.5, 0.6);
        passes.top_clearance_mm = dice.between(0, 0.4);
        passes.start = dice.heads() ? Side::left : Side::right;
        stroke.path = passes;
    } else {
        Waypoints waypoints;
        const int points = dice.whole(2, 12);
        for (int i = 0; i < points; ++i)
            waypoints.points_mm.push_back({dice.between(1.3 * radius, mould.width_mm - 1.3 * radius),
                                           dice.between(1.3 * radius, mould.height_mm)});
        stroke.path = waypoints;
    }
    return stroke;
}

void make_random_manner(Dice& dice, Pour& pour) {
    pour.manner = static_cast<PourManner>(dice.whole(0, 4));  // side by side needs a row of them
    if (dice.heads()) pour.fall = {dice.between(5, 1000), dice.between(1, 500), {}};
    if (dice.heads()) pour.fall.at_mm = {dice.between(0, 20), dice.between(0, 20)};
    if (dice.heads()) pour.wall = {Side::right, dice.between(2, 500)};
    if (dice.heads()) pour.tilt_deg = dice.between(-60, 60);
    if (dice.heads()) pour.hills = {dice.between(0, 60), dice.between(5, 1000), dice.between(0, 500), {}};
    if (dice.heads()) pour.hills.heights_mm = {dice.between(-100, 100), dice.between(-100, 100)};
    if (dice.heads()) pour.beside = {dice.between(2, 500), dice.between(0, 5)};
    if (dice.heads()) pour.firmed_yield_stress_pa = dice.between(0, 10000);
    if (dice.heads()) pour.tapped_percent = dice.between(0, 100);
    if (dice.heads()) pour.folds = dice.whole(1, 7);
}

void add_random_pours(Dice& dice, Design& design) {
    for (const Portion& portion : design.portions) {
        const bool split = dice.heads();
        if (split)
            design.pours.push_back({portion.id, dice.between(1, 90), PourManner::laid, dice.between(0, 20)});
        design.pours.push_back({portion.id, {}, PourManner::laid, dice.between(0, 20)});
        make_random_manner(dice, design.pours.back());
    }
    if (design.mould.fill_mm > 20) design.pours.back().sifted_over = {"kaolin", dice.between(0.05, 1)};
}

void add_random_extras(Dice& dice, Design& design) {
    const Portion& portion = design.portions.back();
    if (design.mould.fill_mm > 60)
        design.top.spooned.push_back({portion.id, dice.between(0.01, 5), {}, 20, 30});
    if (dice.heads())
        design.top.strokes.push_back({dice.heads() ? TopTool::fork : TopTool::spatula,
                                      static_cast<TopMotion>(dice.whole(0, 3)), dice.between(0.2, 2),
                                      dice.between(2, 200), dice.between(-1, 1), dice.between(0, 20)});
    if (dice.heads())
        design.top.glitter.push_back({"mica-gold", dice.between(0.1, 60), dice.between(0.1, 3)});
    if (dice.heads()) design.top.firmed_yield_stress_pa = dice.between(0, 10000);
    Scattered bits{names[dice.whole(0, 5)], portion.id};
    bits.shape = dice.heads() ? BitShape::fleck : BitShape::seed;
    bits.on_top = dice.heads();
    if (dice.heads()) bits.percent = dice.between(0.01, 30);
    bits.colour = dice.heads() ? portion.id : "#A0b1c2";
    if (dice.heads()) design.inclusions.scattered.push_back(bits);
    Embed embed{names[dice.whole(0, 5)], static_cast<EmbedShape>(dice.whole(0, 2))};
    embed.laid = dice.heads() ? EmbedLaid::before_drawing : EmbedLaid::after_drawing;
    embed.at_mm = {dice.between(0, 20), dice.between(0, 10)};
    embed.width_mm = embed.height_mm = dice.between(0.5, 2);
    embed.angle_deg = dice.between(-180, 180);
    embed.points_mm = {{0, 0}, {dice.between(-1, 1), dice.between(-1, 1)}};
    if (dice.heads()) design.inclusions.embeds.push_back(embed);
}

}  // namespace

Design plain() {
    Design design;
    design.name = "plain";
    design.portions = {{"ink", "basin ink", 60, {{"ultramarine-blue", 6}}, {"titanium-dioxide", 0}},
                       {"salt", "salt white", 40, {}, {"titanium-dioxide", 6}}};
    design.pours = {{"ink", 50.0, PourManner::laid, 0.8},
                    {"salt", {}, PourManner::laid, 0.8},
                    {"ink", {}, PourManner::laid, 0.8}};
    design.strokes = {Stroke{}};
    return design;
}

Design random(std::uint64_t seed) {
    Dice dice(seed + 1000);
    Design design;
    design.name = names[dice.whole(0, 5)];
    design.notes = names[dice.whole(0, 5)];
    design.mould.width_mm = dice.between(20, 500);
    design.mould.height_mm = dice.between(10, 500);
    design.mould.length_mm = dice.between(30, 3000);
    design.mould.fill_mm = dice.between(6, design.mould.height_mm);
    if (dice.heads()) {
        design.batter.trace = batter::all_traces[static_cast<std::size_t>(dice.whole(0, 5))];
    } else {
        design.batter.trace = std::nullopt;
        design.batter.explicit_rheology = {dice.between(0.001, 100), dice.between(0.1, 1.5),
                                           dice.between(0, 100)};
    }
    design.batter.density_kg_per_m3 = dice.between(500, 1500);
    const int portions = dice.whole(1, 12);
    for (int i = 0; i < portions; ++i) {
        design.portions.push_back(random_portion(dice, i));
        design.portions.back().share_percent = 100.0 / portions;
    }
    add_random_pours(dice, design);
    Dice extras(seed + 77000);
    add_random_extras(extras, design);
    const int strokes = dice.whole(0, 4);
    for (int i = 0; i < strokes; ++i) {
        design.strokes.push_back(random_stroke(dice, design.mould));
        if (dice.heads()) design.strokes.back().after_pours = static_cast<int>(design.pours.size());
    }
    design.hand = {dice.between(0, 10), dice.between(0, 20)};
    design.cut = {dice.between(5, 200), dice.between(0, 1500)};
    if (dice.heads()) {
        const double olive = dice.between(10, 90);
        design.base.oils = {{"olive", olive}, {"coconut", 100 - olive}};
        design.base.superfat_percent = dice.between(0, 30);
        design.base.lye_percent = dice.between(20, 50);
        design.base.gelled = dice.heads();
        design.base.fragrance_g_per_kg_oils = dice.between(0, 100);
        design.base.vanillin_percent = dice.between(0, 100);
        design.age_days = dice.between(0, 3650);
    }
    design.seed = mixed_bits(seed) >> 11U;
    if (dice.heads()) add_random_bench(dice, design);
    return design;
}

const colour::ColourantLibrary& library() {
    static const auto loaded = colour::ColourantLibrary::load(std::filesystem::path(FORESLICE_SOURCE) /
                                                              "palettes" / "colourants.json");
    return loaded;
}

const batter::OilsTable& oils() {
    static const auto loaded =
        batter::OilsTable::load(std::filesystem::path(FORESLICE_SOURCE) / "palettes" / "oils.csv");
    return loaded;
}

std::filesystem::path data(const std::string& name) {
    return std::filesystem::path(FORESLICE_TEST_DATA) / "design" / name;
}

std::vector<Warning> warnings_after(const std::function<void(Design&)>& change) {
    Design design = plain();
    change(design);
    REQUIRE_NOTHROW(validate(design));
    return warnings(design, library());
}

bool warned(const std::vector<Warning>& all, const std::string& place, const std::string& part) {
    bool found = false;
    for (const Warning& warning : all) {
        CHECK(warning.sentence.back() == '.');
        CHECK(warning.cure.back() == '.');
        CHECK(warning.place.front() == '/');
        found |= warning.place == place && warning.sentence.find(part) != std::string::npos;
    }
    return found;
}

}  // namespace samples
