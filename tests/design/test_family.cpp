// Collections, what can be said of them as a whole, orders of layers, and records of what was made.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <numeric>
#include <set>

#include "design/collection.h"
#include "design/design_file.h"
#include "design/family.h"
#include "design/layer_orders.h"
#include "design/made.h"
#include "design/samples.h"
#include "design/tint.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/random.h"
#include "foundation/text_file.h"

using namespace foreslice;
using namespace foreslice::design;
namespace fs = std::filesystem;

namespace {

const fs::path palettes = fs::path(FORESLICE_SOURCE) / "palettes";

Design demo(const std::string& name) {
    return load(palettes / (name + ".foreslice.json"));
}

std::string refusal(const std::string& json) {
    try {
        parse_collection(json, "a/family.json");
        return "";
    } catch (const InputError& error) {
        CHECK(error.file() == "a/family.json");
        return error.what();
    }
}

std::string with_designs(const std::string& rest) {
    return R"({"format": "foreslice collection", "version": 1, )" + rest + "}";
}

std::vector<Pour> pours_of(const std::vector<std::string>& portions) {
    std::vector<Pour> pours(portions.size());
    for (std::size_t i = 0; i < portions.size(); ++i) pours[i].portion = portions[i];
    return pours;
}

struct Scratch {
    fs::path folder =
        fs::temp_directory_path() /
        ("foreslice-family-" + std::to_string(mixed_bits(static_cast<std::uint64_t>(
                                   fs::file_time_type::clock::now().time_since_epoch().count()))));
    Scratch() { fs::create_directories(folder); }
    ~Scratch() { fs::remove_all(folder); }
};

}  // namespace

TEST_CASE("collection file: the demo names every demo design, in canonical form") {
    const auto file = palettes / "last-ferry.collection.json";
    const Collection collection = load_collection(file);
    CHECK(read_file(file) == to_json(collection));
    CHECK(is_collection(file));
    CHECK_FALSE(is_collection(palettes / "slipway.foreslice.json"));
    CHECK_FALSE(is_collection(palettes / "none.json"));
    std::set<std::string> named, there;
    for (const auto& member : collection.members) named.insert(member.file);
    for (const auto& entry : fs::directory_iterator(palettes))
        if (entry.path().string().ends_with(".foreslice.json"))
            there.insert(entry.path().filename().string());
    CHECK(named == there);
    for (const auto& member : collection.members)
        CHECK(load_member(collection, member) == load(palettes / member.file));
}

TEST_CASE("collection file: defaults fill what a design leaves out, and nothing else") {
    const Scratch scratch;
    std::ofstream(scratch.folder / "one.json") << R"({"format": "foreslice design", "version": 2,
        "mould": {"width_mm": 70}, "batter": {"yield_stress_pa": 20, "consistency_pa_sn": 10, "flow_index": 0.5},
        "portions": [{"id": "all", "share_percent": 100}], "pours": [{"portion": "all"}]})";
    std::ofstream(scratch.folder / "family.json") << with_designs(R"("kept": [1, 2], "defaults": {
        "mould": {"width_mm": 65, "height_mm": 90, "length_mm": 280, "fill_mm": 80},
        "batter": {"trace": "light", "density_kg_per_m3": 1030}, "cut": {"trim_mm": 9},
        "strokes": [{"passes": {"count": 3}}]}, "designs": [{"file": "one.json", "loaves": 3}])");
    const Collection collection = load_collection(scratch.folder / "family.json");
    const Design design = load_member(collection, collection.members[0]);
    CHECK(design.mould.width_mm == 70);
    CHECK(design.mould.height_mm == 90);
    CHECK_FALSE(design.batter.trace);
    CHECK(design.batter.density_kg_per_m3 == 1030);
    CHECK(design.cut.trim_mm == 9);
    CHECK(design.strokes.size() == 1);
    CHECK(collection.members[0].loaves == 3);
    CHECK(to_json(parse_collection(to_json(collection), collection.file)) == to_json(collection));
    CHECK(to_json(collection).find("\"kept\"") != std::string::npos);
}

