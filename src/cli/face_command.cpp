// foreslice face: one cut face as a PNG.
#include <CLI/CLI.hpp>
#include <iostream>
#include <map>

#include "cli/commands.h"
#include "cli/progress_line.h"
#include "cli/workplace.h"
#include "picture/face.h"

namespace foreslice::cli {
namespace {

struct FaceOptions {
    CommonOptions common;
    picture::FaceRequest request;
    std::filesystem::path output;
    bool plain = false;
};

const std::map<std::string, picture::Stage> stages{{"poured", picture::Stage::poured},
                                                   {"drawn", picture::Stage::drawn}};

int make_face(FaceOptions options) {
    const auto library = library_of(options.common);
    const auto design = opened(options.common.design, *library);
    check_picture_name(options.output, options.common.design);
    options.request.resolution = options.common.resolution();
    WorkerPool pool(options.common.threads);
    picture::FaceMaker maker(pool, library);
    const auto face = [&] {
        ProgressLine line(design.name);
        return maker.make(design, options.request, line.progress());
    }();
    const auto image = options.plain ? face.image : picture::presented(design, face, options.request);
    picture::write_png(image, options.output);
    std::cout << options.output.string() << ": bar " << options.request.bar << " of "
              << design::bar_count(design) << ", " << image.width_px << " x " << image.height_px << " px\n";
    return exit_code_of(face.solve, options.common.design.string());
}

}  // namespace

void add_face(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<FaceOptions>();
    CLI::App* command = app.add_subcommand("face", "Draw the cut face of one bar");
    add_design(*command, options->common);
    command->add_option("-o,--output", options->output, "Picture to write (PNG)")
        ->type_name("FILE")
        ->required();
    command->add_option("--bar", options->request.bar, "Which bar of the loaf, from 1")
        ->type_name("N")
        ->capture_default_str();
    command
        ->add_option("--px-per-mm", options->request.px_per_mm,
                     "Scale in pixels per millimetre of soap, 0.5 to 60")
        ->type_name("X")
        ->capture_default_str();
    command
        ->add_option("--stage", options->request.stage,
                     "poured: layers before the wire moves; drawn: after it (default)")
        ->type_name("STAGE")
        ->transform(CLI::CheckedTransformer(stages));
    command->add_flag("--plain", options->plain, "The bare face: no outline, title or legend");
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice face palettes/slipway.foreslice.json -o slipway.png --bar 3 --px-per-mm 10");
    command->final_callback([options, &chosen] { chosen = [options] { return make_face(*options); }; });
}

}  // namespace foreslice::cli
