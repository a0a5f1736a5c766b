// The JSON Schema in assets/ says what the reader does: every range at both ends, every required field, every
// word of an enum, every list length, and the defaults.
#include <doctest/doctest.h>

#include <cmath>
#include <set>

#include <nlohmann/json.hpp>

#include "design/design_file.h"
#include "design/samples.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

using namespace foreslice;
using Json = nlohmann::json;
using Pointer = Json::json_pointer;

namespace {

Json schema() {
    return Json::parse(read_file(std::filesystem::path(FORESLICE_SOURCE) / "assets" / "design.schema.json"));
}

// Every described field has a value here, so that each can be turned bad or left out. What excludes another
// field (explicit figures and a trace, waypoints and passes) stands in one of two documents.
Json full_document(bool with_trace_and_passes) {
    Json document = Json::parse(R"({"format": "foreslice design", "version": 2, "name": "n", "notes": "",
        "mould": {"width_mm": 65, "height_mm": 90, "length_mm": 280, "fill_mm": 78},
        "portions": [{"id": "ink", "name": "ink", "share_percent": 100,
                      "doses": [{"colourant": "kaolin", "g_per_kg_oils": 6,
                                 "dispersion": {"carrier": "water", "parts_of_carrier": 2, "drops_per_ml": 25}}],
                      "white": {"colourant": "titanium-dioxide", "g_per_kg_oils": 6},
                      "trace": "medium", "times_as_thick": 2}],
        "pours": [{"portion": "ink", "part_percent": 100, "manner": "laid", "unevenness_mm": 1,
                   "with_previous": false, "folds": 3,
                   "fall": {"height_mm": 100, "rate_ml_per_s": 20, "at_mm": [30]},
                   "wall": {"side": "right", "foot_mm": 30}, "tilt_deg": 10,
                   "hills": {"amplitude_mm": 5, "wavelength_mm": 20, "crest_mm": 10, "heights_mm": [1, 2]},
                   "beside": {"width_mm": 20, "divider_mm": 2}, "firmed_yield_stress_pa": 40,
                   "tapped_percent": 50,
                   "sifted_over": {"colourant": "kaolin", "thickness_mm": 0.3}}],
        "base": {"oils": [{"oil": "olive", "percent": 100}], "superfat_percent": 6, "lye_percent": 31,
                 "gelled": true, "fragrance_g_per_kg_oils": 25, "vanillin_percent": 4},
        "recipe": {"oils": [{"oil": "olive", "percent": 100, "certificate_koh_mg_per_g": 190}],
                   "alkali": {"koh_percent": 10, "naoh_purity_percent": 98, "koh_purity_percent": 90},
                   "water": {"parts_per_alkali": 2},
                   "liquids": [{"name": "oat milk", "percent_of_water": 10, "into": "batter"}],
                   "additives": [{"what": "sugar", "name": "sugar", "percent_of_oils": 1, "into": "lye-water"}],
                   "fragrance_limit_percent": 4},
        "bench": {"units": "us", "moulds": 2, "liner_mm": 1, "top_allowance_mm": 3, "jug_residue_g": 8,
                  "spare_percent": 2, "stock_file": "stock.csv"},
        "hand": {"wander_mm": 1, "sag_mm": 2}, "age_days": 60,
        "top": {"spooned": [{"portion": "ink", "part_percent": 10, "at_mm": 30, "width_mm": 40, "lump_mm": 20}],
                "strokes": [{"tool": "fork", "motion": "peaks", "height_mm": 5, "spacing_mm": 9, "lean": 0,
                             "crest_mm": 20}],
                "glitter": [{"colourant": "mica-gold", "cover_percent": 9, "size_mm": 0.4}],
                "firmed_yield_stress_pa": 60},
        "inclusions": {"embeds": [{"name": "mast", "shape": "bar", "laid": "after-drawing", "at_mm": [30, 40],
                                   "width_mm": 8, "height_mm": 12, "angle_deg": 20,
                                   "points_mm": [[0, 0], [4, 3]], "colour": "#10f0A0"}]},
        "cut": {"bar_thickness_mm": 25, "trim_mm": 5}, "seed": 3})");
    document["inclusions"]["scattered"] = Json::parse(
        R"([{"name": "sand", "portion": "ink", "pour": 1, "shape": "fleck", "per_cm2": 4, "percent": 2,
             "least_mm": 0.5, "most_mm": 1, "roundness": 0.5, "colour": "ink"}])");
    if (!with_trace_and_passes) {
        document["inclusions"]["scattered"][0].erase("portion");
        document["inclusions"]["scattered"][0]["on_top"] = true;
    }
    if (with_trace_and_passes) {
        document["batter"] = {{"trace", "light"}, {"density_kg_per_m3", 1016}};
        document["strokes"] =
            Json::parse(R"([{"wire_diameter_mm": 6, "speed_mm_per_s": 50, "after_pours": 1, "passes":
            {"count": 7, "spacing_mm": 5, "margin_mm": 8, "floor_clearance_mm": 4, "top_clearance_mm": 8,
             "start": "left", "slant_deg": 5}}])");
    } else {
        document["batter"] = {{"consistency_pa_sn", 2}, {"flow_index", 0.7}, {"yield_stress_pa", 6}};
        document["strokes"] =
            Json::parse(R"([{"waypoints_mm": [[10, 10], [20, 20]]}, {"comb": {"wires": 3, "spacing_mm": 12},
            "zigzag": {"count": 4, "margin_mm": 8, "floor_clearance_mm": 4, "top_clearance_mm": 8, "start": "left"}},
            {"strip": {"width_mm": 20, "thickness_mm": 1, "angle_deg": 10},
            "loops": {"count": 2, "shape": "loop", "width_mm": 20, "margin_mm": 8, "floor_clearance_mm": 4,
                      "top_clearance_mm": 8, "start": "left"}}])");
        Json& portion = document["portions"][0];
        portion["doses"] = Json::parse(R"([{"colourant": "kaolin", "percent_of_batter": 1}])");
        document["recipe"]["oils"] = Json::parse(R"([{"oil": "olive", "g": 400}])");
        document["recipe"]["water"] = Json::parse(R"({"percent_of_oils": 30})");
        document["recipe"]["additives"] = Json::parse(R"([{"what": "salt", "percent_of_water": 1},
            {"what": "salt", "percent_of_batter": 1}, {"what": "salt", "g_per_kg_oils": 10},
            {"what": "salt", "teaspoons_per_pound_oils": 1}])");
        portion["white"] = Json::parse(R"({"colourant": "titanium-dioxide", "drops_per_kg_oils": 60})");
    }
    return document;
}

