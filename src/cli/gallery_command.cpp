// foreslice gallery: a collection as one web page that needs no network.
#include <CLI/CLI.hpp>
#include <iostream>

#include "cli/commands.h"
#include "cli/family.h"
#include "cli/progress_line.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/gallery.h"

namespace foreslice::cli {
namespace {

namespace fs = std::filesystem;

struct GalleryOptions {
    CommonOptions common;
    picture::GalleryRequest request;
    fs::path output;
};

constexpr double alike_within_de00 = 6;

// A folder, there or to be made, gets an index.html.
fs::path page_of(const fs::path& output) {
    const auto extension = output.extension();
    std::error_code error;
    if (extension == ".html" || extension == ".htm") {
        const auto folder = output.parent_path();
        if (!folder.empty() && !fs::is_directory(folder, error))
            throw InputError(output.string(), "",
                             "cannot be written: there is no folder " + foreslice::quoted(folder.string()),
                             "");
        return output;
    }
    fs::create_directories(output, error);
    if (!fs::is_directory(output))
        throw InputError(output.string(), "", "the folder cannot be made: " + error.message(), "");
    return output / "index.html";
}

int make_gallery(GalleryOptions options) {
    const auto family = open_family(options.common);
    check_memory(family, options.request.px_per_mm);
    const auto page = page_of(options.output);
    options.request.resolution = options.common.resolution();
    WorkerPool pool(options.common.threads);
    picture::FaceMaker maker(pool, family.colour_library);
    std::vector<picture::GallerySoap> soaps;
    std::vector<picture::FaceSignature> signatures;
    flow::SolveReport solve;
    for (const auto& member : family.members) {
        ProgressLine line(member.design.name);
        soaps.push_back(
            picture::gallery_soap(maker, member.design, member.loaves, options.request, line.progress()));
        signatures.push_back(soaps.back().signature);
        solve = picture::worst_of(solve, soaps.back().solve);
    }
    const auto report =
        design::family_report(family.members, *family.colour_library, family.collection.margin_percent);
    const std::string html =
        picture::gallery_page({family.collection.name, family.collection.notes}, soaps, report,
                              picture::alike_pairs(signatures, alike_within_de00));
    write_file_atomically(page, html);
    std::cout << page.string() << ": " << soaps.size() << (soaps.size() == 1 ? " soap, " : " soaps, ")
              << (html.size() >> 10U) << " KiB\n";
    return exit_code_of(solve, options.common.design.string());
}

}  // namespace

void add_gallery(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<GalleryOptions>();
    CLI::App* command = app.add_subcommand("gallery", "Make one web page of a collection, to be sent round");
    add_collection(*command, options->common);
    command->add_option("-o,--output", options->output, "Page to write (HTML), or a folder for it")
        ->type_name("FILE")
        ->required();
    command
        ->add_option("--orders", options->request.orders, "Other orders of the layers shown of each, 0 to 24")
        ->type_name("N")
        ->check(CLI::Range(0, 24))
        ->capture_default_str();
    command->add_option("--px-per-mm", options->request.px_per_mm, "Scale of the large faces, 2 to 20")
        ->type_name("X")
        ->check(CLI::Range(2.0, 20.0))
        ->capture_default_str();
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer("Example:\n  foreslice gallery palettes/last-ferry.collection.json -o gallery.html");
    command->final_callback([options, &chosen] { chosen = [options] { return make_gallery(*options); }; });
}

}  // namespace foreslice::cli
