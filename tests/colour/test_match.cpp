// From a colour to doses, and from a picture to colours.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <random>

#include "colour/match.h"
#include "colour/palette.h"
#include "foundation/error.h"

using namespace foreslice;
using namespace foreslice::colour;

namespace {

const ColourantLibrary& shipped() {
    static const ColourantLibrary library =
        ColourantLibrary::load(std::filesystem::path(FORESLICE_SOURCE) / "palettes/colourants.json");
    return library;
}

EncodedSrgb hex(const char* text) {
    return encoded_from_hex(text).value();
}

/// Colours that some recipe of up to three lasting colourants and white gives.
std::vector<EncodedSrgb> reachable_targets(std::size_t count) {
    std::mt19937 random(4);
    std::uniform_real_distribution<double> share(0, 1);
    std::vector<const Colourant*> lasting;
    for (const Colourant& c : shipped().colourants())
        if (keeps_colour(c) && c.kind != "white") lasting.push_back(&c);
    std::vector<EncodedSrgb> targets;
    while (targets.size() < count) {
        std::vector<Dose> doses{{shipped().find("titanium-dioxide"), 12 * share(random) * share(random)}};
        double total = doses[0].g_per_kg_oils;
        const std::size_t colourants = 1 + random() % 3;
        for (std::size_t n = 0; n < colourants; ++n) {
            const Colourant* c = lasting[random() % lasting.size()];
            doses.push_back({c, c->usual_most_g_per_kg_oils * std::pow(share(random), 2)});
            total += doses.back().g_per_kg_oils;
        }
        const PortionColour made = colour_of(mixed(shipped().base(), doses));
        if (made.in_gamut && total < 29) targets.push_back(made.srgb);
    }
    return targets;
}

}  // namespace

TEST_CASE(
    "match: of 1,000 targets inside the gamut the median is below dE00 0.5 and 99 in 100 below 1 (long)") {
    std::vector<double> errors;
    for (const EncodedSrgb target : reachable_targets(1000)) {
        const Match found = match(shipped(), {}, target, {});
        errors.push_back(found.recipes.front().de00);
        CHECK(found.recipes.front().total_g_per_kg_oils <= 30 + 1e-6);
        CHECK(found.recipes.front().doses.size() <= 4);
    }
    std::sort(errors.begin(), errors.end());
    MESSAGE("median " << errors[500] << ", 99 % " << errors[990] << ", worst " << errors.back());
    CHECK(errors[500] < 0.5);
    CHECK(errors[990] < 1);
}

TEST_CASE("match: several recipes, different in their colourants, each what it says") {
    const Match found = match(shipped(), {}, hex("#7f95a8"), {});
    CHECK(found.reachable);
    REQUIRE(found.recipes.size() >= 3);
    const Lab aim = lab_of(xyz_of(decoded(hex("#7f95a8"))), white_of(Illuminant::d65));
    for (const Recipe& recipe : found.recipes) {
        const PortionColour made = colour_of(aged_mix(shipped().base(), {}, recipe.doses));
        CHECK(ciede2000(made.lab, aim) == doctest::Approx(recipe.de00));
        double total = 0;
        for (const Dose& dose : recipe.doses) {
            total += dose.g_per_kg_oils;
            CHECK(keeps_colour(*dose.colourant));
            CHECK(dose.g_per_kg_oils <= dose.colourant->usual_most_g_per_kg_oils + 1e-9);
        }
        CHECK(total == doctest::Approx(recipe.total_g_per_kg_oils));
    }
}

TEST_CASE("match: what no powder reaches is said, with the nearest that can be had") {
    for (const char* neon : {"#00ff40", "#ff00ff", "#0000ff", "#ffffff"}) {
        CAPTURE(neon);
        const Match found = match(shipped(), {}, hex(neon), {});
        CHECK_FALSE(found.reachable);
        CHECK(found.recipes.front().de00 > reachable_de00);
        for (const Recipe& recipe : found.recipes) CHECK(recipe.de00 >= found.recipes.front().de00 - 1e-9);
    }
    CHECK(match(shipped(), {}, hex("#ffffff"), {}).recipes.front().colour.lab.l > 93);
}

TEST_CASE("match: limits on count, powder, price and choice are kept") {
    const EncodedSrgb target = hex("#8a6f8f");
    MatchLimits one;
    one.most_colourants = 1;
    for (const Recipe& recipe : match(shipped(), {}, target, one).recipes) CHECK(recipe.doses.size() <= 2);
    MatchLimits little;
    little.most_total_g_per_kg_oils = 2;
    for (const Recipe& recipe : match(shipped(), {}, target, little).recipes)
        CHECK(recipe.total_g_per_kg_oils <= 2 + 1e-6);
    MatchLimits few;
    few.only = {"iron-oxide-red", "ultramarine-blue"};
    few.without = {"iron-oxide-red"};
    few.white = "";
    for (const Recipe& recipe : match(shipped(), {}, target, few).recipes)
        for (const Dose& dose : recipe.doses) CHECK(dose.colourant->id == "ultramarine-blue");

    std::vector<Colourant> priced;
    for (Colourant c : shipped().colourants()) {
        c.price_per_100_g = c.id == "ultramarine-violet" ? 50 : 4;
        priced.push_back(c);
    }
    const ColourantLibrary costly(shipped().base(), "x", priced);
    MatchLimits cheap;
    cheap.most_price_per_kg_oils = 0.3;
    for (const Recipe& recipe : match(costly, {}, target, cheap).recipes)
        CHECK(recipe.price_per_kg_oils <= 0.3 + 1e-4);
    MatchLimits unknown;
    unknown.only = {"moon-dust"};
    CHECK_THROWS_AS(match(shipped(), {}, target, unknown), InputError);
    MatchLimits nothing;
    nothing.most_price_per_kg_oils = 1;  // nothing of the shipped library has a price
    CHECK_THROWS_AS(match(shipped(), {}, target, nothing), InputError);
}

TEST_CASE("match: a browning bar needs another recipe, and is told when it cannot") {
    BarState brown;
    brown.vanillin_g_per_kg_oils = 3;
    const Match found = match(shipped(), brown, hex("#c8d8e8"), {});
    CHECK(found.recipes.front().de00 > match(shipped(), {}, hex("#c8d8e8"), {}).recipes.front().de00);
}

TEST_CASE("palette: flat fields come back with their shares") {
    Photo photo;
    photo.width_px = 200;
    photo.height_px = 100;
    photo.rgb.resize(3 * 200 * 100);
    const EncodedSrgb colours[] = {{38, 52, 74}, {215, 154, 69}, {240, 235, 223}};
    for (int y = 0; y < 100; ++y)
        for (int x = 0; x < 200; ++x) {
            const EncodedSrgb c = colours[x < 100 ? 0 : x < 160 ? 1 : 2];
            const std::size_t i = 3 * static_cast<std::size_t>(200 * y + x);
            photo.rgb[i] = c.r;
            photo.rgb[i + 1] = c.g;
            photo.rgb[i + 2] = c.b;
        }
    const auto palette = palette_of(photo, 5);
    REQUIRE(palette.size() == 3);
    for (std::size_t n = 0; n < 3; ++n) CHECK(palette[n].srgb == colours[n]);
    CHECK(palette[0].weight == doctest::Approx(0.5));
    CHECK(palette[1].weight == doctest::Approx(0.3));
    CHECK(palette[2].weight == doctest::Approx(0.2));
    CHECK(palette_of(photo, 2).size() == 2);
    CHECK_THROWS_AS(palette_of(photo, 0), InputError);
}
