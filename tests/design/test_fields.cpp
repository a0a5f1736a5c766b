// Fields by their path in the file, differences in words, and edits of two people put together.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <set>

#include "design/design_file.h"
#include "design/differences.h"
#include "design/field_paths.h"
#include "design/merge.h"
#include "design/samples.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

using namespace foreslice;
using namespace foreslice::design;

namespace {

Design slipway() {
    return load(std::filesystem::path(FORESLICE_SOURCE) / "palettes" / "slipway.foreslice.json");
}

std::string refusal(const Design& design, const std::string& field, const std::string& value) {
    try {
        with_field(design, field, value);
        return "";
    } catch (const InputError& error) {
        return error.what();
    }
}

std::vector<std::string> sentences(const Design& a, const Design& b) {
    std::vector<std::string> list;
    for (const auto& one : differences(a, b, &samples::library())) list.push_back(sentence_of(one));
    return list;
}

bool says(const std::vector<std::string>& list, const std::string& sentence) {
    return std::find(list.begin(), list.end(), sentence) != list.end();
}

}  // namespace

TEST_CASE("fields: by full path, by names of members, by a short name") {
    const Design design = slipway();
    CHECK(std::get<Passes>(with_field(design, "strokes.0.passes.count", "9").strokes[0].path).count == 9);
    CHECK(std::get<Passes>(with_field(design, "/strokes/0/passes/count", "9").strokes[0].path).count == 9);
    CHECK(std::get<Passes>(with_field(design, "passes", "4").strokes[0].path).count == 4);
    CHECK(with_field(design, "batter.trace", "medium").batter.trace == batter::Trace::medium);
    CHECK(with_field(design, "trace", "medium").batter.trace == batter::Trace::medium);
    CHECK(with_field(design, "portions.salt.white.g_per_kg_oils", "11").portions[2].white.g_per_kg_oils ==
          11);
    CHECK(with_field(design, "portions.2.white.g_per_kg_oils", "11").portions[2].white.g_per_kg_oils == 11);
    CHECK(with_field(design, "ink.ultramarine-blue.g_per_kg_oils", "3").portions[0].doses[0].g_per_kg_oils ==
          3);
    CHECK(with_field(design, "pours.amber.unevenness_mm", "2").pours[3].unevenness_mm == 2);
    CHECK(with_field(design, "seed", "77").seed == 77);
}

TEST_CASE("fields: what a file leaves out while it is usual can be set all the same") {
    const Design design = slipway();
    CHECK(with_field(design, "age_days", "90").age_days == 90);
    CHECK(with_field(design, "hand.wander_mm", "1.5").hand.wander_mm == 1.5);
    CHECK(with_field(design, "wander_mm", "1.5").hand.wander_mm == 1.5);
    CHECK(with_field(design, "base.gelled", "true").base.gelled);
    CHECK(std::get<Passes>(with_field(design, "slant_deg", "20").strokes[0].path).slant_deg == 20);
    CHECK(with_field(design, "pours.ink.fall.height_mm", "300").pours[0].fall.height_mm ==
          300);  // in no list
    CHECK(with_field(design, "pours.ink.tapped_percent", "40").pours[0].tapped_percent == 40);
}

TEST_CASE("fields: what hangs on a field follows it") {
    const Design design = slipway();
    const Design firm = with_field(design, "batter.yield_stress_pa", "40");
    CHECK_FALSE(firm.batter.trace);
    CHECK(firm.batter.rheology().yield_stress_pa == 40);
    CHECK(firm.batter.rheology().flow_index == design.batter.rheology().flow_index);
    CHECK(with_field(firm, "batter.trace", "light") == design);
    const Design whiter = with_field(design, "portions.salt.share_percent", "30");
    CHECK_NOTHROW(validate(whiter));
    CHECK(whiter.portions[0].share_percent == doctest::Approx(25 * 70.0 / 86));
}

TEST_CASE("fields: every field that is listed can be set to what it holds, and means one field") {
    for (const Design& design : {slipway(), samples::plain()}) {
        const auto tree = nlohmann::json::parse(to_json(design));
        const auto names = fields_of(design);
        CHECK(std::set<std::string>(names.begin(), names.end()).size() == names.size());
        int set = 0;
        for (const auto& name : names) {
            CAPTURE(name);
            try {
                with_field(design, name, "3");
                ++set;
            } catch (const InputError& error) {
                CHECK(std::string(error.what()).find("no such field") == std::string::npos);
                CHECK(std::string(error.what()).find("several") == std::string::npos);
            }
        }
        CHECK(set > 15);
    }
}

