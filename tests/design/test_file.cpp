// Reading and writing: round trips, unknown fields, migration, how a saved file looks.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include <nlohmann/json.hpp>

#include "design/design_file.h"
#include "design/samples.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

using namespace foreslice;
using namespace foreslice::design;
using Json = nlohmann::json;

namespace {

Json reread(const Design& design) {
    return Json::parse(to_json(design));
}

}  // namespace

TEST_CASE("file: random documents come back equal, and the text is stable") {
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
        CAPTURE(seed);
        const Design design = samples::random(seed);
        const std::string text = to_json(design);
        const Design back = parse(text, "text");
        CHECK(back == design);
        CHECK(to_json(back) == text);
    }
}

TEST_CASE("file: random documents are valid by the fields' ranges") {
    int valid = 0;
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
        CAPTURE(seed);
        CHECK_NOTHROW(validate(samples::random(seed)));
        ++valid;
    }
    CHECK(valid == 300);
}

TEST_CASE("file: saved and loaded from disk") {
    const auto path = std::filesystem::temp_directory_path() / "foreslice-design-test.json";
    const Design design = samples::random(7);
    save(design, path);
    CHECK(load(path) == design);
    CHECK(read_file(path) == to_json(design));
    std::filesystem::remove(path);
    CHECK_THROWS_AS(save(design, path / "no" / "such" / "folder.json"), InputError);
}

TEST_CASE("file: defaults when a field is absent") {
    const Design design = parse(R"({"format": "foreslice design", "version": 2,
        "mould": {"width_mm": 65, "height_mm": 90, "length_mm": 280, "fill_mm": 80},
        "portions": [{"id": "all", "share_percent": 100}], "pours": [{"portion": "all"}],
        "strokes": [{"passes": {"count": 7}}]})",
                                "text");
    CHECK(design.name == "untitled");
    CHECK(design.batter == Batter{});
    CHECK(design.portions[0].name == "all");
    CHECK(design.portions[0].white == ColourantDose{"titanium-dioxide", 0});
    CHECK(design.pours[0] == Pour{.portion = "all", .part_percent = {}});
    CHECK(design.strokes[0] == Stroke{});
    CHECK(design.cut == Cut{});
    CHECK(design.seed == 1);
    CHECK_NOTHROW(validate(design));
}

TEST_CASE("file: unknown fields are kept wherever they stand") {
    const auto path = samples::data("v2/unknown-fields.json");
    const Design design = load(path);
    const Json before = Json::parse(read_file(path));
    const Json after = reread(design);
    // Everything that was there is still there with its value; only defaults were added.
    const Json patch = Json::diff(before, after);
    for (const auto& step : patch) {
        CAPTURE(step.dump());
        CHECK(step["op"] == "add");
    }
    CHECK(after["portions"][0]["doses"][0]["lot"] == "B7");
    CHECK(after["strokes"][0]["passes"]["rhythm"] == "slow");
}

TEST_CASE("file: unknown fields follow their portion and pour through reordering and removal") {
    Design design = load(samples::data("v2/unknown-fields.json"));
    std::swap(design.portions[0], design.portions[1]);
    std::swap(design.pours[0], design.pours[1]);  // salt, ink, ink
    Json after = reread(design);
    CHECK(after["portions"][0]["jug"] == 2);
    CHECK(after["portions"][1]["jug"] == 1);
    CHECK(after["pours"][0]["minute"] == 2);
    CHECK(after["pours"][1]["minute"] == 1);
    CHECK(after["pours"][2]["minute"] == 3);
    design.portions.pop_back();  // ink goes
    design.strokes.clear();
    after = reread(design);
    CHECK(after["portions"].size() == 1);
    CHECK(after["portions"][0]["jug"] == 2);
    CHECK(after["portions"][0]["white"]["lot"] == "W2");
    CHECK(after["studio"]["zoom"] == 1.5);
}

