// The second half of the starter library: what is less usual, and how everything keeps.
#include <algorithm>
#include <map>

#include "colour/recipe_parts.h"

namespace foreslice::testing {

using namespace colour;

namespace {

// Level-teaspoon masses and upper doses: common practice, no source.
constexpr Family white_powder{"white", 4, 18}, clay{"clay", 1.7, 30}, coloured_clay{"clay", 2.5, 30},
    mica{"mica", 2.5, 20}, organic{"other", 2.5, 4}, lake{"lake", 2.5, 8}, dye{"dye", 3, 2},
    plant{"botanical", 2.5, 25}, brown{"botanical", 2.3, 40}, compound{"other", 3, 6};

const std::string fading_note =
    " How it keeps is an estimate from makers' accounts (common practice, no source).";
const std::string infusion_note = " Dose: grams of dried plant drawn into each kg of oils, strained.";

void add_minerals(std::vector<Colourant>& all, const Optics& base, const Parents& parents) {
    const auto rutile =
        std::find_if(all.begin(), all.end(), [](const Colourant& c) { return c.id == "titanium-dioxide"; });
    Optics anatase = rutile->unit;
    for (std::size_t i = 0; i < band_count; ++i) {
        anatase.scattering_per_mm[i] *= 0.85;
        // Its band edge lies near 385 nm against 410 nm for rutile, so the grid sees its tail only.
        anatase.absorption_per_mm[i] = i < 2 ? rutile->unit.absorption_per_mm[i + 2] : 0;
    }
    all.push_back(make(
        "titanium-dioxide-anatase", "titanium dioxide, anatase", white_powder, anatase, false,
        "Computed from rutile: scattering by mass 0.85 of it (refractive index 2.55 against 2.71 in "
        "oil of 1.47, Rayleigh ordering; density 3.9 against 4.2), band edge 25 nm further in the violet."));
    all.push_back(make("green-clay", "green clay", coloured_clay, from_aim(base, "#b5bb9c", 20, 0.004), false,
                       aim_source));
    all.push_back(make("bentonite", "bentonite", coloured_clay, from_aim(base, "#dcd3bf", 20, 0.003), false,
                       aim_source));
    all.push_back(make("yellow-clay", "yellow clay", clay,
                       blend({{parents.kaolin, 0.93}, {parents.oxides.yellow, 0.07}}), false,
                       "Computed as kaolin with 7 % yellow iron oxide."));
}

void add_more_micas(std::vector<Colourant>& all, const Optics& base, const Parents& parents) {
    const auto of = [&](const char* id) {
        return std::find_if(all.begin(), all.end(), [&](const Colourant& c) { return c.id == id; })->unit;
    };
    const Optics pearl = of("mica-pearl"), pink = of("ultramarine-pink");
    const std::string inside =
        " Inside an opaque bar a mica shows its body colour only; the lustre is for the top.";
    all.push_back(make("mica-green", "green mica", mica,
                       blend({{pearl, 0.80}, {parents.chromium_green, 0.20}}), false,
                       "Estimate: pearl mica coated with chromium oxide." + inside));
    all.push_back(make("mica-rose", "rose mica", mica, blend({{pearl, 0.60}, {pink, 0.40}}), false,
                       "Estimate: pearl mica tinted with ultramarine pink." + inside));
    all.push_back(
        make("mica-carmine", "carmine mica", mica,
             blend({{pearl, 0.85}, {from_aim(base, "#d58aa0", 3, 0.002), 0.15}}), false,
             "Estimate: pearl mica coloured with carmine, which alkali shifts." + fading_note + inside));
}

void add_organics(std::vector<Colourant>& all, const std::filesystem::path& data, const Optics& base) {
    const auto paint = [&](const char* name, double peak) {
        return scaled_to_peak(artist_paint(data, name), peak);
    };
    all.push_back(make("quinacridone-magenta", "quinacridone magenta (PR122)", organic,
                       paint("PR122 quinacridone magenta", 0.8), true, artist_paint_source));
    all.push_back(make("phthalocyanine-blue", "phthalocyanine blue (PB15:4)", organic,
                       paint("PB15:4 green shade phthalocyanine blue GS", 0.9), true, artist_paint_source));
    all.push_back(make("phthalocyanine-green", "phthalocyanine green (PG7)", organic,
                       paint("PG7 phthalocyanine green BS", 0.9), true, artist_paint_source));
    const auto from = [&](const char* id, const char* name, const Family& family, const char* hex,
                          double dose) {
        all.push_back(
            make(id, name, family, from_aim(base, hex, dose, 0.001), false, aim_source + fading_note));
    };
    from("lake-red", "red lake", lake, "#d9707c", 4);
    from("lake-yellow", "yellow lake", lake, "#f0d060", 4);
    from("lake-blue", "blue lake", lake, "#6f9fd0", 4);
    from("dye-red", "red dye, water-soluble", dye, "#e5949c", 0.5);
    from("dye-yellow", "yellow dye, water-soluble", dye, "#f3dc7a", 0.5);
    from("dye-blue", "blue dye, water-soluble", dye, "#8fb4d6", 0.5);
    from("carmine", "carmine", compound, "#d58aa0", 3);
    from("ferric-ferrocyanide", "ferric ferrocyanide (Prussian blue)", compound, "#5a6f96", 3);
}

void add_plants(std::vector<Colourant>& all, const Optics& base) {
    const auto from = [&](const char* id, const char* name, const char* hex, double dose,
                          const std::string& more = "") {
        all.push_back(
            make(id, name, plant, from_aim(base, hex, dose, 0.0005), false, aim_source + fading_note + more));
    };
    from("turmeric", "turmeric", "#e0b04a", 8);
    from("paprika", "paprika", "#dca06a", 10);
    from("annatto", "annatto seed, infused in oil", "#eec067", 10, infusion_note);
    from("calendula", "calendula petals, infused in oil", "#ecd48a", 20, infusion_note);
    from("alkanet", "alkanet root, infused in oil", "#9c8fa3", 10, infusion_note);
    from("madder", "madder root", "#d49a98", 15);
    from("indigo", "indigo", "#8497ab", 3);
    from("spirulina", "spirulina", "#a9b98a", 8);
    from("nettle", "nettle leaf", "#b3b98e", 10);
    from("beetroot", "beetroot", "#c08a8c", 10);
    const auto dark = [&](const char* id, const char* name, const char* hex, double dose) {
        all.push_back(make(id, name, brown, from_aim(base, hex, dose, 0.001), false, aim_source));
    };
    dark("cocoa", "cocoa powder", "#8a6a52", 15);
    dark("coffee", "coffee, finely ground", "#8d7358", 15);
}

struct Keeping {
    double fade_half_life_days, lost_in_alkali_share, turns_brown_share;
    bool bleeds, not_soap_safe;
};

// From makers' and suppliers' accounts (dyes in lye, plants in cure); the figures are estimates, common
// practice, no source.
const std::map<std::string, Keeping> keeping{{"dye-red", {150, 0.30, 0, true, false}},
                                             {"dye-yellow", {150, 0.15, 0, true, false}},
                                             {"dye-blue", {120, 0.60, 0, true, false}},
                                             {"lake-red", {300, 0.15, 0, true, false}},
                                             {"lake-yellow", {300, 0.10, 0, true, false}},
                                             {"lake-blue", {250, 0.40, 0, true, false}},
                                             {"carmine", {400, 0.35, 0, true, false}},
                                             {"mica-carmine", {400, 0.35, 0, false, false}},
                                             {"ferric-ferrocyanide", {0, 0.90, 0.4, false, true}},
                                             {"turmeric", {90, 0.10, 0.1, false, false}},
                                             {"paprika", {90, 0.05, 0.1, false, false}},
                                             {"annatto", {150, 0.05, 0, false, false}},
                                             {"calendula", {180, 0.05, 0, false, false}},
                                             {"alkanet", {200, 0.20, 0.1, false, false}},
                                             {"madder", {400, 0.05, 0, false, false}},
                                             {"indigo", {1500, 0.05, 0, false, false}},
                                             {"spirulina", {50, 0.15, 0.4, false, false}},
                                             {"nettle", {45, 0.15, 0.5, false, false}},
                                             {"beetroot", {60, 0.90, 0.4, true, false}}};

// g/cm3 of the solid, handbook values (from memory).
const std::map<std::string, double> densities{{"titanium-dioxide", 4.2},
                                              {"titanium-dioxide-anatase", 3.9},
                                              {"zinc-oxide", 5.6},
                                              {"iron-oxide-red", 5.1},
                                              {"iron-oxide-yellow", 4.1},
                                              {"iron-oxide-black", 4.8},
                                              {"iron-oxide-brown", 4.7},
                                              {"chromium-oxide-green", 5.2},
                                              {"ultramarine-blue", 2.35},
                                              {"ultramarine-violet", 2.35},
                                              {"ultramarine-pink", 2.35},
                                              {"activated-charcoal", 2.0},
                                              {"kaolin", 2.6},
                                              {"rose-clay", 2.6},
                                              {"green-clay", 2.6},
                                              {"yellow-clay", 2.6},
                                              {"bentonite", 2.4}};

}  // namespace

void add_more(std::vector<Colourant>& all, const std::filesystem::path& data, const Optics& base,
              const Parents& parents) {
    add_minerals(all, base, parents);
    add_more_micas(all, base, parents);
    add_organics(all, data, base);
    add_plants(all, base);
}

void describe(std::vector<Colourant>& all) {
    for (Colourant& c : all) {
        if (const auto found = densities.find(c.id); found != densities.end())
            c.particle_density_g_per_cm3 = found->second;
        else if (c.kind == "mica")
            c.particle_density_g_per_cm3 = 3.0;
        else if (c.kind != "clay")
            c.particle_density_g_per_cm3 = 1.5;  // organic powders
        if (c.kind == "white")
            c.particle_diameter_um = 0.25;  // pigment grades: 0.2 to 0.3 um (trade literature)
        if (c.kind == "mica") c.sparkle = c.id == "mica-pearl" ? 0.8 : 0.6;
        if (const auto found = keeping.find(c.id); found != keeping.end()) {
            const Keeping& k = found->second;
            c.fade_half_life_days = k.fade_half_life_days;
            c.lost_in_alkali_share = k.lost_in_alkali_share;
            c.turns_brown_share = k.turns_brown_share;
            c.bleeds = k.bleeds;
            c.not_soap_safe = k.not_soap_safe;
        }
    }
}

}  // namespace foreslice::testing