TEST_CASE("fields: an unknown one is refused in one sentence with the nearest names") {
    const Design design = slipway();
    CHECK(refusal(design, "batter.trase", "light").find("batter.trace") != std::string::npos);
    CHECK(refusal(design, "mold.width_mm", "60").find("mould.width_mm") != std::string::npos);
    CHECK(refusal(design, "strokes.0.passes.cuont", "3").find("strokes.0.passes.count") != std::string::npos);
    CHECK(refusal(design, "unevenness_mm", "1").find("several fields") != std::string::npos);
    for (const char* wrong :
         {"", ".", "/", "portions", "portions.salt", "strokes.7.passes.count", "name.first",
          "waypoints_mm.0.0", "portions.nobody.share_percent", "x.y.z.x.y.z"})
        CHECK_MESSAGE(refusal(design, wrong, "1").find("nearest") != std::string::npos, wrong);
    CHECK(refusal(design, "passes", "many").find("1 to 200") != std::string::npos);
    CHECK(refusal(design, "passes", "3.5").find("whole number") != std::string::npos);
    CHECK(refusal(design, "mould.width_mm", "nan").find("20 to 500") != std::string::npos);
}

TEST_CASE("axes: ranges, steps and lists") {
    CHECK(axis_from("passes=3..6").values == std::vector<std::string>{"3", "4", "5", "6"});
    CHECK(axis_from("passes = 6..4").values == std::vector<std::string>{"6", "5", "4"});
    CHECK(axis_from("age_days=0..90:30").values == std::vector<std::string>{"0", "30", "60", "90"});
    CHECK(axis_from("x=0.5..1.5").values == std::vector<std::string>{"0.5", "0.75", "1", "1.25", "1.5"});
    CHECK(axis_from("batter.trace=light, medium").values == std::vector<std::string>{"light", "medium"});
    CHECK(axis_from("a=-2..2:2").values == std::vector<std::string>{"-2", "0", "2"});
    for (const char* wrong : {"", "passes", "=3..4", "passes=", "passes=3..x", "passes=1..1000", "p=1..5:-1",
                              "p=1..5:0", "p=..", "p=1..inf", "p=,,"})
        CHECK_THROWS_AS_MESSAGE(axis_from(wrong), InputError, wrong);
    CHECK(axis_words(slipway(), "passes") == "passes");
    CHECK(axis_words(slipway(), "portions.salt.share_percent") == "salt white, share, %");
    CHECK(axis_words(slipway(), "mould.width_mm") == "mould, width, mm");
}

TEST_CASE("differences: none between equal designs, some for every field that changes") {
    CHECK(sentences(slipway(), slipway()).empty());
    for (std::uint64_t seed = 0; seed < 60; ++seed) {
        const Design a = samples::random(seed), b = samples::random(seed + 1000);
        CHECK(differences(a, a).empty());
        CHECK_FALSE(differences(a, b).empty());
    }
    const Design design = slipway();
    for (const auto& field : fields_of(design))
        for (const char* value : {"3", "0.4", "true", "medium", "right", "changed-here"}) {
            Design other;
            try {
                other = with_field(design, field, value);
            } catch (const InputError&) {
                continue;
            }
            if (other == design) continue;
            CAPTURE(field);
            const auto found = differences(design, other);
            CHECK_FALSE(found.empty());
            for (const auto& one : found) CHECK_FALSE(one.words.empty());
        }
}

TEST_CASE("differences: in words of the trade") {
    const Design a = slipway();
    Design b = with_field(with_field(a, "passes", "8"), "batter.trace", "medium");
    b.portions[3].doses[0].g_per_kg_oils = 8;
    b.portions[2].white.g_per_kg_oils = 10;
    b.portions[1].doses.pop_back();
    b.portions[0].doses.push_back({"mica-gold", 1.5});
    b.mould.width_mm = 70;
    b.notes = "";
    std::swap(b.pours[2], b.pours[3]);
    const auto list = sentences(a, b);
    for (const char* sentence :
         {"light → medium trace", "stroke 1: 6 → 8 passes", "mould, width 65 → 70 mm", "notes rewritten",
          "salt white: white, dose 8 → 10 g/kg", "layers 3 and 4 swapped"})
        CHECK_MESSAGE(says(list, sentence), sentence);
    const auto named = [&](const char* id) { return samples::library().find(id)->name; };
    CHECK(says(list, "lamp amber: " + named("iron-oxide-yellow") + " dose 6.1 → 8 g/kg"));
    CHECK(says(list, "quay slate: " + named("ultramarine-blue") + " left out"));
    CHECK(says(list, "basin ink: " + named("mica-gold") + " now 1.5 g/kg"));
    CHECK(list.size() == 9);
}

