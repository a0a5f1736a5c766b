// The report on a collection, in words and as JSON.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/family.h"
#include "cli/measures_json.h"
#include "colour/colorimetry.h"
#include "picture/caption.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;
using picture::short_number;

const std::string& name_of(const OpenedFamily& family, std::size_t design) {
    return family.members[design].design.name;
}

std::string grams(double g) {
    return g >= 1000 ? short_number(g / 1000, 4) + " kg" : short_number(g, 3) + " g";
}

void print_colours(std::ostream& out, const OpenedFamily& family, const design::FamilyReport& report) {
    out << "Colours that come back\n";
    if (report.recurring.empty()) out << "  none: no portion's id stands in two designs\n";
    for (const auto& colour : report.recurring) {
        out << "  " << colour.name << ", in " << colour.uses.size() << " soaps: ";
        if (!colour.drifted()) {
            out << "held, within dE00 " << short_number(colour.most_de00, 2) << "\n";
            continue;
        }
        const auto &a = colour.uses[colour.farthest_a], &b = colour.uses[colour.farthest_b];
        out << "drifted apart by dE00 " << short_number(colour.most_de00, 2) << ", "
            << name_of(family, a.design) << " " << colour::hex_of(a.srgb) << " against "
            << name_of(family, b.design) << " " << colour::hex_of(b.srgb) << "\n";
    }
}

std::string range_words(const design::ToneRange& range) {
    return "L* " + short_number(range.least_lightness, 2) + " to " + short_number(range.most_lightness, 2) +
           ", C* " + short_number(range.least_chroma, 2) + " to " + short_number(range.most_chroma, 2);
}

void print_ranges(std::ostream& out, const OpenedFamily& family, const design::FamilyReport& report) {
    out << "Lightness and chroma\n  all: " << range_words(report.all) << "\n";
    for (std::size_t i = 0; i < family.members.size(); ++i)
        out << "  " << name_of(family, i) << ": " << range_words(report.of_design[i]) << "\n";
}

void print_alike(std::ostream& out, const OpenedFamily& family,
                 const std::vector<picture::AlikePair>& alike) {
    out << "Soaps too alike\n";
    if (alike.empty()) out << "  none\n";
    for (const auto& pair : alike)
        out << "  " << name_of(family, pair.a) << " and " << name_of(family, pair.b) << ": dE00 "
            << short_number(pair.unlike_de00, 2) << " over the face\n";
}

void print_batches(std::ostream& out, const OpenedFamily& family, const design::FamilyReport& report) {
    out << "Tints that could be made in one masterbatch\n";
    if (report.masterbatches.empty()) out << "  none\n";
    for (const auto& batch : report.masterbatches) {
        out << "  " << batch.name << ", " << grams(batch.batter_g) << " of batter:";
        for (std::size_t i = 0; i < batch.parts.size(); ++i)
            out << (i == 0 ? " " : ", ") << name_of(family, batch.parts[i].design) << " "
                << grams(batch.parts[i].batter_g);
        out << "\n    powder:";
        for (std::size_t i = 0; i < batch.powders.size(); ++i)
            out << (i == 0 ? " " : ", ") << batch.powders[i].colourant << " " << grams(batch.powders[i].g);
        out << "\n";
    }
}

void print_pigments(std::ostream& out, const OpenedFamily& family, const design::FamilyReport& report) {
    int loaves = 0;
    for (const auto& member : family.members) loaves += member.loaves;
    out << "Pigments to order for " << loaves << (loaves == 1 ? " loaf" : " loaves") << ", with a margin of "
        << short_number(report.margin_percent, 3) << " %\n";
    if (report.pigments.empty()) out << "  none\n";
    for (const auto& need : report.pigments)
        out << "  " << need.name << ": " << grams(need.to_order_g) << " (needed " << grams(need.needed_g)
            << ")\n";
    if (report.has_sifted_lines) out << "  The powder of sifted lines is not counted.\n";
}

