#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/program.h"
#include "text.h"

using namespace foreslice::testing;
using nlohmann::json;

namespace {

const std::vector<std::string> commands{"face", "colours", "flow", "check", "loaf", "demo", "sheet"};

struct Size {
    unsigned width = 0, height = 0;
};

// From the header of a PNG file (PNG specification, 2nd ed., 11.2.2 IHDR: big-endian width and height).
Size png_size(const std::string& bytes) {
    REQUIRE(bytes.size() > 24);
    REQUIRE(bytes.substr(1, 3) == "PNG");
    const auto number = [&](std::size_t at) {
        unsigned value = 0;
        for (std::size_t i = at; i < at + 4; ++i) value = value * 256 + static_cast<unsigned char>(bytes[i]);
        return value;
    };
    return {number(16), number(20)};
}

// A copy of a demo design that is quick to solve.
std::string small_design(const ScratchFolder& scratch) {
    auto design = json::parse(bytes_of(demo_design("slipway")));
    design["strokes"][0]["passes"]["count"] = 2;
    const std::string file = scratch / "small.foreslice.json";
    std::ofstream(file) << design.dump();
    return file;
}

}  // namespace

TEST_CASE("help of the program and of every command shows an example") {
    CHECK(run({"--help"}).code == 0);
    CHECK(contains(run({"--help"}).out, "Example:\n  foreslice face "));
    for (const auto& command : commands) {
        const auto outcome = run({command, "--help"});
        CHECK(outcome.code == 0);
        CHECK(outcome.err.empty());
        CHECK_MESSAGE(contains(outcome.out, "Example:\n  foreslice " + command), outcome.out);
    }
    CHECK(contains(run({"--version"}).out, "foreslice 0."));
}

TEST_CASE("wrong use ends with 2, says what is wrong and where to look") {
    const ScratchFolder scratch;
    const std::vector<std::vector<std::string>> uses{
        {},
        {"paint"},
        {"face"},
        {"face", demo_design("slipway"), "-o"},
        {"face", demo_design("slipway"), "-o", scratch / "x.png", "--bar", "one"},
        {"face", demo_design("slipway"), "-o", scratch / "x.png", "--stage", "baked"},
        {"face", demo_design("slipway"), "-o", scratch / "x.png", "--cells", "3"},
        {"face", demo_design("slipway"), "-o", scratch / "x.png", "--threads", "-1"},
        {"face", demo_design("slipway"), "-o", scratch / "x.png", "--colour"},
        {"colours"},
        {"check", demo_design("slipway"), demo_design("ropewalk")},
        {"flow", demo_design("slipway"), "--path-fraction", "1.5"},
        {"demo"}};
    for (const auto& use : uses) {
        const auto outcome = run(use);
        CHECK(outcome.code == 2);
        CHECK(outcome.out.empty());
        CHECK(contains(outcome.err, "foreslice: "));
        CHECK(contains(outcome.err, "--help"));
    }
}

TEST_CASE("values that cannot be are refused with what is allowed") {
    const ScratchFolder scratch;
    const auto refused = [&](std::vector<std::string> arguments, const std::string& word) {
        const auto outcome = run(arguments);
        CHECK(outcome.code == 2);
        CHECK_MESSAGE(contains(outcome.err, word), outcome.err);
    };
    const std::string design = demo_design("slipway"), picture = scratch / "x.png";
    refused({"face", design, "-o", picture, "--bar", "99"}, "1 to 11");
    refused({"face", design, "-o", picture, "--bar", "0"}, "1 to 11");
    refused({"face", design, "-o", picture, "--px-per-mm", "0.1"}, "0.5 to 60");
    refused({"face", design, "-o", picture, "--px-per-mm", "1e9"}, "0.5 to 60");
    refused({"face", design, "-o", picture, "--px-per-mm", "nan"}, "0.5 to 60");
    refused({"face", design, "-o", scratch / "x.jpg"}, ".png");
    refused({"face", design}, "--json");
    refused({"face", design, "--json", "--bar", "99"}, "1 to 11");
    refused({"face", design, "-o", scratch / "no/such/x.png"}, "no folder");
    refused({"loaf", design, "-o", picture, "--px-per-mm", "0.1"}, "1 to 12");
    refused({"loaf", design, "-o", scratch / "x.gif"}, ".png");
    refused({"flow", design, "--path-fraction", "nan"}, "0 to 1");
    refused({"flow", design, "--probe", "3"}, "X,Y");
    refused({"flow", design, "--probe", "a,b"}, "X,Y");
    refused({"flow", design, "--probe", "-1,5"}, "outside the batter");
    refused({"flow", design, "--probe", "5,5000"}, "outside the batter");
    refused({"flow", demo_design("ropewalk"), "--probe", "5,5"}, "no stroke");
    refused({"demo", "-o", scratch / "out", "--designs", scratch / "none"}, "not a folder");
    std::ofstream(scratch / "file") << "x";
    refused({"demo", "-o", scratch / "file"}, "folder");
    CHECK_FALSE(std::filesystem::exists(picture));
}

