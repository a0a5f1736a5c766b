#include "design/shared_picture.h"

#include <fstream>
#include <set>

#include "colour/learned.h"
#include "design/design_file.h"
#include "design/internal/tree.h"
#include "foundation/error.h"
#include "foundation/png_text.h"
#include "foundation/text_file.h"

namespace foreslice::design {
namespace {

constexpr const char* shared_format = "foreslice shared design";
constexpr int shared_version = 1;
constexpr std::size_t most_picture_bytes = std::size_t{512} << 20U;
constexpr Range bars{1, 1000}, scales_px_per_mm{0.5, 60}, cells{16, 1024};

// Every text that stands under "colourant", wherever it is: doses, sifted lines, and what comes later.
void collect_colourants(const Json& tree, std::set<std::string>& ids) {
    for (const auto& [key, value] : tree.items()) {
        if (key == "colourant" && value.is_string()) ids.insert(value.get<std::string>());
        if (value.is_structured()) collect_colourants(value, ids);
    }
}

colour::ColourantLibrary only(const colour::ColourantLibrary& library, const std::set<std::string>& ids) {
    std::vector<colour::Colourant> used;
    for (const auto& colourant : library.colourants())
        if (ids.contains(colourant.id)) used.push_back(colourant);
    return {library.base(), library.base_provenance(), std::move(used)};
}

// A library file rounds to what a pigment is known to; a picture must come out the same to the last bit.
void put_exact_figures(Json& tree, const colour::Colourant& colourant) {
    tree["absorption_per_mm_for_1_g_per_kg_oils"] = colourant.unit.absorption_per_mm;
    tree["scattering_per_mm_for_1_g_per_kg_oils"] = colourant.unit.scattering_per_mm;
    const auto number = [&](const char* key, double value) {
        if (tree.contains(key)) tree[key] = value;
    };
    number("gram_per_teaspoon", colourant.gram_per_teaspoon);
    number("usual_most_g_per_kg_oils", colourant.usual_most_g_per_kg_oils);
    number("particle_density_g_per_cm3", colourant.particle_density_g_per_cm3);
    number("particle_diameter_um", colourant.particle_diameter_um);
    number("price_per_100_g", colourant.price_per_100_g);
    number("sparkle", colourant.sparkle);
    number("fade_half_life_days", colourant.fade_half_life_days);
    number("lost_in_alkali_share", colourant.lost_in_alkali_share);
    number("turns_brown_share", colourant.turns_brown_share);
}

Json exact_tree_of(const colour::ColourantLibrary& library) {
    Json tree = Json::parse(library.to_json());
    tree["base"]["absorption_per_mm"] = library.base().absorption_per_mm;
    tree["base"]["scattering_per_mm"] = library.base().scattering_per_mm;
    for (std::size_t i = 0; i < library.colourants().size(); ++i)
        put_exact_figures(tree["colourants"][i], library.colourants()[i]);
    return tree;
}

Json tree_of(const View& view) {
    Json tree = Json::object();
    tree["bar"] = view.bar;
    tree["px_per_mm"] = json_number(view.px_per_mm);
    tree["stage"] = view.poured ? "poured" : "drawn";
    tree["plain"] = view.plain;
    tree["cells_across"] = view.cells_across;
    return tree;
}

View view_from(const Place& place) {
    Fields fields(place);
    View view;
    if (const auto bar = fields.find("bar")) view.bar = static_cast<int>(bar->whole_number(bars));
    view.px_per_mm = fields.number_or("px_per_mm", scales_px_per_mm, view.px_per_mm);
    if (const auto stage = fields.find("stage")) view.poured = stage->one_of({"drawn", "poured"}) == 1;
    if (const auto plain = fields.find("plain")) view.plain = plain->truth();
    if (const auto found = fields.find("cells_across"))
        view.cells_across = static_cast<int>(found->whole_number(cells));
    return view;
}

}  // namespace

std::string with_design(std::string_view png, const Design& design, const colour::ColourantLibrary& library,
                        const std::optional<View>& view) {
    const Json document = tree_of(design);
    std::set<std::string> ids;
    collect_colourants(document, ids);
    Json shared = Json::object();
    shared["format"] = shared_format;
    shared["version"] = shared_version;
    shared["design"] = document;
    shared["colourants"] = exact_tree_of(only(library, ids));
    if (view) shared["view"] = tree_of(*view);
    const std::string text = shared.dump(-1, ' ', false, Json::error_handler_t::replace);
    if (text.size() > limits::file_bytes)
        throw InputError(
            "", "",
            "the design is too large to travel inside its picture (" + std::to_string(text.size() >> 10U) +
                " KiB)",
            "at most " + std::to_string(limits::file_bytes >> 10U) + " KiB; leave it out of the picture");
    return with_png_text(png, picture_keyword, text);
}

OpenedDesign design_in_picture(std::string_view png, const std::string& file) {
    const auto text = read_png_text(png, picture_keyword, file, limits::file_bytes);
    if (!text)
        throw InputError(file, "", "is a picture that carries no design",
                         "a design file, or a picture that was shared with its design");
    const Json tree = json_from_text(*text, file);
    Fields fields(Place(tree, "", file));
    check_heading(fields, file, shared_format, shared_version, "the design inside");
    OpenedDesign opened;
    opened.from_picture = true;
    Json document = fields.at("design", "a design").value();
    migrate(document, file);
    opened.design = design_from_tree(document, file);
    if (const auto colourants = fields.find("colourants"))
        opened.colourants = colour::ColourantLibrary::parse(colourants->value().dump(), file);
    if (const auto view = fields.find("view")) opened.view = view_from(*view);
    return opened;
}

bool is_picture(const std::filesystem::path& path) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) return false;
    std::ifstream in(path, std::ios::binary);
    std::string start(8, '\0');
    in.read(start.data(), 8);
    return in.gcount() == 8 && is_png(start);
}

bool carries_design(const std::filesystem::path& path) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) return false;
    std::ifstream in(path, std::ios::binary);
    return holds_png_text(in, picture_keyword);
}

OpenedDesign open_design(const std::filesystem::path& path) {
    if (is_picture(path)) return design_in_picture(read_file(path, most_picture_bytes), path.string());
    return {load(path), std::nullopt, std::nullopt, false};
}

colour::ColourantLibrary with_sent(const colour::ColourantLibrary& own,
                                   const colour::ColourantLibrary& sent) {
    auto all = colour::with_base(own, sent.base(), sent.base_provenance());
    for (const auto& colourant : sent.colourants()) all = colour::with_colourant(all, colourant);
    return all;
}

}  // namespace foreslice::design
