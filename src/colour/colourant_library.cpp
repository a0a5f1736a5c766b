// Reading and writing colourant libraries: JSON in, sound values or one clear sentence out.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>

#include "colour/pigment.h"
#include "foundation/content_key.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

namespace foreslice::colour {
namespace {

using Json = nlohmann::json;

constexpr const char* format_name = "foreslice colourants";
constexpr int format_version = 1;
constexpr double largest_optics_per_mm = 1e4;  // far beyond any solid; keeps the arithmetic finite
constexpr std::size_t most_colourants = 1000;
constexpr std::size_t longest_text = 4000;

std::string kinds_in_words() {
    std::string text;
    for (std::string_view kind : colourant_kinds) text += (text.empty() ? "" : ", ") + std::string(kind);
    return text;
}

/// A value in the document together with where it stands, so that every fault can name its place.
class Node {
  public:
    Node(const Json& value, std::string path, const std::string& file)
        : value_(value), path_(std::move(path)), file_(file) {}

    [[noreturn]] void fail(const std::string& problem, const std::string& allowed) const {
        throw InputError(file_, path_.empty() ? "/" : path_, problem, allowed);
    }

    /// The value as it stands in the file, short enough for a sentence.
    std::string shown() const {
        if (value_.is_array()) return "a list of " + std::to_string(value_.size());
        if (value_.is_object()) return "an object";
        return foreslice::quoted(value_.dump(-1, ' ', false, Json::error_handler_t::replace));
    }

    Node member(const char* key) const {
        if (!value_.is_object()) fail("found " + shown(), "an object");
        const auto found = value_.find(key);
        const std::string path = path_ + "/" + key;
        if (found == value_.end()) throw InputError(file_, path, "is missing", "a value");
        return Node(*found, path, file_);
    }

    std::optional<Node> find(const char* key) const {
        if (!value_.is_object()) fail("found " + shown(), "an object");
        const auto found = value_.find(key);
        if (found == value_.end()) return std::nullopt;
        return Node(*found, path_ + "/" + key, file_);
    }

    std::vector<Node> items(std::size_t most) const {
        if (!value_.is_array()) fail("found " + shown(), "a list");
        if (value_.size() > most) fail("found " + shown(), "at most " + std::to_string(most) + " items");
        std::vector<Node> nodes;
        for (std::size_t i = 0; i < value_.size(); ++i)
            nodes.emplace_back(value_[i], path_ + "/" + std::to_string(i), file_);
        return nodes;
    }

    double number(double least, double most) const {
        const std::string allowed = "a number from " + plain_number(least) + " to " + plain_number(most);
        if (!value_.is_number()) fail("found " + shown(), allowed);
        const double number = value_.get<double>();
        if (!(number >= least && number <= most)) fail("found " + shown(), allowed);
        return number;
    }

    std::string text(std::size_t least) const {
        const std::string allowed =
            "text of " + std::to_string(least) + " to " + std::to_string(longest_text) + " bytes";
        if (!value_.is_string()) fail("found " + shown(), allowed);
        const auto& text = value_.get_ref<const std::string&>();
        if (text.size() < least || text.size() > longest_text) fail("found " + shown(), allowed);
        return text;
    }

    bool truth() const {
        if (!value_.is_boolean()) fail("found " + shown(), "true or false");
        return value_.get<bool>();
    }

    Spectrum spectrum() const {
        const std::string allowed = std::to_string(band_count) + " numbers, 380 to 730 nm every 10 nm";
        if (!value_.is_array() || value_.size() != band_count) fail("found " + shown(), allowed);
        Spectrum out{};
        const std::vector<Node> nodes = items(band_count);
        for (std::size_t i = 0; i < band_count; ++i) out[i] = nodes[i].number(0, largest_optics_per_mm);
        return out;
    }

