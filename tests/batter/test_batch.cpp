#include <doctest/doctest.h>

#include <cmath>
#include <functional>

#include "batter/recipes.h"
#include "foundation/error.h"
#include "foundation/random.h"

using namespace foreslice;
using namespace foreslice::batter;
using testing::five_oils;
using testing::oils_table;

namespace {

/// 0 to 1.
double uniform(std::uint64_t seed, std::uint64_t index) {
    return 0.5 * (1 + seeded_uniform(seed, index));
}

double everything_g(const Batch& batch) {
    double sum = batch.alkali_g() + batch.water_g + batch.fragrance_g;
    for (const auto& oil : batch.oils) sum += oil.g;
    for (const auto& liquid : batch.liquids) sum += liquid.g;
    for (const auto& additive : batch.additives) sum += additive.g;
    return sum;
}

void check_refused(const Recipe& recipe, const std::string& place, const std::string& part) {
    try {
        batch_of_batter(recipe, oils_table(), 1000);
        FAIL("not refused: " << place);
    } catch (const InputError& error) {
        CHECK(error.place() == place);
        CHECK_MESSAGE(std::string(error.what()).find(part) != std::string::npos, error.what());
        CHECK_FALSE(error.allowed().empty());
    }
}

bool warned(const Recipe& recipe, const std::string& part) {
    for (const auto& caution : cautions_of(recipe, batch_of_batter(recipe, oils_table(), 1000))) {
        CHECK_FALSE(caution.cure.empty());
        if (caution.sentence.find(part) != std::string::npos) return true;
    }
    return false;
}

/// A sound recipe drawn from a seed.
Recipe random_recipe(std::uint64_t seed) {
    auto draw = [seed, n = std::uint64_t{0}](double from, double to) mutable {
        return from + (to - from) * uniform(seed, ++n);
    };
    Recipe recipe;
    recipe.basis = OilBasis::grams;
    const auto& oils = oils_table().oils();
    const auto count = 1 + static_cast<std::size_t>(draw(0, 6));
    const auto first = static_cast<std::size_t>(draw(0, static_cast<double>(oils.size())));
    for (std::size_t i = 0; i < count; ++i)
        recipe.oils.push_back({oils[(first + 5 * i) % oils.size()].id, draw(20, 900)});
    recipe.superfat_percent = draw(0, 30);
    recipe.alkali = {draw(0, 100), draw(90, 100), draw(85, 100)};
    recipe.water = {Water::By::lye_percent, draw(22, 33)};
    recipe.liquids = {{"oat milk", draw(0, 30), Into::batter}, {"aloe", draw(0, 50), Into::lye_water}};
    recipe.additives = {{"sodium-lactate", "", draw(0, 4), AdditiveUnit::percent_of_oils},
                        {"salt", "", draw(0, 3), AdditiveUnit::percent_of_water},
                        {"other", "oatmeal", draw(0, 5), AdditiveUnit::percent_of_batter},
                        {"kaolin", "", draw(0, 2), AdditiveUnit::teaspoons_per_pound_oils}};
    recipe.fragrance_g_per_kg_oils = draw(0, 60);
    return recipe;
}

}  // namespace

TEST_CASE("batch: mould, liner, top and losses make the batter") {
    MouldSpace space{280, 65, 78.8};
    CHECK(batter_ml(space) == doctest::Approx(1434.16));
    space.liner_mm = 1.5;
    CHECK(batter_ml(space) == doctest::Approx(277 * 62 * 78.8 / 1000));
    space = {280, 65, 78.8, 0, 4, 2};
    CHECK(batter_ml(space) == doctest::Approx(2 * 280 * 65 * 82.8 / 1000));
    CHECK(top_ml(space) == doctest::Approx(2 * 280 * 65 * 4.0 / 1000));
    CHECK(batter_g(1000, 1016, {}) == doctest::Approx(1016));
    CHECK(batter_g(1000, 1016, {5, 8, 2}) == doctest::Approx(1016 * 1.02 + 40));
    CHECK_THROWS_AS(batter_ml({280, 0, 80}), InputError);
    CHECK_THROWS_AS(batter_ml({280, 65, 80, 40}), InputError);
    CHECK_THROWS_AS(batter_g(1000, 3000, {}), InputError);
    CHECK_THROWS_AS(batter_g(1000, 3, {}), InputError);
}

TEST_CASE("batch: weights add up to the batter, for any recipe") {
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        const Batch batch = batch_of_batter(random_recipe(seed), oils_table(), 1457.8);
        CHECK(batch.batter_g == doctest::Approx(1457.8).epsilon(1e-12));
        CHECK(everything_g(batch) == doctest::Approx(1457.8).epsilon(1e-12));
    }
}