TEST_CASE("file: a known field that was taken out does not come back") {
    Design design = load(samples::data("v2/unknown-fields.json"));
    design.pours[0].part_percent.reset();
    design.batter.trace = std::nullopt;
    const Json after = reread(design);
    CHECK_FALSE(after["pours"][0].contains("part_percent"));
    CHECK_FALSE(after["batter"].contains("trace"));
    CHECK(after["batter"]["spoon"] == "stands");
}

TEST_CASE("file: version 1 migrates") {
    const Design design = load(samples::data("v1/two-portions.json"));
    CHECK(design.mould == Mould{65, 90, 280, 78.8});
    REQUIRE(design.portions.size() == 2);
    CHECK(design.portions[0].white == ColourantDose{"titanium-dioxide", 0.5});
    CHECK(design.portions[1].white == ColourantDose{"titanium-dioxide", 6});
    REQUIRE(design.pours.size() == 3);
    CHECK(design.pours[0].portion == "ink");
    CHECK(design.pours[1].portion == "salt");
    CHECK(design.pours[2].portion == "ink");
    CHECK(std::get<Passes>(design.strokes[0].path).count == 5);
    CHECK_NOTHROW(validate(design));
    CHECK(reread(design)["version"] == file_version);
    CHECK(parse(to_json(design), "again") == design);
}

TEST_CASE("file: every version 1 file in the corpus loads, validates and keeps its unknown fields") {
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(samples::data("v1"))) {
        CAPTURE(entry.path().string());
        const Design design = load(entry.path());
        CHECK_NOTHROW(validate(design, samples::library()));
        ++count;
    }
    CHECK(count >= 3);
    const Json after = reread(load(samples::data("v1/unknown-fields.json")));
    CHECK(after["maker"]["kept"][2].contains("x"));
    CHECK(after["mould"]["liner"] == "paper");
    CHECK(after["portions"][1]["jug"] == 3);
    CHECK(after["strokes"][1]["hand"] == "left");
    CHECK(after["batter"]["spoon"] == "stands");
    CHECK_FALSE(after.contains("layers"));
    CHECK_FALSE(after["mould"].contains("width_cm"));
}

TEST_CASE("file: order of fields, one field a line, points on one line, whole numbers without .0") {
    Design design = samples::plain();
    design.strokes = {{6, 50, Waypoints{{{10, 84}, {20.5, 10}, {30, 84}}}}};
    const std::string text = to_json(design);
    const char* const in_order[] = {
        "{\n  \"format\": \"foreslice design\",\n  \"version\": 2,\n  \"name\": ",
        "\n  \"mould\": {\n    \"width_mm\": 65,\n    \"height_mm\": 90,\n",
        "\n  \"batter\": {\n    \"trace\": \"light\"",
        "\n  \"portions\": [\n    {\n      \"id\": \"ink\",",
        "\n  \"pours\": [\n    {\n      \"portion\": \"ink\",\n      \"part_percent\": 50,\n",
        "\"waypoints_mm\": [\n        [10, 84],\n        [20.5, 10],\n",
        "\n  \"cut\": {",
        "\n  \"seed\": 1\n}\n"};
    std::size_t at = 0;
    for (const char* part : in_order) {
        CAPTURE(part);
        const std::size_t found = text.find(part, at);
        REQUIRE(found != std::string::npos);
        at = found;
    }
    CHECK(text.find('\r') == std::string::npos);
}

TEST_CASE("file: text in memory that is not UTF-8 is refused by validate and mended by to_json") {
    Design design = samples::plain();
    design.name = "ba\xc3(se";
    CHECK_THROWS_AS(validate(design), InputError);
    CHECK(parse(to_json(design), "text").name == "ba\xef\xbf\xbd(se");
    for (const char* bad : {"\xff", "\xc0\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\xe2\x82", "\x80"}) {
        design.name = bad;
        CHECK_THROWS_AS(validate(design), InputError);
    }
    for (const char* good : {"", "a", "\xc3\xa9", "\xe2\x82\xac", "\xf0\x9f\x8c\x92", "\xf4\x8f\xbf\xbf"}) {
        design.name = good;
        CHECK_NOTHROW(validate(design));
    }
}
