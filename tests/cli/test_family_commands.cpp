// The commands for comparing designs and for families of them, as a person runs them.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/program.h"
#include "text.h"

using namespace foreslice::testing;
using nlohmann::json;

namespace {

const std::string family = FORESLICE_SOURCE "/palettes/last-ferry.collection.json";

// A demo design that is quick to solve.
json quick_design() {
    auto design = json::parse(bytes_of(demo_design("slipway")));
    design["strokes"][0]["passes"]["count"] = 1;
    return design;
}

std::string written(const ScratchFolder& scratch, const std::string& name, const json& document) {
    const std::string file = scratch / name;
    std::ofstream(file) << document.dump(2);
    return file;
}

void refused(std::vector<std::string> arguments, const std::string& word) {
    const auto outcome = run(arguments);
    CHECK(outcome.code == 2);
    CHECK_MESSAGE(contains(outcome.err, word), outcome.err);
    CHECK(std::count(outcome.err.begin(), outcome.err.end(), '\n') <= 2);
}

}  // namespace

TEST_CASE("every command for families shows an example in its help") {
    for (const std::string command :
         {"orders", "vary", "diff", "lineup", "gallery", "contact", "made", "history", "merge"}) {
        const auto outcome = run({command, "--help"});
        CHECK(outcome.code == 0);
        CHECK_MESSAGE(contains(outcome.out, "Example:\n  foreslice " + command), outcome.out);
        CHECK(run({command}).code == 2);
    }
}

TEST_CASE("orders: a sheet, and every order as JSON") {
    const ScratchFolder scratch;
    const std::string design = written(scratch, "quick.json", quick_design()), sheet = scratch / "orders.png";
    const auto outcome = run({"orders", design, "-o", sheet, "--json", "--cells", "32", "--px-per-mm", "1",
                              "--groups", "4", "--most", "30", "--rank", "contrast,accent=2"});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    const auto out = json::parse(outcome.out);
    CHECK(out["orders"].size() <= 30);
    CHECK(contains(out["looked_at"], "of 720 orders"));
    CHECK(out["accent"] == "amber");
    CHECK(out["groups"].size() <= 4);
    double before = 1e9;
    for (const auto& order : out["orders"]) {
        CHECK(order["score"].get<double>() <= before);
        before = order["score"];
        CHECK(order["pours_from_the_floor"].size() == 6);
    }
    CHECK(std::filesystem::file_size(sheet) > 10000);
    auto other = quick_design();
    other["strokes"] = json::array();
    written(scratch, "other.foreslice.json", other);
    const auto apart = run({"orders", design, "--json", "--cells", "32", "--most", "16", "--rank", "apart",
                            "--collection", scratch / ""});
    REQUIRE_MESSAGE(apart.code == 0, apart.err);
    const auto ranked = json::parse(apart.out)["orders"];
    CHECK(ranked.front()["nearest_in_collection_de00"] > ranked.back()["nearest_in_collection_de00"]);
    refused({"orders", design, "--rank", "kin"}, "collection");
    refused({"orders", design, "--rank", "beauty"}, "contrast, clean, accent");
    refused({"orders", design, "--accent", "nobody"}, "ink, slate, salt");
    refused({"orders", design, "-o", scratch / "x.jpg"}, ".png");
    auto between = quick_design();
    between["strokes"][0]["after_pours"] = 2;
    refused({"orders", written(scratch, "between.json", between)}, "flow of its own");
}

TEST_CASE("vary: a grid, JSON and a table; unknown fields name their neighbours") {
    const ScratchFolder scratch;
    auto poured = quick_design();
    poured["strokes"] = json::array();
    const std::string design = written(scratch, "poured.json", poured), sheet = scratch / "vary.png",
                      table = scratch / "vary.csv";
    const auto outcome = run({"vary", design, "--over", "portions.salt.white.g_per_kg_oils=2,20", "--over",
                              "seed=1..2", "-o", sheet, "--csv", table, "--json", "--px-per-mm", "1"});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    const auto out = json::parse(outcome.out);
    REQUIRE(out["faces"].size() == 4);
    CHECK(out["faces"][1]["values"] == json::array({"20", "1"}));
    CHECK(out["faces"][0]["measures"]["contrast_de00"] != out["faces"][1]["measures"]["contrast_de00"]);
    const std::string csv = bytes_of(table);
    CHECK(std::count(csv.begin(), csv.end(), '\n') == 5);
    CHECK(csv.rfind("portions.salt.white.g_per_kg_oils,seed,contrast_de00,", 0) == 0);
    CHECK(std::filesystem::file_size(sheet) > 5000);
    refused({"vary", design, "--over", "mould.widht_mm=60,70", "--json"}, "mould.width_mm");
    refused({"vary", design, "--over", "mould.width_mm=60,7000", "--json"}, "mould.width_mm=7000");
    refused({"vary", design, "--over", "seed=1..3", "--over", "age_days=1,2", "--over", "seed=1", "--json"},
            "one or two");
    refused({"vary", design, "--over", "seed=1..2"}, "nothing to do");
    refused({"vary", design, "--over", "seed", "--json"}, "FIELD=");
}