TEST_CASE("differences: more than two layers in another order are named from the floor up") {
    const Design a = slipway();
    Design b = a;
    std::swap(b.pours[2], b.pours[3]);
    std::swap(b.pours[3], b.pours[4]);
    const auto list = sentences(a, b);
    REQUIRE(list.size() == 1);
    std::string names;
    for (const auto& pour : b.pours)
        names += (names.empty() ? "" : ", ") + find_portion(b, pour.portion)->name;
    CHECK(says(list, "layers in another order, from the floor up: " + names));
}

TEST_CASE("differences: portions and pours that come and go") {
    const Design a = slipway();
    Design b = a;
    b.portions.push_back({"rope", "old rope", 0, {}, {"titanium-dioxide", 0}});
    b.pours.emplace_back();
    b.pours.back().portion = "rope";
    b.pours.erase(b.pours.begin() + 1);
    const auto there = sentences(a, b), back = sentences(b, a);
    CHECK(says(there, "new portion old rope, 0 %"));
    CHECK(says(there, "a pour of old rope more"));
    CHECK(says(there, "a pour of quay slate less"));
    CHECK(says(back, "portion old rope left out"));
}

TEST_CASE("merge: edits of different fields come together, whichever side makes them") {
    const Design base = slipway();
    const std::vector<std::pair<std::string, std::string>> edits{
        {"mould.width_mm", "70"},
        {"mould.height_mm", "95"},
        {"batter.trace", "medium"},
        {"passes", "7"},
        {"portions.salt.white.g_per_kg_oils", "9"},
        {"seed", "4"},
        {"hand.wander_mm", "1"},
        {"pours.ink.unevenness_mm", "2"},
        {"age_days", "60"},
        {"portions.ink.ultramarine-blue.g_per_kg_oils", "2"}};
    for (const auto& [field, value] : edits)
        for (const auto& [other_field, other_value] : edits) {
            if (field == other_field) continue;
            const auto fields = std::pair{field, other_field};
            CAPTURE(fields.first);
            CAPTURE(fields.second);
            const Design ours = with_field(base, field, value),
                         theirs = with_field(base, other_field, other_value);
            const auto both = merged(base, ours, theirs);
            CHECK(both.conflicts.empty());
            CHECK(both.design == with_field(ours, other_field, other_value));
        }
}

TEST_CASE("merge: the same field changed by both is named and ours kept; lists follow their members") {
    const Design base = slipway();
    const auto clash = merged(base, with_field(base, "passes", "7"), with_field(base, "passes", "8"));
    CHECK(clash.conflicts == std::vector<std::string>{"strokes.0.passes.count"});
    CHECK(clash.design == with_field(base, "passes", "7"));
    CHECK(merged(base, with_field(base, "passes", "7"), with_field(base, "passes", "7")).conflicts.empty());
    Design turned = base, added = base;
    std::reverse(turned.pours.begin(), turned.pours.end());
    added.portions[4].doses.push_back({"mica-gold", 2});
    added.pours[5].unevenness_mm = 3;
    const auto both = merged(base, turned, added);
    CHECK(both.conflicts.empty());
    CHECK(both.design.pours[0].unevenness_mm == 3);  // tide blue, now at the floor
    CHECK(both.design.pours[5].portion == "ink");
    CHECK(both.design.portions[4].doses.size() == 3);
    Design without = base;
    without.pours.erase(without.pours.begin() + 1);
    CHECK(merged(base, without, added).design.pours.size() == 5);
    Design deeper = base;
    deeper.pours[1].unevenness_mm = 5;
    const auto kept = merged(base, without, deeper);  // taken out here, worked on there: it stays
    CHECK(kept.conflicts.size() == 1);
    CHECK(kept.design.pours.size() == 6);
}

TEST_CASE("merge: random designs: nothing changed by one side gives the other side") {
    for (std::uint64_t seed = 0; seed < 40; ++seed) {
        const Design a = samples::random(seed), b = samples::random(seed + 500);
        CHECK(merged(a, a, b).design == b);
        CHECK(merged(a, b, a).design == b);
        CHECK(merged(a, b, b).design == b);
        CHECK(merged(a, a, b).conflicts.empty());
    }
}
