#include "design/collection.h"

#include <algorithm>
#include <array>
#include <set>

#include "design/internal/tree.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

namespace foreslice::design {

struct CollectionExtras {
    Json defaults = Json::object();
    Json unknown = Json::object();
};

namespace {

constexpr const char* collection_format = "foreslice collection";
constexpr int collection_version = 1;

// A collection can be copied to another computer, and a name in it cannot reach beyond its folder.
std::string relative_file(const Place& place) {
    std::string text = place.text(limits::name_length);
    const std::filesystem::path path(text);
    const bool leads_out = path.is_absolute() || path.has_root_name() ||
                           text.find('\\') != std::string::npos ||
                           std::find(path.begin(), path.end(), "..") != path.end();
    const bool plain =
        std::none_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; });
    if (text.empty() || leads_out || !plain)
        place.fail(foreslice::quoted(text) + " is no file beside the collection",
                   "a name relative to the collection's folder, inside it, with / between folders");
    return text;
}

CollectionMember read_member(const Place& place) {
    Fields fields(place);
    CollectionMember member{relative_file(fields.at("file", "the name of a design file"))};
    if (const auto loaves = fields.find("loaves"))
        member.loaves = static_cast<int>(loaves->whole_number(limits::loaves));
    return member;
}

// Defaults are fields of a design; what they hold is checked when a design takes them up.
Json read_defaults(const Place& place) {
    const Fields fields(place);
    for (const char* own : {"format", "version", "name", "notes", "portions", "pours"})
        if (place.value().contains(own))
            place.fail(foreslice::quoted(own) + " cannot be shared by all designs",
                       "mould, batter, strokes, hand, cut, base, age_days, seed");
    return place.value();
}

// What `own` does not say is taken from `shared`, field by field; lists are taken whole or not at all.
void take_defaults(Json& own, const Json& shared) {
    for (const auto& [key, value] : shared.items()) {
        if (!own.contains(key))
            own[key] = value;
        else if (own[key].is_object() && value.is_object())
            take_defaults(own[key], value);
    }
}

// A design that says how its batter flows, by a trace or by figures, takes neither from the defaults.
Json defaults_for(const Json& document, Json defaults) {
    constexpr std::array says{"trace", "consistency_pa_sn", "flow_index", "yield_stress_pa"};
    const auto batter = document.find("batter");
    const auto shared = defaults.find("batter");
    if (batter == document.end() || shared == defaults.end() || !batter->is_object() || !shared->is_object())
        return defaults;
    if (std::any_of(says.begin(), says.end(), [&](const char* key) { return batter->contains(key); }))
        for (const char* key : says) shared->erase(key);
    return defaults;
}

}  // namespace

Collection parse_collection(std::string_view json, const std::filesystem::path& path) {
    const std::string file = path.string();
    const Json tree = json_from_text(json, file);
    Fields fields(Place(tree, "", file));
    check_heading(fields, file, collection_format, collection_version, "the collection");
    Collection collection;
    collection.file = path;
    if (const auto name = fields.find("name")) collection.name = name->text(limits::name_length);
    if (const auto notes = fields.find("notes")) collection.notes = notes->text(limits::notes_length);
    if (const auto library = fields.find("colourants")) collection.colourants = relative_file(*library);
    collection.margin_percent =
        fields.number_or("margin_percent", limits::margin_percent, collection.margin_percent);
    CollectionExtras extras;
    if (const auto defaults = fields.find("defaults")) extras.defaults = read_defaults(*defaults);
    std::set<std::string> seen;
    for (const Place& item :
         fields.at("designs", "a list of designs").items(1, limits::collection_designs, "designs")) {
        collection.members.push_back(read_member(item));
        if (!seen.insert(collection.members.back().file).second)
            item.fail(foreslice::quoted(collection.members.back().file) + " stands twice",
                      "each design once");
    }
    extras.unknown = fields.unknown();
    if (!extras.defaults.empty() || !extras.unknown.empty())
        collection.extras = std::make_shared<const CollectionExtras>(std::move(extras));
    return collection;
}

Collection load_collection(const std::filesystem::path& path) {
    return parse_collection(read_file(path, limits::file_bytes), path);
}

std::string to_json(const Collection& collection) {
    Json tree = Json::object();
    tree["format"] = collection_format;
    tree["version"] = collection_version;
    tree["name"] = collection.name;
    tree["notes"] = collection.notes;
    if (!collection.colourants.empty()) tree["colourants"] = collection.colourants;
    tree["margin_percent"] = json_number(collection.margin_percent);
    if (collection.extras && !collection.extras->defaults.empty())
        tree["defaults"] = collection.extras->defaults;
    Json& designs = tree["designs"] = Json::array();
    for (const auto& member : collection.members) {
        Json one = Json::object();
        one["file"] = member.file;
        if (member.loaves != 1) one["loaves"] = member.loaves;
        designs.push_back(std::move(one));
    }
    if (collection.extras)
        for (const auto& [key, value] : collection.extras->unknown.items()) tree[key] = value;
    return text_from_json(tree);
}

bool is_collection(const std::filesystem::path& path) {
    try {
        const Json tree = json_from_text(read_file(path, limits::file_bytes), "");
        return tree.is_object() && tree.value("format", Json()) == collection_format;
    } catch (const InputError&) {
        return false;
    }
}

Design load_member(const Collection& collection, const CollectionMember& member) {
    const auto path = collection.path_of(member.file);
    const std::string name = path.string();
    Json document = json_from_text(read_file(path, limits::file_bytes), name);
    migrate(document, name);
    if (collection.extras && document.is_object())
        take_defaults(document, defaults_for(document, collection.extras->defaults));
    return design_from_tree(document, name);
}

}  // namespace foreslice::design