TEST_CASE("diff: in words, as JSON, and both faces in one picture") {
    const ScratchFolder scratch;
    auto a = quick_design(), b = quick_design();
    a["strokes"] = json::array();
    b["strokes"] = json::array();
    b["batter"]["trace"] = "medium";
    b["portions"][2]["white"]["g_per_kg_oils"] = 12;
    const std::string one = written(scratch, "a.json", a), other = written(scratch, "b.json", b),
                      picture = scratch / "both.png";
    const auto outcome = run({"diff", one, other, "-o", picture, "--px-per-mm", "2"});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    CHECK(outcome.out == "light → medium trace\nsalt white: white, dose 8 → 12 g/kg\n");
    CHECK(std::filesystem::file_size(picture) > 5000);
    CHECK(run({"diff", one, one}).out == "no differences\n");
    CHECK(json::parse(run({"diff", one, other, "--json"}).out)[0]["field"] == "batter.trace");
    refused({"diff", one, scratch / "none.json"}, "no such file");
}

TEST_CASE("lineup: every point of the report, in words and as JSON") {
    const ScratchFolder scratch;
    auto a = quick_design(), b = quick_design();
    a["strokes"] = json::array();
    b["strokes"] = json::array();
    b["name"] = "Twin";
    b["portions"][3]["doses"][0]["g_per_kg_oils"] = 20;
    written(scratch, "a.foreslice.json", a);
    written(scratch, "b.foreslice.json", b);
    const std::string collection = written(scratch, "two.json", json::parse(R"({
        "format": "foreslice collection", "version": 1, "name": "Two", "margin_percent": 20,
        "designs": [{"file": "a.foreslice.json", "loaves": 2}, {"file": "b.foreslice.json"}]})"));
    const std::string picture = scratch / "lineup.png";
    const auto words = run({"lineup", collection, "-o", picture, "--px-per-mm", "1"});
    REQUIRE_MESSAGE(words.code == 0, words.err);
    for (const char* part :
         {"Two: 2 soaps", "lamp amber, in 2 soaps: drifted apart by dE00", "basin ink, in 2 soaps: held",
          "L* ", "C* ", "Slipway and Twin: dE00", "in one masterbatch", "salt white, ",
          "for 3 loaves, with a margin of 20 %", "ultramarine"})
        CHECK_MESSAGE(contains(words.out, part), words.out);
    const auto out =
        json::parse(run({"lineup", collection, "--json", "--px-per-mm", "1", "--margin", "0"}).out);
    CHECK(out["recurring_colours"][0]["id"] == "amber");
    CHECK(out["recurring_colours"][0]["drifted"] == true);
    CHECK(out["too_alike"].size() == 1);
    CHECK(out["designs"].size() == 2);
    CHECK(out["masterbatches"].size() == 5);
    CHECK(out["margin_percent"] == 0);
    for (const auto& need : out["pigments"])
        CHECK(need["to_order_g"].get<double>() >= need["needed_g"].get<double>());
    CHECK(std::filesystem::file_size(picture) > 10000);
    CHECK(json::parse(run({"lineup", scratch / "", "--json", "--px-per-mm", "1"}).out)["designs"].size() ==
          2);
    refused({"lineup", demo_design("slipway")}, "/format");
    refused({"lineup", scratch / "none.json"}, "no such file");
    const auto bad = json::parse(
        R"({"format": "foreslice collection", "version": 1, "designs": [{"file": "../x.json"}]})");
    refused({"lineup", written(scratch, "bad.json", bad)}, "beside the collection");
}

