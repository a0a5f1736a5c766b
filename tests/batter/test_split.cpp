#include <doctest/doctest.h>

#include <cmath>

#include "batter/recipes.h"
#include "batter/split.h"
#include "batter/stock.h"
#include "foundation/error.h"
#include "foundation/random.h"

using namespace foreslice;
using namespace foreslice::batter;
using testing::five_oils;
using testing::oils_table;

namespace {

const Powder white{"titanium-dioxide", "titanium dioxide", 10, 4, PowderLiquid::oil, 3};
const Powder wet_white{"titanium-dioxide", "titanium dioxide", 10, 4, PowderLiquid::water, 4};
const Powder charcoal{"activated-charcoal", "activated charcoal", 2, 1.7, PowderLiquid::none, 3};

std::vector<Share> slipway() {
    return {
        {"ink", "basin ink", 25, {charcoal}}, {"salt", "salt white", 14, {white}}, {"rest", "plain", 61, {}}};
}

Batch slipway_batch() {
    return batch_of_batter(five_oils(), oils_table(), 1457.8);
}

}  // namespace

TEST_CASE("split: doses go by the oils in the portion, liquids come out of the recipe") {
    const Batch batch = slipway_batch();
    const Split split = split_of(batch, slipway(), 1016);
    const Jug& salt = split.jugs[1];
    CHECK(salt.batter_g == doctest::Approx(204.092));
    CHECK(salt.oils_g == doctest::Approx(0.14 * batch.oils_g));
    REQUIRE(salt.powders.size() == 1);
    CHECK(salt.powders[0].g == doctest::Approx(0.14 * batch.oils_g * 10 / 1000));
    CHECK(salt.oil_g == doctest::Approx(3 * salt.powders[0].g));
    CHECK(salt.plain_g == doctest::Approx(salt.batter_g - salt.oil_g));
    CHECK(salt.full_g == doctest::Approx(salt.batter_g + salt.powders[0].g));
    CHECK(split.oil_held_back_g == doctest::Approx(salt.oil_g));
    CHECK(split.oil_held_back_from == "olive");  // the liquid oil there is most of
    CHECK(split.jugs[0].oil_g == 0);             // dry powder
    CHECK(split.jugs[2].superfat_percent < 5);   // its oil went to the white
    CHECK(salt.superfat_percent > 5);
}

TEST_CASE("split: nothing is lost and nothing appears, for any shares and powders") {
    const Batch batch = slipway_batch();
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        std::vector<Share> shares;
        for (std::uint64_t i = 0; i < 1 + mixed_bits(seed) % 7U; ++i) {
            Powder powder = i % 2 == 0 ? white : wet_white;
            powder.g_per_kg_oils = 6 * (1 + seeded_uniform(seed, i));
            shares.push_back(
                {std::to_string(i), "x", 1.01 + seeded_uniform(seed, 50 + i), {powder, charcoal}});
        }
        const Split split = split_of(batch, shares, 1016);
        double batter = 0, oils = 0, fragrance = 0, liquids = 0, alkali_left = 0;
        for (const Jug& jug : split.jugs) {
            batter += jug.batter_g;
            oils += jug.oils_g;
            fragrance += jug.fragrance_g;
            liquids += jug.oil_g + jug.water_g;
            alkali_left += jug.superfat_percent / 100 *
                           (jug.plain_g / split.pot_g * (batch.oils_g - split.oil_held_back_g) + jug.oil_g);
            CHECK(jug.jug_ml >= 1.5 * jug.full_ml);
        }
        CHECK(batter == doctest::Approx(batch.batter_g));
        CHECK(oils == doctest::Approx(batch.oils_g));
        CHECK(fragrance == doctest::Approx(batch.fragrance_g));
        CHECK(split.pot_g + liquids == doctest::Approx(batch.batter_g));
        CHECK(alkali_left ==
              doctest::Approx(0.05 * batch.oils_g));  // free oil of all jugs is that of the batch
    }
}

TEST_CASE("split: water for powders thins the lye of its jug only") {
    const Batch batch = slipway_batch();
    const Split split = split_of(batch, {{"a", "a", 20, {wet_white}}, {"b", "b", 80, {}}}, 1016);
    CHECK(split.jugs[0].lye_percent < 33);
    CHECK(split.jugs[1].lye_percent > 33);
    CHECK(split.water_held_back_g == doctest::Approx(split.jugs[0].water_g));
}

