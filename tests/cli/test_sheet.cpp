#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/program.h"
#include "text.h"

using namespace foreslice::testing;
using nlohmann::json;

namespace {

void check_refused(const std::vector<std::string>& arguments, const std::string& part) {
    const Outcome outcome = run(arguments);
    CHECK(outcome.code == 2);
    CHECK_MESSAGE(contains(outcome.err, part), outcome.err);
    CHECK(outcome.out.empty());
}

/// The demo soap with one field changed.
std::string changed(const ScratchFolder& scratch, const std::string& pointer, const json& value) {
    auto design = json::parse(bytes_of(demo_design("slipway")));
    design[json::json_pointer(pointer)] = value;
    const std::string file = scratch / "changed.foreslice.json";
    std::ofstream(file) << design.dump();
    return file;
}

}  // namespace

TEST_CASE("sheet: every kind of file is written") {
    const ScratchFolder scratch;
    const std::string slipway = demo_design("slipway");
    const std::pair<const char*, const char*> kinds[] = {{"s.pdf", "%PDF-1."},
                                                         {"s.html", "<!DOCTYPE html>"},
                                                         {"s.png", "\x89PNG"},
                                                         {"s.json", "{"},
                                                         {"s.csv", "soap,"}};
    for (const auto& [name, start] : kinds) {
        const std::string file = scratch / name;
        const Outcome outcome = run({"sheet", slipway, "-o", file, "--date", "2026-11-26", "--no-face"});
        CHECK_MESSAGE(outcome.code == 0, outcome.err);
        CHECK(contains(outcome.out, file));
        CHECK(contains(outcome.out, "Slipway, FS-"));
        CHECK_MESSAGE(bytes_of(file).starts_with(start), file);
    }
    CHECK(contains(bytes_of(scratch / "s.html"), "Thu 26 Nov 2026"));
}

TEST_CASE("sheet: no date is ever taken from the clock") {
    const ScratchFolder scratch;
    for (const char* name : {"a.pdf", "b.pdf"})
        CHECK(run({"sheet", demo_design("ropewalk"), "-o", scratch / name, "--no-face"}).code == 0);
    CHECK(bytes_of(scratch / "a.pdf") == bytes_of(scratch / "b.pdf"));
    CHECK(run({"sheet", demo_design("ropewalk"), "-o", scratch / "c.json"}).code == 0);
    const json out = json::parse(bytes_of(scratch / "c.json"));
    CHECK_FALSE(out.contains("date"));
    CHECK(out["calendar"][0]["value"] == "day 0");
}

TEST_CASE("sheet: options reach the figures") {
    const ScratchFolder scratch;
    const auto sheet = [&](std::vector<std::string> more) {
        std::vector<std::string> all{"sheet", demo_design("slipway"), "-o", scratch / "o.json"};
        all.insert(all.end(), more.begin(), more.end());
        const Outcome outcome = run(all);
        CHECK_MESSAGE(outcome.code == 0, outcome.err);
        return json::parse(bytes_of(scratch / "o.json"));
    };
    const json plain = sheet({});
    CHECK(plain["units"] == "metric");
    CHECK(plain["tables"][0]["rows"][0]["unit"] == "g");
    const json us = sheet({"--units", "us"});
    CHECK(us["tables"][0]["rows"][0]["unit"] == "oz");
    CHECK(us["jugs"][0]["powders"][0]["unit"] == "g");
    CHECK(us["figures"]["batter_g"] == plain["figures"]["batter_g"]);
    const json coarse =
        sheet({"--scale-resolution", "5g", "--fine-resolution", "1g", "--powder-resolution", "0.1g"});
    CHECK(coarse["tables"][0]["rows"][0]["weigh"].get<int>() % 5 == 0);
    CHECK(coarse["jugs"][0]["powders"][0]["weigh"] != plain["jugs"][0]["powders"][0]["weigh"]);
    const json oils = sheet({"--oils-weight", "500g"});
    CHECK(oils["figures"]["oils_g"] == 500);
    const json dated = sheet({"--date", "2026-11-26T09:30", "--batch", "A-17"});
    CHECK(dated["batch"] == "A-17");
    CHECK(contains(dated["calendar"][1]["value"].get<std::string>(), "09:30"));
    const json pastes = sheet({"--pastes"});
    const json& white = pastes["sheets"][0]["jugs"][2]["powders"][0];
    CHECK(white["paste"] == "1 : 3");
    CHECK(white["exact_g"].get<double>() ==
          doctest::Approx(4 * plain["jugs"][2]["powders"][0]["exact_g"].get<double>()).epsilon(1e-3));
    CHECK(pastes["collection"]["pastes"].size() >= 5);
    const json priced = sheet(
        {"--stock", (std::filesystem::path(FORESLICE_SOURCE) / "palettes" / "harbour-stock.csv").string()});
    CHECK(priced["cost"]["money"] == "EUR");
    CHECK(priced["cost_per_bar"].get<double>() > 0.1);
}

