// A picture that carries its design opens it again, bit for bit, with every command that takes a design.
#include <doctest/doctest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/program.h"

using namespace foreslice::testing;
using nlohmann::json;

namespace {

// A demo design that is quick to solve.
std::string quick_design(const ScratchFolder& scratch) {
    auto design = json::parse(bytes_of(demo_design("slipway")));
    design["strokes"][0]["passes"]["count"] = 1;
    const std::string file = scratch / "quick.foreslice.json";
    std::ofstream(file) << design.dump();
    return file;
}

}  // namespace

TEST_CASE("sharing: a face opens from its own picture and is drawn again as it was, bit for bit") {
    const ScratchFolder scratch;
    const std::string first = scratch / "first.png", again = scratch / "again.png",
                      bare = scratch / "bare.png", other = scratch / "other.png";
    REQUIRE(
        run({"face", quick_design(scratch), "-o", first, "--bar", "3", "--px-per-mm", "3", "--cells", "48"})
            .code == 0);
    const auto outcome = run({"face", first, "-o", again});
    REQUIRE_MESSAGE(outcome.code == 0, outcome.err);
    CHECK(bytes_of(first) == bytes_of(again));
    CHECK(outcome.out.find("bar 3 of 11") != std::string::npos);
    REQUIRE(run({"face", first, "-o", bare, "--without-design"}).code == 0);
    CHECK(bytes_of(bare) != bytes_of(first));
    CHECK(run({"face", bare, "-o", again}).code == 2);
    CHECK(run({"face", bare, "-o", again}).err.find("carries no design") != std::string::npos);
    REQUIRE(run({"face", first, "-o", other, "--bar", "5"}).code == 0);  // what is asked for counts
    CHECK(bytes_of(other) != bytes_of(first));
}

TEST_CASE("sharing: every command that takes a design takes a picture with one") {
    const ScratchFolder scratch;
    const std::string design = quick_design(scratch), picture = scratch / "colours.png";
    REQUIRE(run({"colourway", design, "-o", picture, "--scale", "0.5"}).code == 0);
    const auto by_file = run({"colours", design, "--json"}), by_picture = run({"colours", picture, "--json"});
    CHECK(by_picture.code == 0);
    CHECK(json::parse(by_picture.out)["portions"] == json::parse(by_file.out)["portions"]);
    CHECK(run({"check", picture}).code == 0);
    CHECK(run({"loaf", picture, "-o", picture}).err.find("would be overwritten") != std::string::npos);
}

TEST_CASE("sharing: colourants that only the sender has come along") {
    const ScratchFolder scratch;
    auto library = json::parse(bytes_of(FORESLICE_SOURCE "/palettes/colourants.json"));
    auto design = json::parse(bytes_of(demo_design("ropewalk")));
    library["colourants"].push_back(library["colourants"][0]);
    library["colourants"].back()["id"] = "quay-only";
    design["portions"][0]["doses"] = {{{"colourant", "quay-only"}, {"g_per_kg_oils", 3}}};
    const std::string colourants = scratch / "own.json", file = scratch / "own.foreslice.json",
                      picture = scratch / "own.png";
    std::ofstream(colourants) << library.dump();
    std::ofstream(file) << design.dump();
    CHECK(run({"check", file}).code == 2);
    REQUIRE(run({"colourway", file, "--colourants", colourants, "-o", picture, "--scale", "0.5"}).code == 0);
    const auto there = run({"colours", file, "--colourants", colourants, "--json"}),
               here = run({"colours", picture, "--json"});
    REQUIRE_MESSAGE(here.code == 0, here.err);
    CHECK(json::parse(here.out)["portions"] == json::parse(there.out)["portions"]);
}

TEST_CASE("sharing: files that are no pictures of ours are refused in one sentence") {
    const ScratchFolder scratch;
    const std::string file = scratch / "cut.png", picture = scratch / "x.png";
    REQUIRE(run({"colourway", demo_design("ropewalk"), "-o", picture, "--scale", "0.5"}).code == 0);
    const std::string whole = bytes_of(picture);
    for (const std::size_t size : {std::size_t{9}, std::size_t{40}, std::size_t{300}}) {
        std::ofstream(file, std::ios::binary) << whole.substr(0, size);
        const auto outcome = run({"check", file});
        CHECK(outcome.code == 2);
        CHECK_MESSAGE(outcome.err.find("cut short") != std::string::npos, outcome.err);
    }
}