TEST_CASE("split: powders that would drink the recipe dry are refused") {
    Powder thirsty = white;
    thirsty.g_per_kg_oils = 100;
    CHECK_THROWS_AS(split_of(slipway_batch(), {{"a", "a", 100, {thirsty}}}, 1016), InputError);
    thirsty.liquid = PowderLiquid::water;
    CHECK_THROWS_AS(split_of(slipway_batch(), {{"a", "a", 100, {thirsty}}}, 1016), InputError);
    CHECK_THROWS_AS(split_of(slipway_batch(), {{"a", "a", 0, {}}}, 1016), InputError);
}

TEST_CASE("split: jugs and spoons") {
    CHECK(jug_size_ml(204) == 500);
    CHECK(jug_size_ml(160) == 250);
    CHECK(jug_size_ml(9000) == 15000);
    CHECK(spoon_words(0.02) == "a pinch");
    CHECK(spoon_words(0.12) == "⅛");
    CHECK(spoon_words(0.26) == "¼");
    CHECK(spoon_words(1.1) == "1");
    CHECK(spoon_words(2.24) == "2 ¼");
    CHECK(spoon_words(0.9) == "1");
    CHECK(spoon_words(0) == "none");
}

TEST_CASE("split: one paste for a whole collection holds what all jugs need") {
    const Batch batch = slipway_batch();
    const Split one = split_of(batch, slipway(), 1016), two = split_of(batch, slipway(), 1016);
    const auto pastes = masterbatches_of({{"Slipway", &one}, {"Ropewalk", &two}}, 10, 0);
    REQUIRE(pastes.size() == 1);  // charcoal is used dry
    CHECK(pastes[0].doses.size() == 2);
    CHECK(pastes[0].parts_of_liquid == doctest::Approx(3));
    CHECK(pastes[0].doses[0].paste_g == doctest::Approx(4 * one.jugs[1].powders[0].g));
    CHECK(pastes[0].powder_g == doctest::Approx(1.1 * 2 * one.jugs[1].powders[0].g));
    const auto more = masterbatches_of({{"Slipway", &one}}, 10, 50);
    CHECK(more[0].powder_g + more[0].liquid_g == doctest::Approx(50));
    CHECK(pastes[0].powder_g + pastes[0].liquid_g == doctest::Approx(1.1 * pastes[0].paste_needed_g));
}

TEST_CASE("stock: prices, shortfalls and what is not known") {
    const Stock stock = Stock::parse(
        "# mine\nitem,in_stock,price (EUR),for\nolive,2 kg,7.20,1 kg\ncoconut,100 "
        "g,,\n\"sodium-hydroxide\",,4,16 oz\n",
        "stock.csv");
    CHECK(stock.money() == "EUR");
    const Cost cost = cost_of({{"olive", "olive", 300},
                               {"coconut", "coconut", 250},
                               {"olive", "olive", 100},
                               {"castor", "castor", 50},
                               {"sodium-hydroxide", "lye", 100}},
                              stock);
    REQUIRE(cost.lines.size() == 4);
    CHECK(cost.lines[0].g == 400);
    CHECK(*cost.lines[0].cost == doctest::Approx(2.88));
    CHECK(cost.lines[0].short_g == 0);
    CHECK(cost.lines[1].short_g == doctest::Approx(150));
    CHECK_FALSE(cost.lines[1].cost.has_value());
    CHECK_FALSE(cost.lines[2].in_stock_g.has_value());
    CHECK(*cost.lines[3].cost == doctest::Approx(4 * 100 / 453.59237));
    CHECK(cost.total == doctest::Approx(2.88 + 4 * 100 / 453.59237));
    CHECK_FALSE(cost.complete);
}

TEST_CASE("stock: a table with faults is refused by line and column") {
    const auto refused = [](const std::string& csv, const std::string& place) {
        try {
            Stock::parse(csv, "stock.csv");
            FAIL("not refused: " << csv);
        } catch (const InputError& error) {
            CHECK(error.file() == "stock.csv");
            CHECK(error.place() == place);
        }
    };
    const std::string head = "item,in_stock,price,for\n";
    refused("item,price\nolive,3\n", "header");
    refused(head + "olive,much,3,1 kg\n", "line 2, in_stock");
    refused(head + "olive,3 kg,-3,1 kg\n", "line 2, price");
    refused(head + "olive,3 kg,3,\n", "line 2, for");
    refused(head + "olive,3 kg,3,0 g\n", "line 2, for");
    refused(head + "olive,,,\nolive,,,\n", "line 3, item");
    refused(head + "olive,3 kg\n", "line 2");
    refused(head + "olive,\"3 kg,3,1 kg\n", "line 2");
}
