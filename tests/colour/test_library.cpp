#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "colour/fit_doses.h"
#include "colour/library_recipe.h"
#include "colour/pigment.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

using namespace foreslice;
using namespace foreslice::colour;

namespace {

const std::filesystem::path shipped_file =
    std::filesystem::path(FORESLICE_SOURCE) / "palettes/colourants.json";

const ColourantLibrary& shipped() {
    static const ColourantLibrary library = ColourantLibrary::load(shipped_file);
    return library;
}

PortionColour bar(const std::vector<std::pair<std::string, double>>& recipe) {
    std::vector<Dose> doses;
    for (const auto& [id, dose] : recipe) {
        const Colourant* colourant = shipped().find(id);
        REQUIRE(colourant != nullptr);
        doses.push_back({colourant, dose});
    }
    return colour_of(mixed(shipped().base(), doses));
}

double chroma(const PortionColour& c) {
    return std::hypot(c.lab.a, c.lab.b);
}

double hue_degrees(const PortionColour& c) {
    const double h = std::atan2(c.lab.b, c.lab.a) * 180 / 3.14159265358979;
    return h < 0 ? h + 360 : h;
}

}  // namespace

TEST_CASE("the shipped library is what the recipe makes of the open data") {
    // Parsed, not compared byte by byte: the last printed digit may differ between maths libraries.
    const ColourantLibrary made = testing::starter_library(FORESLICE_TEST_DATA);
    CHECK(made.base_provenance() == shipped().base_provenance());
    REQUIRE(made.colourants().size() == shipped().colourants().size());
    for (std::size_t n = 0; n < made.colourants().size(); ++n) {
        const Colourant &a = made.colourants()[n], &b = shipped().colourants()[n];
        CAPTURE(a.id);
        CHECK(a.id == b.id);
        CHECK(a.provenance == b.provenance);
        CHECK(a.measured == b.measured);
        for (std::size_t i = 0; i < band_count; ++i) {
            CHECK(a.unit.absorption_per_mm[i] == doctest::Approx(b.unit.absorption_per_mm[i]).epsilon(1e-4));
            CHECK(a.unit.scattering_per_mm[i] == doctest::Approx(b.unit.scattering_per_mm[i]).epsilon(1e-4));
        }
    }
}

TEST_CASE("the shipped library holds what a maker starts with, each with a provenance") {
    for (const char* id : {"titanium-dioxide", "zinc-oxide", "iron-oxide-red", "iron-oxide-yellow",
                           "iron-oxide-black", "iron-oxide-brown", "chromium-oxide-green", "ultramarine-blue",
                           "ultramarine-violet", "ultramarine-pink", "activated-charcoal", "kaolin",
                           "rose-clay", "mica-pearl", "mica-gold", "mica-copper", "mica-blue"}) {
        CAPTURE(id);
        const Colourant* c = shipped().find(id);
        REQUIRE(c != nullptr);
        CHECK(c->provenance.find("own swatch") != std::string::npos);
        CHECK((c->measured || c->provenance.find("Estimate") == 0 || c->provenance.find("Computed") == 0 ||
               c->provenance.find("Stand-in") == 0));
    }
    CHECK(shipped().find("no-such-thing") == nullptr);
    CHECK(shipped().base_provenance().find("Estimate") == 0);
}

TEST_CASE("colours of the usual kind: plain bar cream, red red, blue blue, at medium doses") {
    const PortionColour plain = bar({});
    CHECK(plain.lab.l > 90);
    CHECK(plain.lab.b > 5);
    CHECK(plain.lab.b < 15);
    const auto within = [](double h, double from, double to) { return h >= from && h <= to; };
    CHECK(within(hue_degrees(bar({{"iron-oxide-red", 2}})), 5, 50));
    CHECK(within(hue_degrees(bar({{"iron-oxide-yellow", 2}})), 65, 90));
    CHECK(within(hue_degrees(bar({{"iron-oxide-brown", 2}})), 35, 75));
    CHECK(within(hue_degrees(bar({{"chromium-oxide-green", 2.5}})), 115, 165));
    CHECK(within(hue_degrees(bar({{"ultramarine-blue", 4}})), 255, 300));
    CHECK(within(hue_degrees(bar({{"ultramarine-violet", 4}})), 295, 325));
    CHECK(within(hue_degrees(bar({{"ultramarine-pink", 4}})), 330, 360));
    CHECK(chroma(bar({{"iron-oxide-black", 2}})) < 4);
    CHECK(chroma(bar({{"activated-charcoal", 2}})) < 8);
}

