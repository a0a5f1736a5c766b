// foreslice demo: a face of every design in a folder, and all of them on one sheet.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <iostream>
#include <set>

#include "cli/commands.h"
#include "cli/progress_line.h"
#include "cli/workplace.h"
#include "design/design_file.h"
#include "foundation/error.h"
#include "picture/assets.h"
#include "picture/caption.h"
#include "picture/face.h"
#include "picture/sheet.h"

namespace foreslice::cli {
namespace {

namespace fs = std::filesystem;

struct DemoOptions {
    CommonOptions common;
    fs::path designs;  ///< empty: the program's own
    fs::path output;
    std::string title = "Last Ferry, Tarn Quay";
    double px_per_mm = 8;
    bool without_design = false;
};

struct Piece {
    fs::path file;
    design::Design design;
};

bool is_design(const fs::path& file) {
    return file.filename().string().ends_with(design::file_ending);
}

/// "slipway" of "slipway.foreslice.json".
std::string plain_name(const fs::path& file) {
    const std::string name = file.filename().string();
    return name.substr(0, name.size() - design::file_ending.size());
}

std::vector<Piece> collection(const fs::path& folder, const colour::ColourantLibrary& library) {
    std::error_code error;
    if (!fs::is_directory(folder, error)) throw InputError(folder.string(), "", "is not a folder", "");
    std::set<fs::path> files;  // in the order of their names
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        if (entry.is_regular_file() && is_design(entry.path())) files.insert(entry.path());
    if (files.empty())
        throw InputError(folder.string(), "", "holds no designs",
                         "a folder with files that end in .foreslice.json");
    std::vector<Piece> pieces;
    pieces.reserve(files.size());
    for (const auto& file : files) pieces.push_back({file, opened(file, library)});
    return pieces;
}

int middle_bar(const design::Design& design) {
    return std::max(1, (design::bar_count(design) + 1) / 2);
}

class Demo {
  public:
    Demo(const DemoOptions& options, std::shared_ptr<const colour::ColourantLibrary> library)
        : options_(options), pool_(options.common.threads), maker_(pool_, std::move(library)) {}

    int run(const std::vector<Piece>& pieces) {
        int code = good;
        for (const auto& piece : pieces) {
            const auto file = options_.output / (plain_name(piece.file) + ".png");
            code = std::max(code, draw(piece, file));
            std::cout << file.string() << "\n" << std::flush;
        }
        const auto sheet = options_.output / "collection.png";
        const std::string note = std::to_string(pieces.size()) + (pieces.size() == 1 ? " soap" : " soaps") +
                                 ", the middle bar of each, all at one scale";
        picture::write_png(picture::contact_sheet(options_.title, note, entries_), sheet);
        std::cout << sheet.string() << "\n";
        return code;
    }

  private:
    int draw(const Piece& piece, const fs::path& file) {
        picture::FaceRequest request;
        request.bar = middle_bar(piece.design);
        request.resolution = options_.common.resolution();
        ProgressLine line(piece.design.name);
        request.px_per_mm = options_.px_per_mm;
        auto face = maker_.make(piece.design, request, line.progress());
        const design::View view{request.bar, request.px_per_mm};
        write_shared(picture::presented(piece.design, face, request), file, piece.design,
                     maker_.colour_library(), view, options_.without_design);
        face.image = picture::halved(face.image);
        request.px_per_mm /= 2;
        entries_.push_back(
            {picture::bar_picture(piece.design, face, request), piece.design.name,
             picture::short_batter_words(piece.design) + " · " + picture::wire_words(piece.design)});
        return exit_code_of(face.solve, piece.file.string());
    }

    const DemoOptions& options_;
    WorkerPool pool_;
    picture::FaceMaker maker_;
    std::vector<picture::SheetEntry> entries_;
};

int make_demo(const DemoOptions& options) {
    const auto library = library_of(options.common);
    const auto pieces =
        collection(options.designs.empty() ? picture::own_file("palettes") : options.designs, *library);
    std::error_code error;
    fs::create_directories(options.output, error);
    if (!fs::is_directory(options.output))
        throw InputError(options.output.string(), "", "the folder cannot be made: " + error.message(), "");
    return Demo(options, library).run(pieces);
}

}  // namespace

void add_demo(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<DemoOptions>();
    CLI::App* command = app.add_subcommand("demo", "Draw a whole collection: every face and one sheet");
    command->add_option("-o,--output", options->output, "Folder for the pictures; made if need be")
        ->type_name("FOLDER")
        ->required();
    command->add_option("--designs", options->designs, "Folder of designs instead of the demo collection")
        ->type_name("FOLDER");
    command->add_option("--title", options->title, "Heading of the sheet")->capture_default_str();
    command
        ->add_option("--px-per-mm", options->px_per_mm,
                     "Scale of the single faces, 2 to 60; the sheet has half of it")
        ->type_name("X")
        ->check(CLI::Range(2.0, 60.0))
        ->capture_default_str();
    add_sharing(*command, options->without_design);
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer("Example:\n  foreslice demo -o out");
    command->final_callback([options, &chosen] { chosen = [options] { return make_demo(*options); }; });
}

}  // namespace foreslice::cli