TEST_CASE("collection file: faults are named with their place; no path leads out of the folder") {
    CHECK(refusal("[]").find("object") != std::string::npos);
    CHECK(refusal("{}").find("/format") != std::string::npos);
    CHECK(refusal(with_designs(R"("designs": [])")).find("1 to 200") != std::string::npos);
    CHECK(refusal(with_designs(R"("designs": [{"file": "a.json"}, {"file": "a.json"}])")).find("twice") !=
          std::string::npos);
    CHECK(
        refusal(with_designs(R"("designs": [{"file": "a.json", "loaves": -1}])")).find("/designs/0/loaves") !=
        std::string::npos);
    CHECK(
        refusal(with_designs(R"("margin_percent": 400, "designs": [{"file": "a.json"}])")).find("0 to 100") !=
        std::string::npos);
    CHECK(refusal(with_designs(R"("defaults": {"portions": []}, "designs": [{"file": "a.json"}])"))
              .find("cannot be shared") != std::string::npos);
    CHECK(refusal(R"({"format": "foreslice collection", "version": 9})").find("newer") != std::string::npos);
    for (const char* path : {"/etc/passwd", "../a.json", "a/../../b.json", "..\\\\a.json", "", "a\\u0000b"})
        CHECK_MESSAGE(refusal(with_designs(std::string(R"("designs": [{"file": ")") + path + R"("}])"))
                              .find("beside the collection") != std::string::npos,
                      path);
    CHECK_FALSE(refusal(std::string(100000, '[')).empty());
}

TEST_CASE("family: grams add up by hand") {
    // 65 x 78.8 x 280 mm at 1016 kg/m3, and 5 g in each of six jugs.
    const Design design = demo("slipway");
    CHECK(batter_of_loaf_g(design) == doctest::Approx(0.65 * 0.788 * 2.8 * 1016 + 30).epsilon(1e-9));
    const double oils_g = batter_of_loaf_g(design) / batter_kg_per_kg_oils(design);
    CHECK(oils_of_portion_g(design, design.portions[0]) == doctest::Approx(0.25 * oils_g));
    const auto report = family_report({{design, 3}}, samples::library(), 10);
    const auto ultramarine = std::find_if(report.pigments.begin(), report.pigments.end(),
                                          [](const auto& need) { return need.id == "ultramarine-blue"; });
    REQUIRE(ultramarine != report.pigments.end());
    const double g = 3 * oils_g / 1000 * (0.25 * 12 + 0.20 * 3.2 + 0.15 * 4.4);
    CHECK(ultramarine->needed_g == doctest::Approx(g));
    CHECK(ultramarine->to_order_g == std::ceil(1.1 * g));
    double all = 0;
    for (const auto& need : report.pigments) all += need.needed_g;
    double doses = 0;
    for (const auto& portion : design.portions)
        for (const auto& dose : doses_of(portion, design, samples::library()))
            doses += 3 * dose.g_per_kg_oils * oils_of_portion_g(design, portion) / 1000;
    CHECK(all == doctest::Approx(doses));
}

TEST_CASE("family: colours that come back are told apart when they drift") {
    Design a = demo("slipway"), b = a;
    b.name = "other";
    auto report = family_report({{a, 1}, {b, 1}}, samples::library(), 0);
    REQUIRE(report.recurring.size() == a.portions.size());
    for (const auto& colour : report.recurring) CHECK(colour.most_de00 == 0);
    b.portions[3].doses[0].g_per_kg_oils = 20;  // lamp amber
    report = family_report({{a, 1}, {b, 1}}, samples::library(), 0);
    CHECK(report.recurring[0].id == "amber");  // what drifted stands first
    CHECK(report.recurring[0].drifted());
    CHECK(report.recurring[0].most_de00 ==
          doctest::Approx(colour::ciede2000(colour_of(a.portions[3], a, samples::library()).lab,
                                            colour_of(b.portions[3], b, samples::library()).lab)));
    CHECK_FALSE(report.recurring[1].drifted());
}

TEST_CASE("family: one masterbatch for equal recipes, none within one soap alone") {
    Design a = demo("slipway"), b = a;
    b.portions[3].doses[0].g_per_kg_oils *= 1.01;  // within what a scale tells apart
    b.portions[4].doses[0].g_per_kg_oils *= 1.2;
    const auto report = family_report({{a, 1}, {b, 2}}, samples::library(), 0);
    std::set<std::string> names;
    for (const auto& batch : report.masterbatches) {
        names.insert(batch.name);
        CHECK(batch.parts.size() == 2);
        double g = 0;
        for (const auto& part : batch.parts) g += part.batter_g;
        CHECK(batch.batter_g == doctest::Approx(g));
    }
    CHECK(names.contains("lamp amber"));
    CHECK_FALSE(names.contains("dusk mauve"));
    CHECK(std::is_sorted(report.masterbatches.begin(), report.masterbatches.end(),
                         [](const auto& x, const auto& y) { return x.batter_g > y.batter_g; }));
    a.portions[1].doses = a.portions[0].doses;
    a.portions[1].white = a.portions[0].white;
    CHECK(family_report({{a, 1}}, samples::library(), 0).masterbatches.empty());
    CHECK(report.all.least_lightness <= report.of_design[0].least_lightness);
    CHECK(report.all.most_chroma >= report.of_design[1].most_chroma);
}

TEST_CASE("orders: all 720 of six different layers, each once, the design's own first") {
    const Layers layers(demo("slipway"));
    CHECK(layers.orders() == 720);
    const auto all = layers.all(10000);
    REQUIRE(all.size() == 720);
    CHECK(all[0] == layers.as_designed());
    std::set<std::vector<int>> kinds;
    for (const auto& order : all) kinds.insert(layers.kinds_of(order));
    CHECK(kinds.size() == 720);
    CHECK(layers.in_order(all[0]) == demo("slipway"));
}

TEST_CASE("orders: equal layers count once; n! over the factorials of the repeats") {
    Design design = demo("slipway");
    design.pours = pours_of({"ink", "salt", "ink", "salt", "ink"});
    const Layers layers(design);
    CHECK(layers.orders() == 10);  // 5! / (3! 2!)
    CHECK(layers.all(100).size() == 10);
    design.pours[2].unevenness_mm = 3;  // no longer the same layer
    CHECK(Layers(design).orders() == 30);
    CHECK(Layers(design).all(1000).size() == 30);
}

TEST_CASE("orders: layers that go in together stay together") {
    Design design = demo("slipway");
    design.pours = pours_of({"ink", "salt", "amber", "dusk", "tide", "slate"});
    design.pours[2].with_previous = true;
    const Layers layers(design);
    CHECK(layers.count() == 5);
    for (const auto& order : layers.all(1000)) CHECK_NOTHROW(validate(layers.in_order(order)));
    CHECK(layers.name_of(1) == "salt white with lamp amber");
    CHECK(layers.holds(1, "amber"));
    design.pours[2].with_previous = false;
    design.strokes[0].after_pours = 3;
    CHECK_THROWS_WITH_AS(Layers{design}, doctest::Contains("flow of its own"), InputError);
    CHECK_FALSE(orders_share_a_flow(design));
    design.strokes[0].after_pours = std::nullopt;
    CHECK(orders_share_a_flow(design));
    design.portions[2].times_as_thick = 3;
    CHECK_THROWS_WITH_AS(Layers{design}, doctest::Contains("not equally thick"), InputError);
    design.strokes.clear();
    CHECK_NOTHROW(Layers{design});
}

TEST_CASE("orders: a search beyond the limit is seeded, keeps to it, and climbs") {
    Design design = demo("slipway");
    for (int i = 0; i < 4; ++i) {
        Pour pour;
        pour.portion = "ink";
        pour.unevenness_mm = 1 + i;
        design.pours.push_back(pour);
    }
    const Layers layers(design);
    CHECK(layers.orders() == doctest::Approx(3628800));
    // Worth: how many neighbours stand as in one hidden order.
    LayerOrder hidden(10);
    std::iota(hidden.rbegin(), hidden.rend(), std::size_t{0});
    std::swap(hidden[2], hidden[7]);
    const auto worth = [&](const std::vector<LayerOrder>& orders) {
        std::vector<double> values;
        for (const auto& order : orders) {
            double same = 0;
            for (std::size_t i = 0; i < order.size(); ++i) same += order[i] == hidden[i] ? 1 : 0;
            values.push_back(same);
        }
        return values;
    };
    const auto search = search_orders(layers, 6000, 3, worth), again = search_orders(layers, 6000, 3, worth);
    CHECK(search.orders == again.orders);
    CHECK(search.orders.size() <= 6000);
    std::set<std::vector<int>> kinds;
    for (const auto& order : search.orders) kinds.insert(layers.kinds_of(order));
    CHECK(kinds.size() == search.orders.size());
    const auto shuffled = layers.sample(3000, 3);
    const auto by_shuffle = worth(shuffled);
    CHECK(*std::max_element(search.worth.begin(), search.worth.end()) == 10);  // found
    CHECK(*std::max_element(by_shuffle.begin(), by_shuffle.end()) < 10);       // not by the shuffle alone
    CHECK(search.how.find("3.6288e+06") == std::string::npos);
    CHECK(search.how.find("seed 3") != std::string::npos);
}

TEST_CASE("orders: in words") {
    const Layers layers(demo("slipway"));
    const auto words = [&](LayerOrder order) { return words_of(order, layers, "amber"); };
    CHECK(words({0, 1, 2, 3, 4, 5}) == "as designed");
    CHECK(words({5, 4, 3, 2, 1, 0}) == "turned upside down");
    CHECK(words({0, 1, 2, 5, 4, 3}) == "lamp amber and tide blue change places");
    CHECK(words({3, 0, 1, 2, 4, 5}) == "lamp amber 3 layers down");
    CHECK(words({0, 2, 1, 5, 3, 4}) == "lamp amber between tide blue and dusk mauve");
    CHECK(words({3, 5, 0, 2, 1, 4}) == "lamp amber at the floor, under tide blue");
    CHECK(stack_words({0, 1, 2, 3, 4, 5}, layers) ==
          "tide blue, dusk mauve, lamp amber, salt white, quay slate, basin ink");
}

TEST_CASE("made: kept beside the plan, in the order of dates, with the plan as it was") {
    const Scratch scratch;
    const auto plan = scratch.folder / "soap.foreslice.json";
    save(demo("slipway"), plan);
    CHECK(made_file_of(plan) == scratch.folder / "soap.made.json");
    CHECK(load_made(plan).empty());
    MadeBatch late{"2026-03-14",    "thickened fast",   "photos/a.jpg",
                   {{"salt", 312}}, {{"batter", 34.5}}, demo("slipway")};
    MadeBatch early = late;
    early.date = "2025-12-31";
    early.design.name = "before";
    add_made(plan, late);
    add_made(plan, early);
    const auto batches = load_made(plan);
    REQUIRE(batches.size() == 2);
    CHECK(batches[0].date == "2025-12-31");
    CHECK(batches[1].notes == "thickened fast");
    CHECK(batches[1].photo == "photos/a.jpg");
    CHECK(batches[1].weights_g == late.weights_g);
    CHECK(batches[1].temperatures_c == late.temperatures_c);
    CHECK(batches[0].design == early.design);
    CHECK(load(plan) == demo("slipway"));  // the plan stays a plan
    CHECK(to_json(parse_made(to_json(batches), "x")) == to_json(batches));
}

TEST_CASE("made: what cannot be is refused, and nothing is written") {
    const Scratch scratch;
    const auto plan = scratch.folder / "soap.foreslice.json";
    const MadeBatch good{"2026-02-28", "", "", {}, {}, demo("slipway")};
    const auto refused = [&](auto change) {
        MadeBatch batch = good;
        change(batch);
        CHECK_THROWS_AS(add_made(plan, batch), InputError);
    };
    for (const char* date : {"", "yesterday", "2026-02-29", "2026-13-01", "2026-00-10", "2026-1-1",
                             "2100-02-29", "2026-04-31", "20260228"})
        refused([&](MadeBatch& batch) { batch.date = date; });
    refused([](MadeBatch& batch) { batch.weights_g = {{"nobody", 3}}; });
    refused([](MadeBatch& batch) { batch.weights_g = {{"salt", -3}}; });
    refused([](MadeBatch& batch) { batch.weights_g = {{"salt", std::nan("")}}; });
    refused([](MadeBatch& batch) { batch.temperatures_c = {{"batter", 400}}; });
    refused([](MadeBatch& batch) { batch.photo = "../../elsewhere.jpg"; });
    CHECK_FALSE(fs::exists(made_file_of(plan)));
    MadeBatch leap = good;
    leap.date = "2024-02-29";
    CHECK_NOTHROW(add_made(plan, leap));
    std::ofstream(made_file_of(plan))
        << R"({"format": "foreslice batches made", "version": 1, "batches": [{}]})";
    CHECK_THROWS_WITH_AS(load_made(plan), doctest::Contains("/batches/0/date"), InputError);
    CHECK_THROWS_AS(add_made(plan, good), InputError);  // a record that cannot be read is not written over
    CHECK(read_file(made_file_of(plan)).find("[{}]") != std::string::npos);
}

TEST_CASE("made: the next batch starts from what was weighed") {
    MadeBatch batch{"2026-03-14", "more white", "", {}, {}, demo("slipway")};
    CHECK(next_from(batch).portions == batch.design.portions);
    CHECK(next_from(batch).notes.ends_with("Made 2026-03-14: more white"));
    for (const auto& portion : batch.design.portions)
        batch.weights_g.emplace_back(portion.id, portion.id == "amber" ? 200 : 100);
    const Design next = next_from(batch);
    CHECK_NOTHROW(validate(next));
    CHECK(next.portions[3].share_percent == doctest::Approx(100 * 200.0 / 700));
    batch.weights_g.pop_back();  // one was not weighed: the plan's shares stay
    CHECK(next_from(batch).portions == batch.design.portions);
}