TEST_CASE("sheet: a collection gets its pastes and what is short") {
    const ScratchFolder scratch;
    const std::string stock =
        (std::filesystem::path(FORESLICE_SOURCE) / "palettes" / "harbour-stock.csv").string();
    const Outcome outcome = run({"sheet", (std::filesystem::path(FORESLICE_SOURCE) / "palettes").string(),
                                 "-o", scratch / "all.json", "--stock", stock, "--title", "Last Ferry"});
    CHECK_MESSAGE(outcome.code == 0, outcome.err);
    CHECK(contains(outcome.out, "short of "));
    const json out = json::parse(bytes_of(scratch / "all.json"));
    CHECK(out["sheets"].size() >= 10);
    CHECK(out["collection"]["title"] == "Last Ferry");
    CHECK(out["collection"]["pastes"].size() >= 5);
    double short_g = 0;
    for (const auto& line : out["collection"]["cost"]["lines"]) short_g += line["short_g"].get<double>();
    CHECK(short_g > 0);
}

TEST_CASE("sheet: nonsense is refused with a sentence, before anything is written") {
    const ScratchFolder scratch;
    const std::string out = scratch / "s.pdf", slipway = demo_design("slipway");
    check_refused({"sheet", slipway, "-o", scratch / "s.txt"}, "a name that ends in .pdf");
    check_refused({"sheet", slipway, "-o", (scratch / "none") + "/s.pdf"}, "there is no folder");
    check_refused({"sheet", slipway, "-o", out, "--date", "yesterday"}, "YYYY-MM-DD");
    check_refused({"sheet", slipway, "-o", out, "--scale-resolution", "0g"}, "no step of a scale");
    check_refused({"sheet", slipway, "-o", out, "--scale-resolution", "-1g"}, "no step of a scale");
    check_refused({"sheet", slipway, "-o", out, "--oils-weight", "-3g"}, "no mass");
    check_refused({"sheet", slipway, "-o", out, "--stock", scratch / "none.csv"}, "none.csv");
    check_refused({"sheet", changed(scratch, "/base/superfat_percent", 110), "-o", out}, "0 to 30");
    check_refused({"sheet", changed(scratch, "/base/lye_percent", 55), "-o", out}, "20 to 50");
    check_refused({"sheet", changed(scratch, "/mould/width_mm", 0), "-o", out}, "20 to 500");
    check_refused({"sheet", changed(scratch, "/batter/density_kg_per_m3", 3), "-o", out}, "500 to 1500");
    check_refused({"sheet", changed(scratch, "/recipe/oils/0/oil", "snake"), "-o", out}, "snake");
    check_refused({"sheet", changed(scratch, "/recipe/oils/0/percent", -4), "-o", out}, "-4");
    check_refused({"sheet", changed(scratch, "/recipe", json::object()), "-o", out},
                  "what its batter is made of");
    CHECK_FALSE(std::filesystem::exists(out));
}

TEST_CASE("sheet: what is risky is written and warned of") {
    const ScratchFolder scratch;
    const Outcome outcome =
        run({"sheet", changed(scratch, "/base/superfat_percent", 1), "-o", scratch / "s.pdf", "--no-face"});
    CHECK(outcome.code == 0);
    CHECK(contains(outcome.out, "In the worst case"));
    CHECK(contains(run({"check", changed(scratch, "/base/lye_percent", 45)}).out, "Lye of 45 %"));
}

TEST_CASE("sheet: the code on it is the one that check prints") {
    const ScratchFolder scratch;
    CHECK(run({"sheet", demo_design("net-loft"), "-o", scratch / "n.json"}).code == 0);
    const std::string code = json::parse(bytes_of(scratch / "n.json"))["code"];
    CHECK(contains(run({"check", demo_design("net-loft")}).out, code));
    CHECK_FALSE(contains(run({"check", demo_design("slipway")}).out, code));
}