  private:
    const Json& value_;
    std::string path_;
    const std::string& file_;
};

std::string read_id(const Node& node) {
    std::string id = node.text(1);
    const auto plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; };
    if (id.size() > 60 || !std::all_of(id.begin(), id.end(), plain))
        node.fail("found " + node.shown(), "up to 60 of a-z, 0-9 and -");
    return id;
}

std::string read_kind(const Node& node) {
    std::string kind = node.text(1);
    if (std::find(colourant_kinds.begin(), colourant_kinds.end(), kind) == colourant_kinds.end())
        node.fail("found " + node.shown(), kinds_in_words());
    return kind;
}

/// What a file may leave out: it then has the struct's own values.
void read_behaviour(const Node& node, Colourant& c) {
    const auto number = [&](const char* key, double& value, double least, double most) {
        if (const auto found = node.find(key)) value = found->number(least, most);
    };
    number("particle_density_g_per_cm3", c.particle_density_g_per_cm3, 0.2, 20);
    number("particle_diameter_um", c.particle_diameter_um, 0, 1000);
    number("price_per_100_g", c.price_per_100_g, 0, 1e6);
    number("sparkle", c.sparkle, 0, 1);
    number("fade_half_life_days", c.fade_half_life_days, 0, 1e6);
    number("lost_in_alkali_share", c.lost_in_alkali_share, 0, 1);
    number("turns_brown_share", c.turns_brown_share, 0, 1);
    if (const auto found = node.find("bleeds")) c.bleeds = found->truth();
    if (const auto found = node.find("not_soap_safe")) c.not_soap_safe = found->truth();
}

Colourant read_colourant(const Node& node) {
    Colourant c;
    c.id = read_id(node.member("id"));
    c.name = node.member("name").text(1);
    c.kind = read_kind(node.member("kind"));
    c.measured = node.member("measured").truth();
    c.provenance = node.member("provenance").text(1);
    read_behaviour(node, c);
    c.gram_per_teaspoon = node.member("gram_per_teaspoon").number(0.05, 50);
    c.usual_most_g_per_kg_oils = node.member("usual_most_g_per_kg_oils").number(0.01, 1000);
    c.unit.absorption_per_mm = node.member("absorption_per_mm_for_1_g_per_kg_oils").spectrum();
    c.unit.scattering_per_mm = node.member("scattering_per_mm_for_1_g_per_kg_oils").spectrum();
    return c;
}

void check_heading(const Node& root) {
    const Node format = root.member("format");
    if (format.text(0) != format_name) format.fail("found " + format.shown(), foreslice::quoted(format_name));
    const Node version = root.member("version");
    if (version.number(0, 1e6) != format_version)
        version.fail("found version " + version.shown(), std::to_string(format_version));
    const Node grid = root.member("lambda_nm");
    const auto must_be = [&](const char* key, int wanted) {
        const Node node = grid.member(key);
        if (node.number(0, 1e6) != wanted) node.fail("found " + node.shown(), std::to_string(wanted));
    };
    must_be("first", first_lambda_nm);
    must_be("step", lambda_step_nm);
    must_be("count", static_cast<int>(band_count));
}

ColourantLibrary read_library(const Node& root) {
    check_heading(root);
    const Node base = root.member("base");
    Optics optics{base.member("absorption_per_mm").spectrum(), base.member("scattering_per_mm").spectrum()};
    std::vector<Colourant> colourants;
    std::set<std::string> ids;
    for (const Node& node : root.member("colourants").items(most_colourants)) {
        colourants.push_back(read_colourant(node));
        if (!ids.insert(colourants.back().id).second)
            node.member("id").fail("found " + foreslice::quoted(colourants.back().id) + " a second time",
                                   "every id only once");
    }
    return ColourantLibrary(optics, base.member("provenance").text(1), std::move(colourants));
}

void add(ContentKey& key, const Optics& optics) {
    for (double v : optics.absorption_per_mm) key.add(v);
    for (double v : optics.scattering_per_mm) key.add(v);
}

/// Five significant digits: more than any pigment is known to, and few enough to read.
std::string list_of(const Spectrum& values) {
    std::string text = "[";
    for (std::size_t i = 0; i < band_count; ++i) {
        std::array<char, 32> number{};
        std::snprintf(number.data(), number.size(), "%.5g", values[i]);
        text += (i == 0 ? "" : ", ") + std::string(number.data());
    }
    return text + "]";
}

std::string text_of(const std::string& text) {
    return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string text_of(const Colourant& c) {
    std::string out = "    {\n";
    const auto line = [&](const char* key, const std::string& value, bool last = false) {
        out += std::string("      \"") + key + "\": " + value + (last ? "\n" : ",\n");
    };
    line("id", text_of(c.id));
    line("name", text_of(c.name));
    line("kind", text_of(c.kind));
    line("measured", c.measured ? "true" : "false");
    line("provenance", text_of(c.provenance));
    line("gram_per_teaspoon", plain_number(c.gram_per_teaspoon));
    line("usual_most_g_per_kg_oils", plain_number(c.usual_most_g_per_kg_oils));
    const Colourant usual;
    const auto extra = [&](const char* key, double value, double otherwise) {
        if (value != otherwise) line(key, plain_number(value));
    };
    extra("particle_density_g_per_cm3", c.particle_density_g_per_cm3, usual.particle_density_g_per_cm3);
    extra("particle_diameter_um", c.particle_diameter_um, usual.particle_diameter_um);
    extra("price_per_100_g", c.price_per_100_g, usual.price_per_100_g);
    extra("sparkle", c.sparkle, usual.sparkle);
    extra("fade_half_life_days", c.fade_half_life_days, usual.fade_half_life_days);
    extra("lost_in_alkali_share", c.lost_in_alkali_share, usual.lost_in_alkali_share);
    extra("turns_brown_share", c.turns_brown_share, usual.turns_brown_share);
    if (c.bleeds) line("bleeds", "true");
    if (c.not_soap_safe) line("not_soap_safe", "true");
    line("absorption_per_mm_for_1_g_per_kg_oils", list_of(c.unit.absorption_per_mm));
    line("scattering_per_mm_for_1_g_per_kg_oils", list_of(c.unit.scattering_per_mm), true);
    return out + "    }";
}

}  // namespace

ColourantLibrary::ColourantLibrary(Optics base, std::string base_provenance,
                                   std::vector<Colourant> colourants)
    : base_(base), base_provenance_(std::move(base_provenance)), colourants_(std::move(colourants)) {
    ContentKey key;
    key.add("colourant library");
    add(key, base_);
    for (const Colourant& c : colourants_) {
        key.add(c.id).add(c.name).add(c.kind).add(c.measured);
        key.add(c.gram_per_teaspoon).add(c.usual_most_g_per_kg_oils);
        key.add(c.particle_density_g_per_cm3)
            .add(c.particle_diameter_um)
            .add(c.price_per_100_g)
            .add(c.sparkle);
        key.add(c.fade_half_life_days).add(c.lost_in_alkali_share).add(c.turns_brown_share);
        key.add(c.bleeds).add(c.not_soap_safe);
        add(key, c.unit);
    }
    key_ = key.value();
}

ColourantLibrary ColourantLibrary::load(const std::filesystem::path& path) {
    return parse(read_file(path), path.string());
}

ColourantLibrary ColourantLibrary::parse(std::string_view json, const std::string& name) {
    Json document;
    try {
        document = Json::parse(json);
    } catch (const Json::parse_error& error) {
        throw InputError(name, "byte " + std::to_string(error.byte), "is not JSON", "a colourant library");
    } catch (const Json::exception&) {  // a number no double can hold
        throw InputError(name, "", "holds a number out of range", "a colourant library");
    }
    return read_library(Node(document, "", name));
}

std::string ColourantLibrary::to_json() const {
    std::string out = std::string("{\n  \"format\": \"") + format_name +
                      "\",\n  \"version\": " + std::to_string(format_version) +
                      ",\n  \"lambda_nm\": {\"first\": " + std::to_string(first_lambda_nm) +
                      ", \"step\": " + std::to_string(lambda_step_nm) +
                      ", \"count\": " + std::to_string(band_count) + "},\n  \"base\": {\n";
    out += "    \"provenance\": " + text_of(base_provenance_) + ",\n";
    out += "    \"absorption_per_mm\": " + list_of(base_.absorption_per_mm) + ",\n";
    out += "    \"scattering_per_mm\": " + list_of(base_.scattering_per_mm) + "\n  },\n  \"colourants\": [";
    for (std::size_t i = 0; i < colourants_.size(); ++i)
        out += (i == 0 ? "\n" : ",\n") + text_of(colourants_[i]);
    return out + "\n  ]\n}\n";
}

const Colourant* ColourantLibrary::find(std::string_view id) const {
    const auto found =
        std::find_if(colourants_.begin(), colourants_.end(), [&](const Colourant& c) { return c.id == id; });
    return found == colourants_.end() ? nullptr : &*found;
}

}  // namespace foreslice::colour