TEST_CASE("batch: scaling the mould scales every weight") {
    for (std::uint64_t seed = 1; seed <= 100; ++seed) {
        const Recipe recipe = random_recipe(seed);
        const double k = 0.1 + 5 * uniform(seed, 99);
        const MouldSpace one{280, 65, 80}, other{280 * k, 65, 80};
        const Batch a = batch_of_batter(recipe, oils_table(), batter_g(batter_ml(one), 1016, {}));
        const Batch b = batch_of_batter(recipe, oils_table(), batter_g(batter_ml(other), 1016, {}));
        for (std::size_t i = 0; i < a.oils.size(); ++i)
            CHECK(b.oils[i].g == doctest::Approx(k * a.oils[i].g).epsilon(1e-12));
        CHECK(b.naoh_g == doctest::Approx(k * a.naoh_g).epsilon(1e-12));
        CHECK(b.koh_g == doctest::Approx(k * a.koh_g).epsilon(1e-12));
        CHECK(b.water_g == doctest::Approx(k * a.water_g).epsilon(1e-12));
        for (std::size_t i = 0; i < a.additives.size(); ++i)
            CHECK(b.additives[i].g == doctest::Approx(k * a.additives[i].g).epsilon(1e-12));
        CHECK(b.superfat_range_percent.low == doctest::Approx(a.superfat_range_percent.low));
    }
}

TEST_CASE("batch: the alkali never exceeds what the oils take up at the figures used") {
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        const Recipe recipe = random_recipe(seed);
        const Batch batch = batch_of_batter(recipe, oils_table(), 1000);
        double need = 0;
        for (const auto& oil : batch.oils) need += oil.g * oil.used() / 1000;
        const double given = batch.pure_koh_g + batch.pure_naoh_g / naoh_per_koh;
        CHECK(given <= need * (1 + 1e-12));
        CHECK(100 * (1 - given / need) == doctest::Approx(recipe.superfat_percent).epsilon(1e-9));
        CHECK(batch.superfat_range_percent.low <= recipe.superfat_percent + 1e-9);
        CHECK(batch.superfat_range_percent.high >= recipe.superfat_percent - 1e-9);
        CHECK(batch.lye_percent == doctest::Approx(recipe.water.amount).epsilon(1e-9));
    }
}

TEST_CASE("batch: water three ways is one water") {
    Recipe recipe = five_oils();
    const Batch by_percent = batch_of_oils(recipe, oils_table(), 1000);
    recipe.water = {Water::By::parts_per_alkali, by_percent.parts_per_alkali};
    const Batch by_parts = batch_of_oils(recipe, oils_table(), 1000);
    recipe.water = {Water::By::percent_of_oils, by_percent.percent_of_oils};
    const Batch by_oils = batch_of_oils(recipe, oils_table(), 1000);
    CHECK(by_parts.water_g == doctest::Approx(by_percent.water_g).epsilon(1e-12));
    CHECK(by_oils.water_g == doctest::Approx(by_percent.water_g).epsilon(1e-12));
    CHECK(by_oils.lye_percent == doctest::Approx(33));
}

TEST_CASE("batch: by weight and by percent is the same recipe") {
    Recipe by_weight = five_oils();
    by_weight.basis = OilBasis::grams;
    for (auto& oil : by_weight.oils) oil.amount *= 7.3;
    const Batch a = batch_of_batter(five_oils(), oils_table(), 1000);
    const Batch b = batch_of_batter(by_weight, oils_table(), 1000);
    for (std::size_t i = 0; i < a.oils.size(); ++i) CHECK(a.oils[i].g == doctest::Approx(b.oils[i].g));
    CHECK(stated_oils_g(by_weight) == doctest::Approx(730));
    CHECK(stated_oils_g(five_oils()) == 0);
}

TEST_CASE("batch: purity, potassium and certificates") {
    Recipe recipe = five_oils();
    const Batch plain = batch_of_oils(recipe, oils_table(), 1000);
    recipe.alkali.naoh_purity_percent = 96;
    const Batch impure = batch_of_oils(recipe, oils_table(), 1000);
    CHECK(impure.naoh_g == doctest::Approx(plain.naoh_g / 0.96));
    CHECK(impure.pure_naoh_g == doctest::Approx(plain.pure_naoh_g));
    CHECK(impure.lye_percent == doctest::Approx(33));  // of pure alkali
    recipe.alkali = {100, 100, 90};
    const Batch potash = batch_of_oils(recipe, oils_table(), 1000);
    CHECK(potash.naoh_g == 0);
    CHECK(potash.pure_koh_g == doctest::Approx(plain.pure_naoh_g / naoh_per_koh));
    CHECK(potash.koh_g == doctest::Approx(potash.pure_koh_g / 0.9));
    recipe = five_oils();
    for (auto& oil : recipe.oils) oil.certificate_koh_mg_per_g = 190;
    const Batch sure = batch_of_oils(recipe, oils_table(), 1000);
    CHECK(sure.superfat_range_percent.low == doctest::Approx(5));
    CHECK(sure.superfat_range_percent.high == doctest::Approx(5));
    CHECK(sure.pure_naoh_g == doctest::Approx(190 * naoh_per_koh * 0.95));
    CHECK(sure.oils[0].certified);
}

