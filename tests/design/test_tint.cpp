// From doses, base and age to a portion's colour; warnings that go by them.
#include <doctest/doctest.h>

#include "design/design_file.h"
#include "design/samples.h"
#include "design/tint.h"
#include "design/validation.h"

using namespace foreslice;
using namespace foreslice::design;

namespace {

bool says(const Design& design, const std::string& part) {
    for (const Warning& warning : warnings(design, samples::library())) {
        CHECK(warning.sentence.back() == '.');
        CHECK(warning.cure.back() == '.');
        if (warning.sentence.find(part) != std::string::npos) return true;
    }
    return false;
}

ColourantDose dose(const char* id, double grams) {
    return {id, grams};
}

}  // namespace

TEST_CASE("tint: a stated dose counts as its grams") {
    Design design = samples::plain();
    const auto grams = design.portions[0].doses[0].g_per_kg_oils;
    const auto before = colour_of(design.portions[0], design, samples::library());
    design.portions[0].doses[0].g_per_kg_oils = 0;
    design.portions[0].doses[0].stated =
        StatedDose{colour::DoseUnit::g_per_kg_batter, grams / batter_kg_per_kg_oils(design)};
    const auto after = colour_of(design.portions[0], design, samples::library());
    CHECK(before.lab.l == doctest::Approx(after.lab.l));
    CHECK(before.lab.b == doctest::Approx(after.lab.b));
    CHECK(doses_of(design.portions[0], design, samples::library())[0].g_per_kg_oils ==
          doctest::Approx(grams));
    CHECK(parse(to_json(design), "again") == design);
}

TEST_CASE("tint: lustre is for tops with mica") {
    Design design = samples::plain();
    CHECK(top_sparkle_of(design.portions[0], design, samples::library()) == 0);
    design.portions[0].doses = {dose("mica-pearl", 3)};
    const double some = top_sparkle_of(design.portions[0], design, samples::library());
    design.portions[0].doses = {dose("mica-pearl", 12)};
    CHECK(some > 0.2);
    CHECK(top_sparkle_of(design.portions[0], design, samples::library()) > some);
    CHECK(top_sparkle_of(design.portions[0], design, samples::library()) < 1);
}

TEST_CASE("warnings: powders, dispersions, rivers") {
    Design design = samples::plain();
    CHECK_FALSE(says(design, "thicken the batter"));
    design.portions[0].doses = {dose("kaolin", 25), dose("rose-clay", 18)};
    CHECK(says(design, "Together 43 g of powder"));

    design = samples::plain();
    design.portions[1].white.dispersion = colour::Dispersion{colour::Carrier::none};
    CHECK(says(design, "leave specks"));
    design.portions[1].white.dispersion = colour::Dispersion{colour::Carrier::oil};
    CHECK_FALSE(says(design, "leave specks"));
    CHECK(says(design, "raises its superfat from 5 to 6.7 %"));  // 18 g of oil: (50 + 18) / 1018
    design.portions[1].white.dispersion = colour::Dispersion{colour::Carrier::water, 4, 20};
    CHECK(says(design, "thins its lye from 33 to 31.2 %") == false);  // 24 g of water: within two points
    design.portions[1].white.dispersion = colour::Dispersion{colour::Carrier::water, 8, 20};
    CHECK(says(design, "thins its lye"));

    design = samples::plain();
    design.base.lye_percent = 30;
    CHECK_FALSE(says(design, "rivers"));
    design.base.gelled = true;
    CHECK(says(design, "lye of 30 % and gel"));
    design.base.lye_percent = 38;
    CHECK_FALSE(says(design, "rivers"));
}

TEST_CASE("warnings: what bleeds, fades, browns or is not for soap; rules differ by country") {
    Design design = samples::plain();
    design.portions[0].doses = {dose("dye-blue", 0.5)};
    CHECK(says(design, "bleeds"));
    CHECK(says(design, "Lye changes blue dye"));
    CHECK(says(design, "Rules on colour additives differ by country, and not every one allows blue dye"));
    design.portions[0].doses = {dose("turmeric", 6)};
    CHECK(says(design, "fades: about half of it is gone after 90 days"));
    design.portions[0].doses = {dose("ferric-ferrocyanide", 2)};
    CHECK(says(design, "not for soap"));
    design = samples::plain();
    design.base.fragrance_g_per_kg_oils = 30;
    design.base.vanillin_percent = 6;
    CHECK(says(design, "1.8 g of vanillin per kg of oils"));
    CHECK_FALSE(says(samples::plain(), "Rules on colour"));
}

TEST_CASE("warnings: a colour outside sRGB is told") {
    Design design = samples::plain();
    CHECK(colour_of(design.portions[0], design, samples::library()).in_gamut);
    CHECK_FALSE(says(design, "outside sRGB"));
    design.portions[0].doses = {dose("phthalocyanine-blue", 4)};
    CHECK_FALSE(colour_of(design.portions[0], design, samples::library()).in_gamut);
    CHECK(says(design, "outside sRGB"));
}