TEST_CASE("light, medium and strong doses step down in lightness by what an eye calls a step") {
    struct Row {
        const char* id;
        std::array<double, 3> dose;  // g per kg of oils: makers' volume rates, an estimate
    };
    for (const Row& row : {Row{"iron-oxide-red", {0.8, 2, 5}}, Row{"iron-oxide-black", {0.8, 2, 5}},
                           Row{"iron-oxide-brown", {0.8, 2, 5}}, Row{"ultramarine-blue", {2, 4, 8}},
                           Row{"ultramarine-violet", {2, 4, 8}}, Row{"chromium-oxide-green", {1, 2.5, 5}},
                           Row{"activated-charcoal", {0.5, 2, 6}}}) {
        CAPTURE(row.id);
        const double plain = bar({}).lab.l, light = bar({{row.id, row.dose[0]}}).lab.l,
                     medium = bar({{row.id, row.dose[1]}}).lab.l, strong = bar({{row.id, row.dose[2]}}).lab.l;
        CHECK(plain - light > 8);
        CHECK(light - medium > 5);
        CHECK(medium - strong > 5);
        CHECK(light > 55);
        CHECK(strong < 58);
    }
}

TEST_CASE("titanium dioxide raises L* of every colourant at every dose, and of the plain bar") {
    for (const Colourant& c : shipped().colourants()) {
        CAPTURE(c.id);
        for (double share : {0.0, 0.02, 0.1, 0.5, 1.0}) {
            const double dose = share * c.usual_most_g_per_kg_oils;
            double last = -1;
            for (double white : {0.0, 0.5, 2.0, 5.0, 10.0, 18.0}) {
                const double l = bar({{c.id, dose}, {"titanium-dioxide", white}}).lab.l;
                CHECK(l > last);
                last = l;
            }
        }
    }
}

TEST_CASE("white in a deep dose: chroma of the dark first rises, then falls; of the light it only falls") {
    // The shape of measured tint ladders (ultramarine and organic red paints in titanium white). A dose
    // beyond the usual stands for the masstone.
    const auto ladder = [](const char* id, double dose) {
        std::vector<double> c;
        for (double white : {0.0, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0, 80.0})  // more of it crowds
            c.push_back(chroma(bar({{id, dose}, {"titanium-dioxide", white}})));
        return c;
    };
    const auto blue = ladder("ultramarine-blue", 200);
    std::size_t top = 0;
    for (std::size_t i = 0; i < blue.size(); ++i)
        if (blue[i] > blue[top]) top = i;
    CHECK(top > 0);
    CHECK(top + 1 < blue.size());
    for (std::size_t i = 1; i < blue.size(); ++i) CHECK((blue[i] > blue[i - 1]) == (i <= top));
    const auto yellow = ladder("iron-oxide-yellow", 8);
    for (std::size_t i = 1; i < yellow.size(); ++i) CHECK(yellow[i] < yellow[i - 1]);
}

TEST_CASE("more of a dark colourant never lightens the bar") {
    for (const char* id : {"iron-oxide-red", "iron-oxide-black", "activated-charcoal", "ultramarine-blue",
                           "chromium-oxide-green", "iron-oxide-brown"}) {
        double last = 101;
        for (double dose = 0; dose <= 12; dose += 0.25) {
            const double l = bar({{id, dose}}).lab.l;
            CHECK(l < last);
            last = l;
        }
    }
}

TEST_CASE("the demo's harbour colours can be reached with doses a maker would use") {
    struct Row {
        const char* aim;
        std::vector<std::string> from;
        double white;
    };
    for (const Row& row :
         {Row{"#26344a", {"ultramarine-blue", "activated-charcoal"}, 0},
          Row{"#5a6875", {"activated-charcoal", "ultramarine-blue"}, 2},
          Row{"#6e95b4", {"ultramarine-blue", "chromium-oxide-green"}, 3},
          Row{"#9a90b3", {"ultramarine-violet", "ultramarine-blue"}, 2},
          Row{"#c3a0b0", {"ultramarine-pink", "ultramarine-violet"}, 3},
          Row{"#d79a45", {"iron-oxide-yellow", "iron-oxide-red"}, 0},
          Row{"#cbb68d", {"iron-oxide-yellow", "iron-oxide-brown"}, 0}, Row{"#f0ebdf", {}, 8},
          Row{"#a9763f", {"iron-oxide-brown", "iron-oxide-yellow"}, 0}, Row{"#f0e9d5", {}, 0}}) {
        CAPTURE(row.aim);
        const std::vector<Dose> white{{shipped().find("titanium-dioxide"), row.white}};
        const auto fitted = testing::fit_doses(shipped(), row.from, white, encoded_from_hex(row.aim).value());
        CHECK(fitted.de00 < 6);
    }
}

TEST_CASE("a library survives being written and read") {
    const std::string text = shipped().to_json();
    const ColourantLibrary back = ColourantLibrary::parse(text, "memory");
    CHECK(back.key() == shipped().key());
    CHECK(back.to_json() == text);
    CHECK(text == read_file(shipped_file));
}

TEST_CASE("the key follows what colours depend on") {
    std::vector<Colourant> colourants = shipped().colourants();
    const auto key = [&] { return ColourantLibrary(shipped().base(), "x", colourants).key(); };
    const auto before = key();
    CHECK(before == shipped().key());
    colourants[2].unit.absorption_per_mm[5] *= 1.001;
    CHECK(key() != before);
}

// ---- bad files ------------------------------------------------------------------------------------------

