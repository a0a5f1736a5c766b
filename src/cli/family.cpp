#include "cli/family.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <set>

#include "cli/measures_json.h"
#include "cli/progress_line.h"
#include "design/design_file.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "picture/assets.h"
#include "picture/memory_need.h"

namespace foreslice::cli {
namespace {

namespace fs = std::filesystem;

design::Collection folder_as_collection(const fs::path& folder) {
    std::set<std::string> files;  // in the order of their names
    for (const auto& entry : fs::directory_iterator(folder))
        if (entry.is_regular_file() && entry.path().filename().string().ends_with(design::file_ending))
            files.insert(entry.path().filename().string());
    if (files.empty())
        throw InputError(folder.string(), "", "holds no designs",
                         "a collection file, or a folder with files that end in .foreslice.json");
    design::Collection collection;
    collection.name = fs::absolute(folder).lexically_normal().filename().string();
    if (collection.name.empty()) collection.name = "collection";
    collection.file = folder / "collection";
    for (const auto& file : files) collection.members.push_back({file});
    return collection;
}

std::shared_ptr<const colour::ColourantLibrary> library_of(const CommonOptions& options,
                                                           const design::Collection& collection) {
    auto path = options.colourants;
    if (path.empty())
        path = collection.colourants.empty() ? picture::own_file("palettes/colourants.json")
                                             : collection.path_of(collection.colourants);
    return std::make_shared<const colour::ColourantLibrary>(colour::ColourantLibrary::load(path));
}

}  // namespace

void add_collection(CLI::App& command, CommonOptions& options) {
    command.add_option("COLLECTION", options.design, "Collection file (JSON), or a folder of designs")
        ->required();
}

OpenedFamily open_family(const CommonOptions& options) {
    OpenedFamily family;
    std::error_code error;
    family.collection = fs::is_directory(options.design, error) ? folder_as_collection(options.design)
                                                                : design::load_collection(options.design);
    family.colour_library = library_of(options, family.collection);
    for (const auto& member : family.collection.members) {
        const auto path = family.collection.path_of(member.file);
        auto design = design::load_member(family.collection, member);
        design::validate(design, path.string());
        design::validate(design, *family.colour_library, path.string());
        family.files.push_back(path);
        family.members.push_back({std::move(design), member.loaves});
    }
    return family;
}

void check_memory(const OpenedFamily& family, double px_per_mm, double times) {
    double bytes = 0;
    for (const auto& member : family.members)
        bytes += picture::design_bytes +
                 picture::kept_bytes_per_px * picture::face_pixels(member.design, times * px_per_mm);
    picture::check_memory(
        bytes, px_per_mm,
        std::to_string(family.members.size()) + " soaps at " + plain_number(px_per_mm) + " px per mm");
}

std::vector<picture::FamilyFace> faces_of(const OpenedFamily& family, picture::FaceMaker& maker,
                                          double px_per_mm, const flow::Resolution& resolution) {
    check_memory(family, px_per_mm, 2);
    std::vector<picture::FamilyFace> faces;
    for (const auto& member : family.members) {
        ProgressLine line(member.design.name);
        faces.push_back(picture::family_face(maker, member.design, px_per_mm, resolution, line.progress()));
    }
    return faces;
}

}  // namespace foreslice::cli
