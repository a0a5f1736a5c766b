// Batch arithmetic against figures that others printed. Saponification values there are entered as a
// certificate would be, so that what is checked is the arithmetic and not the table.
#include <doctest/doctest.h>

#include "batter/recipes.h"
#include "published/report.h"

using namespace foreslice;
using namespace foreslice::testing;
using namespace foreslice::batter;
using testing::oils_table;

namespace {

Recipe of(const std::vector<RecipeOil>& oils, double superfat_percent) {
    Recipe recipe;
    recipe.basis = OilBasis::grams;
    recipe.oils = oils;
    recipe.superfat_percent = superfat_percent;
    return recipe;
}

}  // namespace

TEST_CASE("molar masses are those of the standard atomic weights") {
    // IUPAC Commission on Isotopic Abundances and Atomic Weights, 2021, abridged values (from memory), and
    // the molar masses that PubChem prints: sodium hydroxide 39.997, potassium hydroxide 56.106 g/mol
    // (memory).
    compare({"IUPAC 2021 atomic weights (from memory)", "molar mass of sodium hydroxide", 39.997, "g/mol"},
            naoh_g_per_mol, 8e-4);
    compare({"IUPAC 2021 atomic weights (from memory)", "molar mass of potassium hydroxide", 56.106, "g/mol"},
            koh_g_per_mol, 1.7e-3);
    // 1.403: the divisor from potassium to sodium values that the trade prints (read on several public
    // pages).
    CHECK(1 / naoh_per_koh == doctest::Approx(1.403).scale(0).epsilon(3e-4));
}

TEST_CASE("a soapmakers' exam question on the lye discount") {
    // Practice question of a soapmakers' certificate, quoted with its answer in a public thread (read):
    // values of 256.5, 199.5 and 190 mg KOH/g; 333 g coconut, 445 g palm, 222 g olive; 3 % discount; NaOH
    // rounded down: 149 g.
    const Recipe recipe = of({{"coconut", 333, 256.5}, {"palm", 445, 199.5}, {"olive", 222, 190}}, 3);
    const Batch batch = batch_of_oils(recipe, oils_table(), stated_oils_g(recipe));
    CHECK(static_cast<int>(batch.naoh_g) == 149);
    compare({"practice question of a soapmakers' certificate",
             "sodium hydroxide for three oils at 3 % discount, rounded down", 149, "g"},
            std::floor(batch.naoh_g), 0);
    // 209 g is what the same thread gets when potassium hydroxide is meant.
    CHECK(static_cast<int>(batch.naoh_g / naoh_per_koh) == 209);
    // The three values are also the middles of the table's ranges.
    for (const char* id : {"coconut", "palm", "olive"}) {
        const double middle = oils_table().find(id)->koh_mg_per_g.middle();
        CHECK(middle == (std::string(id) == "coconut" ? 256.5 : std::string(id) == "palm" ? 199.5 : 190));
    }
}

TEST_CASE("a textbook's olive oil") {
    // General chemistry textbook problem (read on a page that quotes it): olive oil of 190 mg KOH per g;
    // three moles of alkali to a mole of fat make its mean molar mass 3 / (0.190 / 56.1) = 886 g/mol. A mole
    // of it needs three moles of sodium hydroxide.
    const double fat_g = 3 / (0.190 / 56.1);
    CHECK(fat_g == doctest::Approx(886).scale(0).epsilon(5e-4));
    const Batch batch = batch_of_oils(of({{"olive", 1, 190}}, 0), oils_table(), fat_g);
    compare({"general chemistry textbook", "sodium hydroxide for a mole of olive oil", 120, "g"},
            batch.naoh_g, 0.06);
}

TEST_CASE("a school-leaving exam's fat") {
    // Vietnamese entrance examination question (read with its solution on a public forum): 17.24 g of fat
    // take exactly 0.06 mol of NaOH, 2.4 g.
    const double koh_mg_per_g = 0.06 * 56.1 / 17.24 * 1000;
    const Batch batch = batch_of_oils(of({{"tallow", 1, koh_mg_per_g}}, 0), oils_table(), 17.24);
    compare({"school-leaving examination", "sodium hydroxide for 17.24 g of fat", 2.4, "g"}, batch.naoh_g,
            5e-4);
    // Such a fat's value lies among those that the table prints for solid fats.
    CHECK(koh_mg_per_g > oils_table().find("tallow")->koh_mg_per_g.low);
    CHECK(koh_mg_per_g < oils_table().find("tallow")->koh_mg_per_g.high);
}

