// palette, match, swatch, colourway and --age, run as a person does.
#include <doctest/doctest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.h"
#include "colour/ageing.h"
#include "colour/pigment.h"
#include "picture/draw.h"
#include "picture/image.h"

using namespace foreslice;
using namespace foreslice::testing;
using Json = nlohmann::json;

namespace {

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

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
