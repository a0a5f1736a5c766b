// foreslice loaf: every bar of the loaf in order, its ends, and the loaf cut lengthwise.
#include <CLI/CLI.hpp>
#include <iostream>

#include "cli/commands.h"
#include "cli/progress_line.h"
#include "cli/workplace.h"
#include "picture/loaf.h"

namespace foreslice::cli {
namespace {

struct LoafOptions {
    CommonOptions common;
    picture::LoafRequest request;
    std::filesystem::path output;
    bool cells_given = false;  ///< else what the scale can show
    bool without_design = false;
};

int make_loaf(LoafOptions options) {
    const auto library = library_of(options.common);
    const auto design = opened(options.common.design, *library);
    check_picture_name(options.output, options.common.design);
    options.request.resolution = picture::resolution_for_loaf(options.request.px_per_mm);
    if (options.cells_given) options.request.resolution.cells_across = options.common.cells_across;
    WorkerPool pool(options.common.threads);
    picture::FaceMaker maker(pool, library);
    const auto loaf = [&] {
        ProgressLine line(design.name);
        return picture::loaf_picture(maker, design, options.request, line.progress());
    }();
    write_shared(loaf.picture, options.output, design, *library, std::nullopt, options.without_design);
    const int bars = design::bar_count(design);
    std::cout << options.output.string() << ": " << bars << (bars == 1 ? " bar, " : " bars, ")
              << loaf.picture.width_px << " x " << loaf.picture.height_px << " px\n";
    return exit_code_of(loaf.solve, options.common.design.string());
}

}  // namespace

void add_loaf(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<LoafOptions>();
    CLI::App* command = app.add_subcommand("loaf", "Draw the whole loaf: every bar in order and the ends");
    add_design(*command, options->common);
    command->add_option("-o,--output", options->output, "Picture to write (PNG)")
        ->type_name("FILE")
        ->required();
    command
        ->add_option("--px-per-mm", options->request.px_per_mm,
                     "Scale in pixels per millimetre of soap, 1 to 12")
        ->type_name("X")
        ->capture_default_str();
    add_sharing(*command, options->without_design);
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Bars differ by the unevenness of the pours and by the hand's wander and the wire's sag of the "
        "design.\n\n"
        "Example:\n  foreslice loaf palettes/slipway.foreslice.json -o slipway-loaf.png");
    command->final_callback([options, command, &chosen] {
        options->cells_given = command->count("--cells") > 0;
        chosen = [options] { return make_loaf(*options); };
    });
}

}  // namespace foreslice::cli