TEST_CASE("a published blend and its lye") {
    // Dunn, K. 2016, trade chemistry column (read): 39 % olive, 28 % coconut, 28 % palm, 5 % castor are
    // quoted at 144 g of sodium hydroxide per kg of oils, discount included. A discount of 3 to 6 % is usual.
    Recipe recipe;
    recipe.oils = {{"olive", 39}, {"coconut", 28}, {"palm", 28}, {"castor", 5}};
    recipe.superfat_percent = 0;
    const Batch batch = batch_of_oils(recipe, oils_table(), 1000);
    const double discount = 100 * (1 - 144 / batch.naoh_g);
    CHECK(discount > 3);
    CHECK(discount < 6);
}

TEST_CASE("triglycerides of one acid have the values of handbooks") {
    // Saponification value 3 x 56106 / M; molar masses of triolein 885.4, tristearin 891.5, trilaurin 639.0
    // g/mol (handbook values, from memory) give 190, 189 and 263. Fats that are mostly one acid lie near.
    compare({"handbook (from memory)", "saponification value of triolein", 190.1, "mg KOH/g"},
            3 * 1000 * koh_g_per_mol / 885.4, 0.19);
    const Span olive =
        oils_table().find("olive")->koh_mg_per_g;  // 55 to 83 % oleic acid (Codex CXS 33, memory)
    CHECK(olive.low < 190.1);
    CHECK(olive.high > 190.1);
    const double trilaurin = 3 * 1000 * koh_g_per_mol / 639.0;
    const Span coconut = oils_table().find("coconut")->koh_mg_per_g;
    CHECK(coconut.low < trilaurin);
    CHECK(coconut.high > trilaurin - 2);
}

TEST_CASE("the hand-worked example: five oils, 5 % discount, lye of 33 %") {
    // Worked by hand for this project from the ranges of the table: 1000 g of oils need 208.475 g KOH,
    // 148.618 g NaOH; with the discount 141.187 g; water 286.65 g; all-low and all-high corners 201.000 and
    // 215.950 g KOH.
    Recipe recipe = testing::five_oils();
    recipe.fragrance_g_per_kg_oils = 0;
    const Batch batch = batch_of_oils(recipe, oils_table(), 1000);
    compare(
        {"worked by hand for this project", "five oils, 5 % discount: sodium hydroxide a kg", 141.187, "g"},
        batch.naoh_g, 4e-3);
    compare({"worked by hand for this project", "five oils, lye of 33 %: water a kg", 286.65, "g"},
            batch.water_g, 9e-3);
    CHECK(batch.batter_g == doctest::Approx(1427.84).scale(0).epsilon(2e-5));
    CHECK(batch.superfat_range_percent.low == doctest::Approx(1.47).scale(0).epsilon(5e-3));
    CHECK(batch.superfat_range_percent.high == doctest::Approx(8.29).scale(0).epsilon(5e-3));
    CHECK(batch.iodine.middle() == doctest::Approx(57.5).scale(0).epsilon(2e-3));
    CHECK(batch.parts_per_alkali == doctest::Approx(2.03).scale(0).epsilon(1e-3));
    CHECK(batch.percent_of_oils == doctest::Approx(28.7).scale(0).epsilon(2e-3));
}

TEST_CASE("oils to a volume of mould: the trade's factor is the 30 % case") {
    // "0.40 ounces of oils per cubic inch" is quoted on public practitioners' pages (read). With 30 % lye, no
    // fragrance and 1.018 g/cm3 (handbook densities) the recipe above comes to that.
    Recipe recipe = testing::five_oils();
    recipe.fragrance_g_per_kg_oils = 0;
    recipe.water.amount = 30;
    const double cubic_inch_ml = 16.387064;
    const Batch batch = batch_of_batter(recipe, oils_table(), batter_g(cubic_inch_ml, 1018, {}));
    compare({"practitioners' pages", "oils to a cubic inch of mould", 0.40, "oz"},
            batch.oils_g / 28.349523125, 2e-3);
}