Json json_of_tones(const design::ToneRange& range) {
    return {{"lightness", {rounded(range.least_lightness), rounded(range.most_lightness)}},
            {"chroma", {rounded(range.least_chroma), rounded(range.most_chroma)}}};
}

Json colours_json(const OpenedFamily& family, const design::FamilyReport& report) {
    Json list = Json::array();
    for (const auto& colour : report.recurring) {
        Json uses = Json::array();
        for (const auto& use : colour.uses)
            uses.push_back({{"design", name_of(family, use.design)},
                            {"hex", colour::hex_of(use.srgb)},
                            {"lab", {rounded(use.lab.l), rounded(use.lab.a), rounded(use.lab.b)}}});
        list.push_back({{"id", colour.id},
                        {"name", colour.name},
                        {"most_de00", rounded(colour.most_de00)},
                        {"drifted", colour.drifted()},
                        {"uses", uses}});
    }
    return list;
}

Json batches_json(const OpenedFamily& family, const design::FamilyReport& report) {
    Json list = Json::array();
    for (const auto& batch : report.masterbatches) {
        Json parts = Json::array(), powders = Json::array();
        for (const auto& part : batch.parts)
            parts.push_back({{"design", name_of(family, part.design)},
                             {"portion", family.members[part.design].design.portions[part.portion].id},
                             {"batter_g", rounded(part.batter_g)}});
        for (const auto& powder : batch.powders)
            powders.push_back({{"colourant", powder.colourant}, {"g", rounded(powder.g)}});
        list.push_back({{"name", batch.name},
                        {"batter_g", rounded(batch.batter_g)},
                        {"parts", parts},
                        {"powders", powders}});
    }
    return list;
}

Json pigments_json(const OpenedFamily& family, const design::FamilyReport& report) {
    Json list = Json::array();
    for (const auto& need : report.pigments) {
        Json of_design = Json::object();
        for (std::size_t i = 0; i < family.members.size(); ++i)
            if (need.of_design_g[i] > 0)
                of_design[family.collection.members[i].file] = rounded(need.of_design_g[i]);
        list.push_back({{"id", need.id},
                        {"name", need.name},
                        {"needed_g", rounded(need.needed_g)},
                        {"to_order_g", need.to_order_g},
                        {"by_design_g", of_design}});
    }
    return list;
}

}  // namespace

void print_report(std::ostream& out, const OpenedFamily& family, const design::FamilyReport& report,
                  const std::vector<picture::AlikePair>& alike) {
    out << family.collection.name << ": " << family.members.size()
        << (family.members.size() == 1 ? " soap\n" : " soaps\n");
    print_colours(out, family, report);
    print_ranges(out, family, report);
    print_alike(out, family, alike);
    print_batches(out, family, report);
    print_pigments(out, family, report);
}

Json json_of(const OpenedFamily& family, const design::FamilyReport& report,
             const std::vector<picture::AlikePair>& alike) {
    Json out{{"collection", family.collection.name}, {"recurring_colours", colours_json(family, report)}};
    Json designs = Json::array();
    for (std::size_t i = 0; i < family.members.size(); ++i)
        designs.push_back({{"design", name_of(family, i)},
                           {"file", family.collection.members[i].file},
                           {"loaves", family.members[i].loaves},
                           {"range", json_of_tones(report.of_design[i])}});
    out["range"] = json_of_tones(report.all);
    out["designs"] = designs;
    out["too_alike"] = Json::array();
    for (const auto& pair : alike)
        out["too_alike"].push_back({{"designs", {name_of(family, pair.a), name_of(family, pair.b)}},
                                    {"de00", rounded(pair.unlike_de00)}});
    out["masterbatches"] = batches_json(family, report);
    out["margin_percent"] = rounded(report.margin_percent);
    out["pigments"] = pigments_json(family, report);
    out["sifted_lines_not_counted"] = report.has_sifted_lines;
    return out;
}

}  // namespace foreslice::cli
