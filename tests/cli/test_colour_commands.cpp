// palette, match, swatch, colourway and --age, run as a person does.
#include <doctest/doctest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.h"
#include "colour/ageing.h"
#include "colour/pigment.h"
#include "picture/draw.h"
#include "picture/image.h"
#include "text.h"

using namespace foreslice;
using namespace foreslice::testing;
using Json = nlohmann::json;

namespace {

const colour::ColourantLibrary& shipped() {
    static const auto library = colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json");
    return library;
}

/// Test bars of ultramarine violet under a yellow lamp, too dark by a third, beside a white card.
void photograph(const std::string& file) {
    const colour::LinearSrgb lamp{0.70, 0.62, 0.42};
    picture::Image photo(500, 120, {90, 88, 80});
    const auto put = [&](double x, const colour::LinearSrgb& c) {
        picture::fill(photo, {x, 20, 80, 80}, {c.r * lamp.r, c.g * lamp.g, c.b * lamp.b});
    };
    const auto* violet = shipped().find("ultramarine-violet");
    const auto* white = shipped().find("titanium-dioxide");
    const auto bar = [&](double dose, double whitened) {
        return colour::colour_of(colour::mixed(shipped().base(), {{violet, dose}, {white, whitened}})).linear;
    };
    put(10, {0.9, 0.9, 0.9});
    put(110, colour::colour_of(shipped().base()).linear);
    put(210, bar(8, 0));
    put(310, bar(8, 8));
    picture::write_png(photo, file);
}

}  // namespace

TEST_CASE("swatch: a photo of bars becomes a colourant that predicts other doses, kept with its provenance") {
    const ScratchFolder scratch;
    photograph(scratch / "bars.png");
    const std::vector<std::string> command{
        "swatch", scratch / "bars.png", "--card", "50,60",       "--plain", "150,60",
        "--bar",  "250,60,8",           "--bar",  "350,60,8,8",  "--id",    "quay-violet",
        "--name", "quay violet",        "--kind", "ultramarine", "-o",      scratch / "mine.json"};
    const auto outcome = run(command);
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    CHECK(outcome.err.empty());
    CHECK(contains(outcome.out, "mean dE00"));
    const auto mine = colour::ColourantLibrary::load(scratch / "mine.json");
    const auto* learned = mine.find("quay-violet");
    REQUIRE(learned != nullptr);
    CHECK(contains(learned->provenance, "bars.png"));
    CHECK(contains(learned->provenance, "8+0, 8+8"));
    CHECK(mine.colourants().size() == shipped().colourants().size() + 1);
    double sum = 0;
    for (const double dose : {1.0, 3.0, 5.0})
        for (const double white : {2.0, 6.0}) {
            const auto truth = colour::colour_of(colour::mixed(
                shipped().base(),
                {{shipped().find("ultramarine-violet"), dose}, {shipped().find("titanium-dioxide"), white}}));
            const auto made = colour::colour_of(
                colour::mixed(mine.base(), {{learned, dose}, {mine.find("titanium-dioxide"), white}}));
            sum += colour::ciede2000(truth.lab, made.lab) / 6;
        }
    CHECK(sum < 2);
    CHECK(run(command).code == 0);  // the same colourant again replaces it
    CHECK(colour::ColourantLibrary::load(scratch / "mine.json").colourants().size() ==
          mine.colourants().size());
}

TEST_CASE("swatch: wrong use is one sentence") {
    const ScratchFolder scratch;
    photograph(scratch / "bars.png");
    const std::string photo = scratch / "bars.png";
    for (const auto& [arguments, part] : std::vector<std::pair<std::vector<std::string>, std::string>>{
             {{"swatch", photo, "--card", "50,60"}, "nothing to fit"},
             {{"swatch", photo, "--card", "here", "--plain", "1,2"}, "X,Y"},
             {{"swatch", photo, "--card", "5000,60", "--plain", "150,60"}, "inside the photo"},
             {{"swatch", photo, "--card", "50,60", "--bar", "250,60,8"}, "--id"},
             {{"swatch", photo, "--card", "50,60", "--bar", "250,60,-8", "--id", "a"}, "above 0 to 200"},
             {{"swatch", demo_design("slipway"), "--card", "50,60", "--plain", "150,60"}, "picture"}}) {
        const auto outcome = run(arguments);
        CHECK(outcome.code == 2);
        CHECK_MESSAGE(contains(outcome.err, part), outcome.err);
    }
}

