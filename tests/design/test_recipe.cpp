// A design as the batch arithmetic sees it, and the checks of its recipe.
#include <doctest/doctest.h>

#include "design/design_file.h"
#include "design/identity.h"
#include "design/recipe.h"
#include "design/samples.h"
#include "design/tint.h"
#include "foundation/error.h"

using namespace foreslice;
using namespace foreslice::design;

namespace {

Design with_recipe() {
    Design design = samples::plain();
    design.recipe.oils = {{"olive", 70}, {"coconut", 30}};
    return design;
}

BatchPlan planned(const Design& design) {
    return plan_batch(design, samples::oils(), samples::library());
}

bool warned(const Design& design, const std::string& part) {
    for (const Warning& warning : planned(design).warnings)
        if (warning.sentence.find(part) != std::string::npos) return true;
    return false;
}

std::string place_of_fault(const Design& design) {
    try {
        planned(design);
    } catch (const InputError& error) {
        return error.place();
    }
    return "";
}

}  // namespace

TEST_CASE("recipe: the batter fills the moulds, with the top and the losses") {
    Design design = with_recipe();
    const auto volume = [&] {
        return design.mould.length_mm * design.mould.width_mm * design.mould.fill_mm / 1000;
    };
    design.bench.jug_residue_g = 0;
    CHECK(planned(design).batch.batter_g ==
          doctest::Approx(volume() * design.batter.density_kg_per_m3 / 1000));
    const double one = planned(design).batch.batter_g;
    design.bench.moulds = 3;
    CHECK(planned(design).batch.batter_g == doctest::Approx(3 * one));
    design.bench.moulds = 1;
    design.bench.jug_residue_g = 7;
    CHECK(planned(design).batch.batter_g == doctest::Approx(one + 7.0 * losses_of(design).jugs));
    design.bench.jug_residue_g = 0;
    design.bench.top_allowance_mm = design.mould.fill_mm / 2;
    CHECK(planned(design).batch.batter_g == doctest::Approx(1.5 * one));
    CHECK(planned(design).top_g == doctest::Approx(0.5 * one));
    const auto by_oils = plan_batch_of_oils(design, samples::oils(), samples::library(), 500);
    CHECK(by_oils.batch.oils_g == doctest::Approx(500));
}

TEST_CASE("recipe: superfat, lye and fragrance come from the base, water from where it is said") {
    Design design = with_recipe();
    design.base.superfat_percent = 7;
    design.base.fragrance_g_per_kg_oils = 25;
    const auto recipe = recipe_of(design);
    CHECK(recipe.superfat_percent == 7);
    CHECK(recipe.fragrance_g_per_kg_oils == 25);
    CHECK(recipe.water == batter::Water{batter::Water::By::lye_percent, 33});
    CHECK_FALSE(stated_lye_percent(design).has_value());
    design.recipe.water = batter::Water{batter::Water::By::parts_per_alkali, 2};
    CHECK(*stated_lye_percent(design) == doctest::Approx(100.0 / 3));
    CHECK(planned(design).batch.lye_percent == doctest::Approx(100.0 / 3));
    CHECK(bar_state_of(design).lye_percent == doctest::Approx(100.0 / 3));
    design.recipe.water = batter::Water{batter::Water::By::percent_of_oils, 30};
    CHECK(*stated_lye_percent(design) == doctest::Approx(planned(design).batch.lye_percent).epsilon(0.05));
}

TEST_CASE("recipe: the oils of the base serve when the recipe names none") {
    Design design = samples::plain();
    CHECK_FALSE(has_recipe(design));
    CHECK(place_of_fault(design) == "/recipe/oils");
    design.base.oils = {{"olive", 60}, {"shea", 40}};
    REQUIRE(has_recipe(design));
    CHECK(planned(design).batch.oils[1].oil->id == "shea");
}

TEST_CASE("recipe: it changes no colour") {
    const Design without = samples::plain(), with = with_recipe();
    for (std::size_t i = 0; i < with.portions.size(); ++i)
        CHECK(colour_of(with.portions[i], with, samples::library()).srgb ==
              colour_of(without.portions[i], without, samples::library()).srgb);
}

TEST_CASE("recipe: faults are placed in the design file") {
    Design design = with_recipe();
    design.recipe.oils[1].oil = "snake";
    CHECK(place_of_fault(design) == "/recipe/oils/1/oil");
    design = with_recipe();
    design.base.superfat_percent = 31;
    CHECK(place_of_fault(design) == "/base/superfat_percent");
    design = with_recipe();
    design.base.lye_percent = 60;
    CHECK(place_of_fault(design) == "/base/lye_percent");
    design = with_recipe();
    design.recipe.alkali.koh_purity_percent = 10;
    CHECK(place_of_fault(design) == "/recipe/alkali/koh_purity_percent");
    CHECK_THROWS_AS(validate(
                        [] {
                            Design bad = with_recipe();
                            bad.recipe.oils[0].amount = 10;
                            return bad;
                        }(),
                        samples::oils(), "x.json"),
                    InputError);
}

TEST_CASE("recipe: what is risky at the bench is said") {
    Design design = with_recipe();
    design.bench.liner_mm = 3;
    CHECK(warned(design, "liner"));
    design = with_recipe();
    design.base.oils = {{"olive", 20}, {"coconut", 80}};
    CHECK(warned(design, "plain bar is coloured for"));
    design.base.oils = {{"olive", 70}, {"coconut", 30}};
    CHECK_FALSE(warned(design, "plain bar is coloured for"));
    design = with_recipe();
    design.portions[1].white = {"titanium-dioxide", 20};
    CHECK(warned(design, "brings the jug"));
    design.portions[1].white.dispersion = colour::Dispersion{colour::Carrier::water, 3, 20};
    CHECK(warned(design, "thins the lye in the jug"));
}

TEST_CASE("recipe: the code of a design changes with any field") {
    const Design design = with_recipe();
    Design other = design;
    other.bench.spare_percent = 1;
    CHECK(identity_code(design) != identity_code(other));
    CHECK(identity_code(design) == identity_code(with_recipe()));
}