TEST_CASE("contact and gallery: files of the right kind, wrong names refused") {
    const ScratchFolder scratch;
    auto a = quick_design();
    a["strokes"] = json::array();
    const std::string design = written(scratch, "a.foreslice.json", a);
    const std::string pdf = scratch / "contact.pdf", page = scratch / "web";
    const auto outcome = run({"contact", design, "-o", pdf, "--px-per-mm", "2", "--crop-marks"});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    CHECK(bytes_of(pdf).rfind("%PDF-", 0) == 0);
    CHECK(contains(outcome.out, "11 bars on 3 pages"));
    CHECK(contains(run({"contact", scratch / "", "-o", pdf, "--px-per-mm", "2"}).out, "1 bar on 1 page"));
    REQUIRE(run({"gallery", scratch / "", "-o", page, "--px-per-mm", "2", "--orders", "0"}).code == 0);
    CHECK(bytes_of(page + "/index.html").rfind("<!DOCTYPE html>", 0) == 0);
    refused({"contact", design, "-o", scratch / "x.png"}, ".pdf");
    refused({"gallery", scratch / "", "-o", scratch / "no/such/x.html"}, "no folder");
    refused({"gallery", scratch / "none", "-o", page}, "no such file");
    auto large = a;
    large["mould"] = {{"width_mm", 400}, {"height_mm", 90}, {"length_mm", 100}, {"fill_mm", 80}};
    refused({"contact", written(scratch, "large.json", large), "-o", pdf, "--px-per-mm", "2"},
            "does not fit");
}

TEST_CASE("made and history: put down, shown, and started from") {
    const ScratchFolder scratch;
    const std::string design = written(scratch, "soap.foreslice.json", quick_design());
    CHECK(contains(run({"history", design}).out, "not made yet"));
    std::ofstream(scratch / "bars.jpg") << "x";
    const auto outcome =
        run({"made", design, "--date", "2026-03-14", "--weight", "salt=312", "--weight", "ink=400",
             "--temperature", "batter=34.5", "--note", "thickened fast", "--photo", scratch / "bars.jpg"});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    auto changed = quick_design();
    changed["batter"]["trace"] = "medium";
    written(scratch, "soap.foreslice.json", changed);
    REQUIRE(run({"made", design, "--date", "2026-04-01"}).code == 0);
    const std::string next = scratch / "next.foreslice.json";
    const auto words = run({"history", design, "--next", next});
    for (const char* part : {"2026-03-14  Slipway", "salt 312 g", "batter 34.5 °C", "note: thickened fast",
                             "photo: bars.jpg", "changed since the batch before:", "light → medium trace"})
        CHECK_MESSAGE(contains(words.out, part), words.out);
    const auto list = json::parse(run({"history", design, "--json"}).out);
    CHECK(list.size() == 2);
    CHECK(list[0]["weights_g"]["ink"] == 400);
    CHECK(list[1]["changed_since_the_batch_before"][0] == "light → medium trace");
    CHECK(run({"check", next}).code == 0);
    refused({"history", design, "--next", next}, "there already");
    refused({"made", design, "--date", "2026-02-30"}, "no date");
    refused({"made", design, "--weight", "nobody=3"}, "ink, slate, salt");
    refused({"made", design, "--weight", "salt"}, "PORTION=GRAMS");
    refused({"made", design, "--photo", scratch / "none.jpg"}, "no such file");
}

TEST_CASE("merge: two people's edits in one design") {
    const ScratchFolder scratch;
    auto base = quick_design(), ours = base, theirs = base;
    ours["mould"]["width_mm"] = 70;
    theirs["mould"]["height_mm"] = 95;
    const std::string a = written(scratch, "base.json", base), b = written(scratch, "ours.json", ours),
                      c = written(scratch, "theirs.json", theirs), out = scratch / "both.json";
    REQUIRE(run({"merge", a, b, c, "-o", out}).code == 0);
    const auto both = json::parse(bytes_of(out));
    CHECK(both["mould"]["width_mm"] == 70);
    CHECK(both["mould"]["height_mm"] == 95);
    theirs["mould"]["width_mm"] = 60;
    const auto clash = run({"merge", a, b, written(scratch, "theirs.json", theirs), "-o", out});
    CHECK(clash.code == 1);
    CHECK(contains(clash.err, "mould.width_mm"));
}