bool accepted(const Json& document) {
    try {
        design::parse(document.dump(), "document");
        return true;
    } catch (const InputError&) {
        return false;
    }
}

bool accepted_with(const Json& document, const Pointer& place, const Json& value) {
    Json changed = document;
    changed[place] = value;
    return accepted(changed);
}

// Walks schema and document together and tries every rule of the schema on the reader.
class Walk {
  public:
    Walk(const Json& whole, const Json& document) : whole_(whole), document_(document) {}

    void at(const Json& rule_or_reference, const Pointer& place) {
        Json rule = rule_or_reference;
        if (rule.contains("$ref")) rule = whole_[Pointer(rule["$ref"].get<std::string>().substr(1))];
        const std::string where = place.to_string();
        CAPTURE(where);
        REQUIRE(document_.contains(place));
        type(rule, place);
        range(rule, place);
        words(rule, place);
        lengths(rule, place);
        if (rule.contains("properties")) members(rule, place);
        if (rule.contains("items"))
            for (std::size_t i = 0; i < document_[place].size(); ++i) at(rule["items"], place / i);
    }

    int rules = 0;
    std::set<std::string> seen;

  private:
    void expect(const Pointer& place, const Json& value, bool good) {
        const std::string tried = value.dump().substr(0, 60);
        CAPTURE(tried);
        CHECK(accepted_with(document_, place, value) == good);
        ++rules;
    }