TEST_CASE("match: recipes for colours and for a picture; out of reach is said") {
    const auto outcome = run({"match", "#6e95b4", "#00ff00", "--json"});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    const Json out = Json::parse(outcome.out);
    REQUIRE(out["matches"].size() == 2);
    CHECK(out["matches"][0]["reachable"] == true);
    CHECK(out["matches"][0]["recipes"][0]["de00"] < 1);
    CHECK(out["matches"][1]["reachable"] == false);
    CHECK(contains(run({"match", "#00ff00"}).out, "out of reach"));
    const ScratchFolder scratch;
    photograph(scratch / "picture.png");
    const auto from_picture =
        run({"match", "--palette-of", scratch / "picture.png", "-n", "3", "--most", "1"});
    CHECK_MESSAGE(from_picture.code == 0, from_picture.err);
    CHECK(contains(from_picture.out, "g per kg of oils"));
    CHECK(run({"match", "blue"}).code == 2);
    CHECK(run({"match"}).code == 2);
    CHECK(run({"match", "#123456", "--only", "moon-dust"}).code == 2);
}

TEST_CASE("palette: hex codes and shares") {
    const ScratchFolder scratch;
    photograph(scratch / "picture.png");
    const auto outcome = run({"palette", scratch / "picture.png", "-n", "4", "--json"});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    const Json colours = Json::parse(outcome.out)["colours"];
    CHECK(colours.size() == 4);
    CHECK(colours[0]["hex"] == "#5a5850");  // the ground is most of it
    double sum = 0;
    for (const Json& colour : colours) sum += colour["weight"].get<double>();
    CHECK(sum == doctest::Approx(1));
    CHECK(run({"palette", demo_design("slipway")}).code == 2);
}