namespace {

using Json = nlohmann::json;

Json good() {
    return Json::parse(shipped().to_json());
}

InputError error_of(const std::string& text) {
    try {
        ColourantLibrary::parse(text, "mine.json");
    } catch (const InputError& error) {
        return error;
    }
    FAIL("accepted");
    return InputError("", "", "", "");
}

}  // namespace

TEST_CASE("every fault in a library is told with file, place, value and what is allowed") {
    struct Row {
        const char* place;
        Json value;
        const char* problem;
        const char* allowed;
    };
    const std::vector<Row> rows{
        {"/format", "recipes", "\"recipes\"", "foreslice colourants"},
        {"/format", 3, "found", "text"},
        {"/version", 2, "version", "1"},
        {"/version", "1", "found", "a number"},
        {"/lambda_nm/step", 5, "5", "10"},
        {"/lambda_nm/first", 400, "400", "380"},
        {"/lambda_nm/count", 31, "31", "36"},
        {"/lambda_nm", Json::array(), "a list of 0", "an object"},
        {"/base", nullptr, "null", "an object"},
        {"/base/absorption_per_mm", Json::array({1, 2, 3}), "a list of 3", "36 numbers"},
        {"/base/scattering_per_mm", "white", "white", "36 numbers"},
        {"/base/scattering_per_mm/7", -0.1, "-0.1", "from 0"},
        {"/base/absorption_per_mm/35", 1e9, "1000000000", "to 10000"},
        {"/base/provenance", "", "\"\"", "text"},
        {"/colourants", Json::object(), "an object", "a list"},
        {"/colourants/0", "red", "red", "an object"},
        {"/colourants/1/id", "Iron Oxide", "Iron Oxide", "a-z"},
        {"/colourants/1/id", "titanium-dioxide", "second time", "once"},
        {"/colourants/1/id", "", "found", "text"},
        {"/colourants/1/id", std::string(100, 'a'), "found", "60"},
        {"/colourants/2/name", 7, "7", "text"},
        {"/colourants/2/kind", "paint", "paint", "ultramarine"},
        {"/colourants/2/measured", "yes", "yes", "true or false"},
        {"/colourants/2/gram_per_teaspoon", 0, "0", "0.05"},
        {"/colourants/2/usual_most_g_per_kg_oils", -1, "-1", "0.01"},
        {"/colourants/2/provenance", std::string(5000, 'x'), "found", "4000"},
        {"/colourants/3/absorption_per_mm_for_1_g_per_kg_oils/4", nullptr, "null", "a number"},
        {"/colourants/3/scattering_per_mm_for_1_g_per_kg_oils", Json::array(), "a list of 0", "36"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.place);
        Json document = good();
        document[Json::json_pointer(row.place)] = row.value;
        const InputError error = error_of(document.dump());
        CHECK(error.file() == "mine.json");
        CHECK(error.place() == row.place);
        CHECK(error.problem().find(row.problem) != std::string::npos);
        CHECK(error.allowed().find(row.allowed) != std::string::npos);
        CHECK(std::string(error.what()).size() < 600);
    }
}

TEST_CASE("a missing field is named") {
    for (const char* place : {"/format", "/version", "/lambda_nm/step", "/base", "/base/provenance",
                              "/base/absorption_per_mm", "/colourants", "/colourants/0/id",
                              "/colourants/4/kind", "/colourants/4/absorption_per_mm_for_1_g_per_kg_oils"}) {
        CAPTURE(place);
        Json document = good();
        const Json::json_pointer pointer(place);
        document[pointer.parent_pointer()].erase(pointer.back());
        const InputError error = error_of(document.dump());
        CHECK(error.place() == place);
        CHECK(error.problem() == "is missing");
    }
}

TEST_CASE("fields that we do not know do no harm") {
    Json document = good();
    document["remark"] = {1, 2, 3};
    document["colourants"][0]["price"] = 4.5;
    CHECK(ColourantLibrary::parse(document.dump(), "x").key() == shipped().key());
}

TEST_CASE("no bytes crash the reader") {
    const std::string text = shipped().to_json();
    const auto survives = [](const std::string& bytes) {
        try {
            ColourantLibrary::parse(bytes, "x");
        } catch (const InputError&) {
        }
    };
    for (const std::string& bytes :
         {std::string(), std::string("null"), std::string("[]"), std::string("{}"), std::string("1e999"),
          std::string("\xff\xfe\x00{", 4), std::string("{\"format\":\"\xc3\x28\"}"), std::string(200000, '['),
          std::string("{\"a\":") + std::string(100000, '{')}) {
        CHECK_THROWS_AS(ColourantLibrary::parse(bytes, "x"), InputError);
    }
    for (std::size_t cut = 0; cut < text.size(); cut += 97) survives(text.substr(0, cut));
    std::uint64_t state = 1;
    for (int i = 0; i < 400; ++i) {
        std::string bytes = text;
        for (int change = 0; change < 3; ++change) {
            state = state * 6364136223846793005ULL + 1442695040888963407ULL;
            bytes[(state >> 33) % bytes.size()] = static_cast<char>(state >> 25);
        }
        survives(bytes);
    }
    CHECK_THROWS_AS(ColourantLibrary::load("no/such/file.json"), InputError);
}