    void type(const Json& rule, const Pointer& place) {
        if (!rule.contains("type")) return;
        const std::string type = rule["type"];
        const std::pair<std::string, Json> samples[] = {{"string", "text"},
                                                        {"number", 30.5},
                                                        {"boolean", true},
                                                        {"null", nullptr},
                                                        {"array", Json::array({"?"})},
                                                        {"object", {{"?", 1}}}};
        for (const auto& [name, sample] : samples)
            if (name != type) expect(place, sample, false);  // 30.5 is no integer either
    }

    void range(const Json& rule, const Pointer& place) {
        if (!rule.contains("minimum")) return;
        REQUIRE(rule.contains("maximum"));
        const double least = rule["minimum"], most = rule["maximum"];
        expect(place, rule["minimum"], true);
        expect(place, rule["maximum"], true);
        const bool whole = rule["type"] == "integer";
        expect(place, whole ? Json(least - 1) : Json(std::nextafter(least, -1e300)), false);
        expect(place, whole ? Json(most + 1) : Json(std::nextafter(most, 1e300)), false);
    }

    void words(const Json& rule, const Pointer& place) {
        if (rule.contains("enum")) {
            for (const Json& word : rule["enum"]) expect(place, word, true);
            expect(place, "no such word", false);
        }
        if (rule.contains("const")) {
            expect(place, rule["const"], true);
            expect(place, rule["const"].is_string() ? Json("other") : Json(99), false);
        }
        if (rule.contains("pattern")) {
            expect(place, "Az09_-", true);
            expect(place, std::string(64, 'x'), true);
            for (const auto& bad :
                 {std::string(65, 'x'), std::string(), std::string("a b"), std::string("é")})
                expect(place, bad, false);
        }
    }

    void lengths(const Json& rule, const Pointer& place) {
        if (rule.contains("maxLength")) {
            std::string longest;
            for (int i = 0; i < rule["maxLength"]; ++i) longest += "é";  // counted in characters, not bytes
            expect(place, longest, true);
            expect(place, longest + "x", false);
        }
        if (!rule.contains("maxItems")) return;
        const std::size_t least = rule.value("minItems", 0), most = rule["maxItems"];
        const Json item = document_[place][0];
        const auto list = [&](std::size_t count) { return Json(std::vector<Json>(count, item)); };
        expect(place, list(least), true);
        expect(place, list(most), true);
        expect(place, list(most + 1), false);
        if (least > 0) expect(place, list(least - 1), false);
    }

    void members(const Json& rule, const Pointer& place) {
        std::set<std::string> required;
        for (const Json& name : rule.value("required", Json::array())) required.insert(name);
        if (rule.contains("oneOf"))
            for (const Json& choice : rule["oneOf"]) {
                bool meant = true;
                for (const Json& name : choice["required"]) meant &= document_[place].contains(name);
                if (meant)
                    for (const Json& name : choice["required"]) required.insert(name);
            }
        for (const auto& [name, child] : rule["properties"].items()) {
            const Pointer inside = place / name;
            seen.insert(name);
            if (!document_.contains(inside)) continue;  // it stands in the other document
            Json without = document_;
            without[place].erase(name);
            const std::string left_out = name;
            CAPTURE(left_out);
            CHECK(accepted(without) == !required.contains(name));
            ++rules;
            at(child, inside);
        }
    }

    const Json& whole_;
    const Json& document_;
};

// Names of all properties anywhere in the schema.
void collect(const Json& rule, std::set<std::string>& names) {
    if (rule.is_object() && rule.contains("properties"))
        for (const auto& [name, child] : rule["properties"].items())
            if (child.is_object()) names.insert(name);
    if (rule.is_structured())
        for (const Json& child : rule) collect(child, names);
}

}  // namespace