TEST_CASE("batch: nonsense is refused with the place and what is allowed") {
    const auto with = [](const std::function<void(Recipe&)>& change) {
        Recipe recipe = five_oils();
        change(recipe);
        return recipe;
    };
    check_refused(with([](auto& r) { r.superfat_percent = 110; }), "/superfat_percent", "110");
    check_refused(with([](auto& r) { r.superfat_percent = -1; }), "/superfat_percent", "-1");
    check_refused(with([](auto& r) { r.superfat_percent = std::nan(""); }), "/superfat_percent", "0 to 30");
    check_refused(with([](auto& r) { r.water.amount = 51; }), "/lye_percent", "51");
    check_refused(with([](auto& r) {
                      r.water = {Water::By::percent_of_oils, 10};
                  }),
                  "/water/percent_of_oils", "lye of 58.5 %");
    check_refused(with([](auto& r) {
                      r.water = {Water::By::parts_per_alkali, 0.9};
                  }),
                  "/water/parts_per_alkali", "0.9");
    check_refused(with([](auto& r) { r.oils[1].oil = "snake"; }), "/oils/1/oil", "snake");
    check_refused(with([](auto& r) { r.oils[1].oil = "olive"; }), "/oils/1/oil", "twice");
    check_refused(with([](auto& r) { r.oils[2].amount = -4; }), "/oils/2/percent", "-4");
    check_refused(with([](auto& r) { r.oils[2].amount = 35; }), "/oils", "110 %");
    check_refused(with([](auto& r) { r.oils.clear(); }), "/oils", "no oils");
    check_refused(with([](auto& r) { r.oils[0].certificate_koh_mg_per_g = 1900; }),
                  "/oils/0/certificate_koh_mg_per_g", "1900");
    check_refused(with([](auto& r) { r.alkali.naoh_purity_percent = 9.6; }), "/alkali/naoh_purity_percent",
                  "9.6");
    check_refused(with([](auto& r) { r.alkali.koh_percent = 101; }), "/alkali/koh_percent", "101");
    check_refused(with([](auto& r) {
                      r.liquids = {{"milk", 60}, {"tea", 60}};
                  }),
                  "/liquids/1/percent_of_water", "120 %");
    check_refused(with([](auto& r) { r.liquids = {{"milk", 60, Into::batter}}; }), "/liquids", "water");
    check_refused(with([](auto& r) { r.additives = {{"gold", "", 1}}; }), "/additives/0/what", "gold");
    check_refused(with([](auto& r) { r.additives = {{"other", "", 1}}; }), "/additives/0/name", "no name");
    check_refused(with([](auto& r) {
                      r.additives = {{"salt", "", -1}};
                  }),
                  "/additives/0/percent_of_oils", "-1");
    check_refused(with([](auto& r) { r.fragrance_g_per_kg_oils = 300; }), "/fragrance_g_per_kg_oils", "300");
    CHECK_THROWS_AS(batch_of_batter(five_oils(), oils_table(), 0), InputError);
    CHECK_THROWS_AS(batch_of_oils(five_oils(), oils_table(), -5), InputError);
}

TEST_CASE("batch: what is risky is allowed with a cause and a cure") {
    const auto with = [](const std::function<void(Recipe&)>& change) {
        Recipe recipe = five_oils();
        change(recipe);
        return recipe;
    };
    CHECK_FALSE(warned(five_oils(), ""));
    CHECK(warned(with([](auto& r) { r.superfat_percent = 3; }), "In the worst case"));
    CHECK(warned(with([](auto& r) { r.superfat_percent = 1.5; }), "no room for a weighing error"));
    CHECK(warned(with([](auto& r) { r.superfat_percent = 18; }), "greasy"));
    CHECK(warned(with([](auto& r) { r.water.amount = 42; }), "Lye of 42 %"));
    CHECK(warned(with([](auto& r) { r.water.amount = 24; }), "Lye of 24 %"));
    CHECK(warned(with([](auto& r) { r.oils = {{"tallow", 100}}; }), "from memory"));
    CHECK(warned(with([](auto& r) { r.oils = {{"beeswax", 20}, {"olive", 80}}; }), "wax"));
    CHECK(warned(with([](auto& r) { r.additives = {{"salt", "", 12}}; }), "salt"));
    CHECK(warned(with([](auto& r) { r.fragrance_limit_percent = 1; }), "supplier's limit"));
    CHECK(warned(with([](auto& r) { r.fragrance_g_per_kg_oils = 80; }), "80 g of fragrance"));
    // With the least superfat that the caution asks for it is gone.
    CHECK_FALSE(warned(with([](auto& r) { r.superfat_percent = 4; }), "In the worst case"));
}
