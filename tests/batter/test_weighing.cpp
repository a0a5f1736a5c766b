#include <doctest/doctest.h>

#include <cmath>

#include "batter/rounding.h"
#include "batter/units.h"
#include "foundation/random.h"

using namespace foreslice;
using namespace foreslice::batter;

TEST_CASE("units: what a person typed comes back to the last bit") {
    for (std::uint64_t i = 0; i < 20000; ++i) {
        // A decimal with up to nine digits, as a person might type it.
        const auto digits = static_cast<double>(mixed_bits(i) % 1000000000U);
        const double typed = digits / std::pow(10.0, static_cast<double>(mixed_bits(i + 7) % 7U));
        for (auto unit : {MassUnit::g, MassUnit::kg, MassUnit::oz, MassUnit::lb})
            CHECK(from_g(to_g(typed, unit), unit) == typed);
        for (auto unit : {VolumeUnit::ml, VolumeUnit::l, VolumeUnit::us_teaspoon, VolumeUnit::us_tablespoon,
                          VolumeUnit::us_fluid_ounce, VolumeUnit::us_cup})
            CHECK(from_ml(to_ml(typed, unit), unit) == typed);
    }
}

TEST_CASE("units: texts are read or refused") {
    CHECK(g_from_text("2.5 kg") == 2500);
    CHECK(g_from_text("250") == 250);
    CHECK(g_from_text(" 400g ") == 400);
    CHECK(g_from_text("1 lb") == 453.59237);
    CHECK(mass_from_text("0.05 oz") == StatedMass{0.05, MassUnit::oz});
    for (const char* wrong : {"", "-3 g", "3 stone", "nan", "inf", "g", "1e30 kg", "3 g g", "1,5 g"})
        CHECK_MESSAGE(!g_from_text(wrong), wrong);
}

TEST_CASE("weighing: shown weights are whole steps in plain decimals") {
    CHECK(weighed(141.187, {0.1}).text() == "141.2");
    CHECK(weighed(141.187, {1}).text() == "141");
    CHECK(weighed_down(141.187, {0.1}).text() == "141.1");
    CHECK(weighed_down(0.3, {0.1}).text() == "0.3");  // 0.3 / 0.1 is a little less than 3
    CHECK(weighed(141.187, {0.05, MassUnit::oz}).text() == "5.00");
    CHECK(weighed(1.4, {0.1}).shown() == 1.4);
    CHECK(weighed(141.187, {0.5}).text() == "141.0");
    CHECK(weighed(141.187, {0.1}).rounding_g() == doctest::Approx(0.013));
    CHECK(decimals_of(1) == 0);
    CHECK(decimals_of(0.25) == 2);
    CHECK(decimals_of(0.002) == 3);
}

TEST_CASE("weighing: parts add up to the total exactly") {
    for (std::uint64_t seed = 1; seed <= 500; ++seed) {
        const std::size_t count = 1 + mixed_bits(seed) % 9U;
        std::vector<double> parts;
        double sum = 0;
        for (std::size_t i = 0; i < count; ++i) {
            parts.push_back(500 * (1.001 + seeded_uniform(seed, i)));
            sum += parts.back();
        }
        for (const Scale& scale : {Scale{1}, Scale{0.1}, Scale{0.05, MassUnit::oz}}) {
            const Weighing total = weighed(sum, scale);
            std::int64_t steps = 0;
            for (const Weighing& part : weighed_parts(parts, total)) {
                steps += part.steps;
                CHECK(std::abs(part.rounding_g()) <= 1.5 * scale.step_g());
            }
            CHECK(steps == total.steps);
        }
    }
    CHECK(weighed_parts({}, weighed(3, {1})).empty());
}