TEST_CASE("schema: the reader enforces every rule of it") {
    const Json whole = schema();
    std::set<std::string> tried, named;
    int rules = 0;
    for (const bool first : {true, false}) {
        const Json document = full_document(first);
        REQUIRE(accepted(document));
        Walk walk(whole, document);
        walk.at(whole, Pointer());
        rules += walk.rules;
        tried.merge(walk.seen);
    }
    collect(whole, named);
    CHECK(tried == named);
    CHECK(rules > 400);
}

TEST_CASE("schema: everything the program writes is described in it") {
    std::set<std::string> named;
    collect(schema(), named);
    const auto check = [&](const Json& value, const auto& self) -> void {
        if (value.is_object())
            for (const auto& [name, child] : value.items()) {
                const std::string written = name;
                CAPTURE(written);
                CHECK(named.contains(written));
            }
        if (value.is_structured())
            for (const Json& child : value) self(child, self);
    };
    for (std::uint64_t seed = 0; seed < 20; ++seed)
        check(Json::parse(design::to_json(samples::random(seed))), check);
}

TEST_CASE("schema: its defaults are the reader's") {
    const Json whole = schema();
    Json document = full_document(true);
    const auto strip = [&](Json& object, const Json& rule, Json& defaults, const auto& self) -> void {
        const Json& real =
            rule.contains("$ref") ? whole[Pointer(rule["$ref"].get<std::string>().substr(1))] : rule;
        for (const auto& [name, child] : real["properties"].items()) {
            if (!child.is_object() || !object.contains(name)) continue;
            if (child.contains("default")) {
                defaults[name] = child["default"];
                object.erase(name);
            } else if (object[name].is_object()) {
                self(object[name], child, defaults[name], self);
            }
        }
    };
    Json defaults;
    strip(document, whole, defaults, strip);
    const Json written = Json::parse(design::to_json(design::parse(document.dump(), "document")));
    const Json flat = defaults.flatten();
    for (const auto& [pointer, value] : flat.items()) {
        const std::string where = pointer;
        CAPTURE(where);
        if (value.is_null()) continue;  // an empty list or object, flattened
        if (written.contains(Pointer(pointer))) {
            CHECK(written[Pointer(pointer)] == value);
            continue;
        }
        Json spelled_out = document;  // left out when it has its default: then saying it changes nothing
        spelled_out[Pointer(pointer)] = value;
        CHECK(design::parse(spelled_out.dump(), "document") == design::parse(document.dump(), "document"));
    }
    CHECK(flat.size() >= 6);
    CHECK(written["strokes"] == whole["properties"]["strokes"]["default"]);

    // Members of lists: leaving a field out, or writing the schema's default, makes the same design.
    document = full_document(true);
    const std::pair<const char*, const char*> places[] = {{"/strokes/0", "stroke"},
                                                          {"/strokes/0/passes", "passes"},
                                                          {"/pours/0", "pour"},
                                                          {"/pours/0/fall", "fall"},
                                                          {"/pours/0/wall", "wall"},
                                                          {"/pours/0/hills", "hills"},
                                                          {"/pours/0/beside", "beside"},
                                                          {"/pours/0/sifted_over", "sifted_line"},
                                                          {"/top/spooned/0", "spooned"},
                                                          {"/top/strokes/0", "top_stroke"},
                                                          {"/top/glitter/0", "glitter"},
                                                          {"/inclusions/scattered/0", "scattered"},
                                                          {"/inclusions/embeds/0", "embed"}};
    int compared = 0;
    for (const auto& [path, rule] : places)
        for (const auto& [name, child] : whole["$defs"][rule]["properties"].items()) {
            if (!child.contains("default")) continue;
            const Pointer place(path);
            Json without = document, with = document;
            without[place].erase(name);
            with[place][name] = child["default"];
            const std::string where = std::string(path) + "/" + name;
            CAPTURE(where);
            CHECK(design::parse(without.dump(), "without") == design::parse(with.dump(), "with"));
            ++compared;
        }
    CHECK(compared > 15);
}