TEST_CASE("age: wet batter is darker; words and days mean the same; nonsense is refused") {
    const auto lightness = [&](const std::vector<std::string>& more) {
        std::vector<std::string> arguments{"colours", demo_design("slipway"), "--json"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const auto outcome = run(arguments);
        REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
        return Json::parse(outcome.out)["portions"][0]["lab"][0].get<double>();
    };
    CHECK(lightness({"--age", "wet"}) < lightness({}));
    CHECK(lightness({"--age", "28"}) == lightness({}));
    CHECK(lightness({"--age", "6m"}) == lightness({"--age", "180"}));
    CHECK(run({"colours", demo_design("slipway"), "--age", "soon"}).code == 2);
    const Json portion =
        Json::parse(run({"colours", demo_design("slipway"), "--json", "--age", "cut"}).out)["portions"][0];
    CHECK(portion["likely_span"]["de00"] > 0);
    CHECK(portion["lamps"].contains("FL11"));
    CHECK(portion["eyes"].contains("tritanopia"));
    CHECK(portion["lab_10_degree"].size() == 3);
}

TEST_CASE("tint: one dose in every unit is one colour; drops, ages, lamps and warnings are told") {
    const auto tint = [](const std::vector<std::string>& more) {
        std::vector<std::string> arguments{"tint", "--json"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const auto outcome = run(arguments);
        REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
        return Json::parse(outcome.out);
    };
    const Json grams = tint({"ultramarine-blue=7.7161791", "titanium-dioxide=4g/kg"});
    // 3.5 g to the level teaspoon, a pound of 0.45359237 kg.
    CHECK(grams["doses"][0]["teaspoons_per_pound_oils"].get<double>() == doctest::Approx(1).epsilon(1e-6));
    for (const std::string unit : {"g/kg-batter", "%", "tsp/lb", "drops/kg"}) {
        CAPTURE(unit);
        const char* key = unit == "g/kg-batter" ? "g_per_kg_batter"
                          : unit == "%"         ? "percent_of_batter"
                          : unit == "tsp/lb"    ? "teaspoons_per_pound_oils"
                                                : "drops_per_kg_oils";
        const double amount = grams["doses"][0][key].get<double>();
        const Json other = tint({"ultramarine-blue=" + std::to_string(amount) + unit, "titanium-dioxide=4"});
        CHECK(other["hex"] == grams["hex"]);
        CHECK(other["doses"][0]["g_per_kg_oils"].get<double>() == doctest::Approx(7.7161791).epsilon(1e-3));
    }
    const auto grams_of_drops = [&](const std::string& dispersion) {
        return tint({"iron-oxide-red=100drops/kg", "--dispersion", dispersion})["doses"][0]["g_per_kg_oils"]
            .get<double>();
    };
    CHECK(grams_of_drops("1:1,oil") > 1.8 * grams_of_drops("1:3,oil"));
    CHECK(grams_of_drops("1:3,glycerin") > grams_of_drops("1:3,water"));
    CHECK(grams_of_drops("1:3,water") > grams_of_drops("1:3,oil"));
    CHECK(grams_of_drops("1:3") == grams_of_drops("1:3,oil"));
    CHECK(grams["over_time"].size() == 4);
    CHECK(grams["over_time"][0]["likely"] != grams["over_time"][2]["likely"]);
    CHECK(grams["over_time"][0]["de00"] > 0);
    CHECK(grams["colour_inconstancy_de00"]["A"] > 1);
    CHECK(contains(tint({"dye-blue=1"})["warnings"].dump(), "bleeds"));
    CHECK(contains(run({"tint", "ultramarine-blue=1tsp/lb"}).out, "level tsp per lb of oils"));
    const ScratchFolder scratch;
    CHECK(run({"tint", "cocoa=10", "-o", scratch / "cocoa.png"}).code == 0);
    CHECK(bytes_of(scratch / "cocoa.png").substr(1, 3) == "PNG");
    for (const auto& [words, part] :
         std::vector<std::pair<std::string, std::string>>{{"ultramarine-blue", "no dose"},
                                                          {"ultramarine-blue=", "no amount"},
                                                          {"ultramarine-blue=nan", "no amount"},
                                                          {"ultramarine-blue=3 spoons", "unknown unit"},
                                                          {"ultramarine-blue=-3", "out of range"},
                                                          {"moon-dust=3", "no colourant"}}) {
        const auto outcome = run({"tint", words});
        CHECK(outcome.code == 2);
        CHECK_MESSAGE(contains(outcome.err, part), outcome.err);
    }
    CHECK(run({"tint", "cocoa=1", "--dispersion", "1:3,milk"}).code == 2);
}

TEST_CASE("colours: contrasts of the portions at the window and in the shop") {
    const Json out = Json::parse(run({"colours", demo_design("slipway"), "--json"}).out);
    const auto portions = out["portions"].size();
    CHECK(out["contrasts"].size() == portions * (portions - 1) / 2);
    CHECK(out["contrasts"][0]["de00"]["D65"] > 0);
    CHECK(out["contrasts"][0]["de00"]["FL11"] != out["contrasts"][0]["de00"]["D65"]);
    const std::string text = run({"colours", demo_design("slipway"), "--age", "6m"}).out;
    CHECK(contains(text, "Contrast of portions"));
    CHECK(contains(text, "colour inconstancy"));
    CHECK(contains(text, "likely between"));
}

TEST_CASE("colourway: a plate, and every PNG says that it is sRGB") {
    const ScratchFolder scratch;
    const auto outcome =
        run({"colourway", demo_design("slipway"), "-o", scratch / "plate.png", "--age", "6m"});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    const std::string bytes = bytes_of(scratch / "plate.png");
    CHECK(bytes.substr(37, 4) == "sRGB");
    // The chunk as a PNG of another program carries it: length 1, type, intent 0, CRC AECE1CE9.
    CHECK(bytes.substr(33, 13) == std::string("\0\0\0\1sRGB\0\xae\xce\x1c\xe9", 13));
}