TEST_CASE("a face too large to draw is refused before any work, with its size") {
    const ScratchFolder scratch;
    auto design = json::parse(bytes_of(demo_design("ropewalk")));
    design["mould"] = {{"width_mm", 400}, {"height_mm", 400}, {"length_mm", 400}, {"fill_mm", 400}};
    const std::string file = scratch / "huge.json";
    std::ofstream(file) << design.dump();
    const auto outcome = run({"face", file, "-o", scratch / "x.png", "--px-per-mm", "60"});
    CHECK(outcome.code == 2);
    CHECK_MESSAGE(contains(outcome.err, "24000 x 24000"), outcome.err);
}

TEST_CASE("a design is never overwritten by its picture") {
    const ScratchFolder scratch;
    const std::string file = scratch / "design.png";  // an odd name, but a good design
    std::filesystem::copy_file(demo_design("ropewalk"), file);
    const auto before = bytes_of(file);
    CHECK(run({"face", file, "-o", file}).code == 2);
    CHECK(bytes_of(file) == before);
}

TEST_CASE("face: plain has the scale asked for, the plate is larger, poured differs from drawn (long)") {
    const ScratchFolder scratch;
    const std::string design = small_design(scratch);
    const auto picture = [&](const std::string& name, std::vector<std::string> more) {
        std::vector<std::string> arguments{"face",        design, "-o",      scratch / name,
                                           "--px-per-mm", "2",    "--cells", "32"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const auto outcome = run(arguments);
        CHECK(outcome.code == 0);
        CHECK_MESSAGE(outcome.err.empty(), outcome.err);  // no progress bar into a file
        CHECK(contains(outcome.out, name));
        return bytes_of(scratch / name);
    };
    const auto plain = picture("plain.png", {"--plain"});
    CHECK(png_size(plain).width == 130);
    CHECK(png_size(plain).height == static_cast<unsigned>(std::lround(78.8 * 2)));
    const auto plate = picture("plate.png", {});
    CHECK(png_size(plate).width > 400);
    CHECK(picture("poured.png", {"--plain", "--stage", "poured"}) != plain);
    CHECK(picture("bar3.png", {"--plain", "--bar", "3"}) != plain);
    CHECK(picture("again.png", {"--plain", "--threads", "1"}) == plain);
    CHECK(picture("two.png", {"--plain", "--threads", "2"}) == plain);
    CHECK(picture("plate1.png", {"--threads", "1"}) == plate);
}

TEST_CASE("face: measures as JSON, alone or beside the picture, whatever the picture's scale") {
    const ScratchFolder scratch;
    const std::string design = small_design(scratch);
    const auto alone = run({"face", design, "--json", "--cells", "32", "--bar", "2"});
    CHECK(alone.code == 0);
    auto out = json::parse(alone.out);
    CHECK(out.at("bar") == 2);
    CHECK(out.at("bars") == 11);
    CHECK_FALSE(out.contains("picture"));
    const json measures = out.at("measures");
    REQUIRE(measures.at("portions").size() == 6);
    for (const auto& portion : measures.at("portions"))
        CHECK(std::abs(portion.at("face_percent").get<double>() -
                       portion.at("poured_percent").get<double>()) < 0.2);
    CHECK(measures.at("band_thickness_mm").at("median") >
          measures.at("band_thickness_mm").at("tenth_percentile"));
    CHECK(measures.at("feathers") > 0);
    CHECK(measures.at("symmetry") > 0);
    CHECK(measures.at("symmetry") < 1);
    CHECK(measures.at("boundaries").size() >= 5);
    CHECK(measures.at("contrast_de00").at("least") > 10);
    const auto both = run({"face", design, "--json", "--cells", "32", "--bar", "2", "--px-per-mm", "2", "-o",
                           scratch / "x.png", "--threads", "1"});
    CHECK(both.code == 0);
    out = json::parse(both.out);
    CHECK(out.at("picture").at("file") == scratch / "x.png");
    CHECK(png_size(bytes_of(scratch / "x.png")).width == out.at("picture").at("width_px"));
    CHECK(out.at("measures") == measures);
}

TEST_CASE("loaf: every bar and both ends on one picture, the same on one thread and two (long)") {
    const ScratchFolder scratch;
    auto design = json::parse(bytes_of(small_design(scratch)));
    design["hand"] = {{"wander_mm", 1}, {"sag_mm", 1}};
    design["mould"]["length_mm"] = 80;
    const std::string file = scratch / "short.json";
    std::ofstream(file) << design.dump();
    const auto loaf = [&](const std::string& name, const std::string& threads) {
        const auto outcome = run(
            {"loaf", file, "-o", scratch / name, "--px-per-mm", "2", "--cells", "32", "--threads", threads});
        CHECK(outcome.code == 0);
        CHECK_MESSAGE(outcome.err.empty(), outcome.err);
        CHECK(contains(outcome.out, "2 bars"));
        return bytes_of(scratch / name);
    };
    const auto one = loaf("one.png", "1");
    CHECK(png_size(one).width > 600);
    CHECK(loaf("two.png", "2") == one);
}

TEST_CASE("colours: text has units, JSON has every figure") {
    const auto text = run({"colours", demo_design("slipway")});
    CHECK(text.code == 0);
    for (const char* part :
         {"basin ink", "g per kg of oils", "teaspoons per pound of oils", "XYZ", "Lab", "#", "380 nm"})
        CHECK_MESSAGE(contains(text.out, part), part);
    const auto outcome = run({"colours", demo_design("slipway"), "--json"});
    CHECK(outcome.code == 0);
    const auto out = json::parse(outcome.out);
    CHECK(out.at("lambda_nm").size() == 36);
    REQUIRE(out.at("portions").size() == 6);
    for (const auto& portion : out.at("portions")) {
        CHECK(portion.at("reflectance").size() == 36);
        for (const auto& value : portion.at("reflectance")) {
            CHECK(value.get<double>() > 0);
            CHECK(value.get<double>() < 1);
        }
        CHECK(portion.at("xyz").size() == 3);
        CHECK(portion.at("lab").size() == 3);
        CHECK(portion.at("srgb").size() == 3);
        CHECK(portion.at("hex").get<std::string>().size() == 7);
    }
    // 1 g/kg of oils is 0.45359237 g a pound of oils (international pound).
    const auto& dose = out["portions"][2]["doses"][0];
    CHECK(dose.at("teaspoons_per_pound_oils").get<double>() * 4.0 ==
          doctest::Approx(dose.at("g_per_kg_oils").get<double>() * 0.45359237));
}

TEST_CASE("flow: figures in SI with the wire's own speed at the wire") {
    const ScratchFolder scratch;
    const std::string design = small_design(scratch);
    const auto first = run({"flow", design, "--json", "--cells", "32", "--path-fraction", "0.2"});
    CHECK(first.code == 0);
    const auto wire = json::parse(first.out).at("wire");
    CHECK(wire.at("in_batter").get<bool>());
    const double x = wire.at("centre_mm")[0], y = wire.at("centre_mm")[1];
    const std::string at_wire = std::to_string(x) + "," + std::to_string(y);
    const auto outcome = run({"flow", design, "--json", "--cells", "32", "--path-fraction", "0.2", "--probe",
                              at_wire, "32.5,40", "60,20"});
    CHECK(outcome.code == 0);
    const auto out = json::parse(outcome.out);
    CHECK(out.at("solve").at("converged").get<bool>());
    CHECK(out.at("path_length_mm").get<double>() > 100);
    REQUIRE(out.at("probes").size() == 3);
    // The batter at the middle of the wire moves with it: 50 mm/s.
    const auto& velocity = out["probes"][0]["velocity_m_per_s"];
    CHECK(std::hypot(velocity[0].get<double>(), velocity[1].get<double>()) ==
          doctest::Approx(0.05).epsilon(0.05));
    // The hand pushes the way the wire goes.
    const auto& force = wire.at("force_n_per_m");
    const auto& speed = wire.at("velocity_m_per_s");
    CHECK(force[0].get<double>() * speed[0].get<double>() + force[1].get<double>() * speed[1].get<double>() >
          0);
    for (const auto& probe : out["probes"]) {
        CHECK(probe.at("origin_mm")[0].get<double>() >= 0);
        CHECK(probe.at("origin_mm")[0].get<double>() <= 65);
    }
    const auto text = run({"flow", design, "--cells", "32", "--path-fraction", "0.2", "--probe", "32.5,40"});
    CHECK(text.code == 0);
    for (const char* part : {" m/s", " mm", "N per m of wire", "light trace"})
        CHECK(contains(text.out, part));
    CHECK(run({"flow", design, "--json", "--cells", "32", "--path-fraction", "0.2", "--threads", "1"}).out ==
          first.out);
}

TEST_CASE("flow: what lies at a point in the end is walked back through strokes and pours") {
    const ScratchFolder scratch;
    std::ifstream file(small_design(scratch));
    auto design = json::parse(file);
    // A stream of the second pour into the first, drawn through before the rest is poured.
    design["pours"][1]["manner"] = "free-fall";
    design["strokes"][0]["after_pours"] = 2;
    design["strokes"][0]["passes"] = {{"count", 2}, {"top_clearance_mm", 2}};
    const std::string changed = scratch / "changed.foreslice.json";
    std::ofstream(changed) << design.dump();
    const auto outcome =
        run({"flow", changed, "--json", "--cells", "32", "--probe", "3,1", "32.5,78", "32.5,20"});
    REQUIRE(outcome.code == 0);
    const auto probes = json::parse(outcome.out).at("probes");
    CHECK(probes[0].at("of") == design["portions"][0]["name"]);  // the corner keeps what was poured first
    const std::string last = design["pours"].back()["portion"];
    for (const auto& portion : design["portions"])
        if (portion["id"] == last) CHECK(probes[1].at("of") == portion["name"]);
    CHECK(probes[1].at("origin_mm")[1].get<double>() == doctest::Approx(78));  // poured when all was drawn
    CHECK(probes[1].at("velocity_m_per_s")[1].get<double>() == 0);             // not there yet
}

TEST_CASE("check: valid designs pass, risks are told with a cure") {
    const auto outcome = run({"check", demo_design("slipway")});
    CHECK(outcome.code == 0);
    CHECK(contains(outcome.out, ": valid, 3 warnings\n"));
    CHECK(contains(outcome.out, "/pours/"));
    CHECK(contains(outcome.out, "not every one allows activated charcoal"));
    CHECK(outcome.err.empty());
}

TEST_CASE("demo: draws every design of a folder and one sheet") {
    const ScratchFolder scratch;
    std::filesystem::create_directories(scratch / "designs");
    std::filesystem::copy_file(demo_design("ropewalk"), scratch / "designs/ropewalk.foreslice.json");
    const auto outcome = run({"demo", "-o", scratch / "made/here", "--designs", scratch / "designs",
                              "--px-per-mm", "3", "--title", "Two words"});
    CHECK_MESSAGE(outcome.code == 0, outcome.err);
    CHECK(outcome.err.empty());
    CHECK(contains(outcome.out, "ropewalk.png\n"));
    CHECK(png_size(bytes_of(scratch / "made/here/ropewalk.png")).width > 300);
    CHECK(png_size(bytes_of(scratch / "made/here/collection.png")).width > 300);
}

TEST_CASE("a library of one's own can be named") {
    const ScratchFolder scratch;
    std::filesystem::copy_file(FORESLICE_SOURCE "/palettes/colourants.json", scratch / "mine.json");
    CHECK(run({"colours", demo_design("slipway"), "--colourants", scratch / "mine.json", "--json"}).out ==
          run({"colours", demo_design("slipway"), "--json"}).out);
}
