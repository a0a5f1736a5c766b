// Older files, brought up one version at a time.
//
// Version 1 differed in three things: the mould was measured in cm ("width_cm" ...); a portion had a number
// "white_g_per_kg_oils" (always titanium dioxide) in place of "white"; and "layers", a plain list of portion
// ids from the floor up, stood in place of "pours".
#include <cmath>

#include "design/design_file.h"
#include "design/internal/tree.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

// Renames a member without moving it, so that a saved file keeps its order.
void rename(Json& object, const std::string& from, const std::string& to, const Json& value) {
    Json renamed = Json::object();
    for (auto& [key, member] : object.items()) {
        if (key == from)
            renamed[to] = value;
        else if (key != to)
            renamed[key] = std::move(member);
    }
    object = std::move(renamed);
}

void refuse_both(const Json& object, const std::string& path, const std::string& old_key,
                 const std::string& new_key, const std::string& file) {
    if (object.contains(new_key))
        throw InputError(file, path_to(path, new_key),
                         "this field belongs to version 2, but the file says version 1",
                         foreslice::quoted(old_key) + " in its place, or \"version\": 2");
}

void mould_from_cm(Json& mould, const std::string& path, const std::string& file) {
    const std::vector<std::pair<std::string, Range>> measures{{"width", limits::mould_width_mm},
                                                              {"height", limits::mould_height_mm},
                                                              {"length", limits::mould_length_mm},
                                                              {"fill", limits::fill_mm}};
    for (const auto& [measure, range_mm] : measures) {
        refuse_both(mould, path, measure + "_cm", measure + "_mm", file);
        const Range range_cm{range_mm.least / 10, range_mm.most / 10};
        const double cm = Fields(Place(mould, path, file)).number(measure + "_cm", range_cm);
        const double mm = std::round(cm * 1e7) / 1e6;  // 7.88 cm is 78.8 mm, not 78.80000000000001
        rename(mould, measure + "_cm", measure + "_mm", json_number(mm));
    }
}

void white_to_dose(Json& portion, const std::string& path, const std::string& file) {
    if (!portion.is_object()) Place(portion, path, file).fail_wrong("an object, { ... }");
    refuse_both(portion, path, "white_g_per_kg_oils", "white", file);
    Fields fields(Place(portion, path, file));
    const auto white = fields.find("white_g_per_kg_oils");
    if (!white) return;
    const double dose = white->number(limits::dose_g_per_kg_oils);
    Json object = Json::object();
    object["colourant"] = "titanium-dioxide";
    object["g_per_kg_oils"] = json_number(dose);
    rename(portion, "white_g_per_kg_oils", "white", object);
}

void layers_to_pours(Json& root, const std::string& file) {
    refuse_both(root, "", "layers", "pours", file);
    const auto layers = Fields(Place(root, "", file)).at("layers", "a list of portion ids, the lowest first");
    Json pours = Json::array();
    for (const Place& layer : layers.items(1, limits::pours, "portion ids")) {
        const std::string id = layer.id();
        bool found = false;
        for (const Json& portion : root["portions"])
            if (portion.contains("id") && portion["id"] == id) found = true;
        if (!found)
            layer.fail("there is no portion " + foreslice::quoted(id), "the id of one of the portions");
        Json pour = Json::object();
        pour["portion"] = id;
        pours.push_back(std::move(pour));
    }
    rename(root, "layers", "pours", pours);
}

void from_1_to_2(Json& root, const std::string& file) {
    Fields fields(Place(root, "", file));
    const Place mould = fields.at("mould", "an object with the mould's inside measures");
    if (!mould.value().is_object()) mould.fail_wrong("an object, { ... }");
    mould_from_cm(root["mould"], "/mould", file);
    const Place portions = fields.at("portions", "a list of portions");
    portions.items(1, limits::portions, "portions");
    for (std::size_t i = 0; i < root["portions"].size(); ++i)
        white_to_dose(root["portions"][i], path_to("/portions", i), file);
    layers_to_pours(root, file);
}

}  // namespace

void migrate(Json& tree, const std::string& file) {
    Fields fields(Place(tree, "", file));
    fields.at("format", foreslice::quoted(format_id)).one_of({format_id});
    const Place version = fields.at("version", "1 or " + std::to_string(file_version));
    if (version.value().is_number_integer() && version.value().get<double>() > file_version)
        version.fail("version " + version.value().dump() +
                         " is newer than this program, which reads up to version " +
                         std::to_string(file_version),
                     "a file of version 1 or 2, or a newer program");
    const auto number = version.whole_number({1, file_version});
    if (number == 1) {
        from_1_to_2(tree, file);
        tree["version"] = 2;
    }
}

}  // namespace foreslice::design
