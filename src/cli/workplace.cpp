#include "cli/workplace.h"

#include <CLI/CLI.hpp>
#include <iostream>

#include "cli/commands.h"
#include "design/design_file.h"
#include "design/limits.h"
#include "design/recipe.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/assets.h"
#include "picture/caption.h"

namespace foreslice::cli {

flow::Resolution CommonOptions::resolution() const {
    flow::Resolution resolution;
    resolution.cells_across = cells_across;
    return resolution;
}

void add_design(CLI::App& command, CommonOptions& options) {
    command
        .add_option("DESIGN", options.design,
                    "Design file (JSON), or a picture that carries its design (PNG)")
        ->required();
}

void add_colourants(CLI::App& command, CommonOptions& options) {
    command
        .add_option("--colourants", options.colourants,
                    "Colourant library to use instead of the program's own")
        ->type_name("FILE");
}

void add_view(CLI::App& command, picture::FaceRequest& request, const char* bars) {
    command.add_option("--bar", request.bar, bars)->type_name("N")->capture_default_str();
    command.add_option("--px-per-mm", request.px_per_mm, "Pixels per millimetre of soap, 0.5 to 60")
        ->type_name("X")
        ->capture_default_str();
}

void add_computing(CLI::App& command, CommonOptions& options) {
    command
        .add_option("--threads", options.threads,
                    "Threads to compute with; 0 means all there are. The picture does not depend on it")
        ->type_name("N")
        ->check(CLI::Range(0, 256));
    command.add_option("--cells", options.cells_across, "Cells of the flow's grid across the mould's width")
        ->type_name("N")
        ->check(CLI::Range(16, 1024))
        ->capture_default_str();
}

std::shared_ptr<const colour::ColourantLibrary> library_of(const CommonOptions& options) {
    const auto path =
        options.colourants.empty() ? picture::own_file("palettes/colourants.json") : options.colourants;
    auto library = colour::ColourantLibrary::load(path);
    if (options.colourants.empty() && design::is_picture(options.design))
        if (const auto sent = design::open_design(options.design).colourants)
            library = design::with_sent(library, *sent);
    return std::make_shared<const colour::ColourantLibrary>(std::move(library));
}

batter::OilsTable oils_of(const std::filesystem::path& chosen) {
    return batter::OilsTable::load(chosen.empty() ? picture::own_file("palettes/oils.csv") : chosen);
}

design::Design opened(const std::filesystem::path& path, const colour::ColourantLibrary& library) {
    design::Design design = design::open_design(path).design;
    design::validate(design, path.string());
    design::validate(design, library, path.string());
    if (!design.recipe.oils.empty()) design::validate(design, oils_of({}), path.string());
    return design;
}

void check_picture_name(const std::filesystem::path& picture, const std::filesystem::path& design) {
    auto extension = picture.extension().string();
    for (char& c : extension) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    if (extension != ".png")
        throw InputError("", "-o", foreslice::quoted(picture.string()) + " is not a name for a picture",
                         "a name that ends in .png");
    std::error_code error;
    const auto folder = picture.parent_path();
    if (!folder.empty() && !std::filesystem::is_directory(folder, error))
        throw InputError(picture.string(), "",
                         "cannot be written: there is no folder " + foreslice::quoted(folder.string()), "");
    if (std::filesystem::equivalent(picture, design, error))
        throw InputError(picture.string(), "", "is the design itself and would be overwritten",
                         "another name");
}

void add_sharing(CLI::App& command, bool& without_design) {
    command.add_flag("--without-design", without_design,
                     "Leave the design out of the picture, which then cannot be opened again");
}

void write_shared(const picture::Image& image, const std::filesystem::path& path,
                  const design::Design& design, const colour::ColourantLibrary& library,
                  const std::optional<design::View>& view, bool without_design) {
    const std::string png = picture::png_bytes(image);
    write_file_atomically(path, without_design ? png : design::with_design(png, design, library, view));
}

void add_age(CLI::App& command, std::string& age) {
    command.add_option("--age", age, "Show it after so many days, or: wet, cut (next day), 4w, 6m")
        ->type_name("AGE");
}

void set_age(design::Design& design, const std::string& age) {
    if (age.empty()) return;
    for (const auto& [word, days] : {std::pair{"wet", 0.0}, {"cut", 1.0}, {"4w", 28.0}, {"6m", 180.0}})
        if (age == word) {
            design.age_days = days;
            return;
        }
    std::size_t used = 0;
    double days = -1;
    try {
        days = std::stod(age, &used);
    } catch (const std::exception&) {
        used = std::string::npos;
    }
    if (used != age.size() || !design::limits::age_days.holds(days))
        throw InputError("", "--age", foreslice::quoted(age) + " is no age",
                         "wet, cut, 4w, 6m or days from 0 to 3650");
    design.age_days = days;
}

int exit_code_of(const flow::SolveReport& report, const std::string& name) {
    if (report.converged) return good;
    std::cerr << "foreslice: " << name << ": the flow did not reach its tolerance at every position of the "
              << "wire (relative change " << picture::short_number(report.worst_residual, 2) << " after "
              << report.most_iterations << " iterations); take the result with care\n";
    return not_converged;
}

}  // namespace foreslice::cli
