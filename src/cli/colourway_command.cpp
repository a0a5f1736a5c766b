// foreslice colourway: the portions' colours over time, under lamps and to other eyes, as a PNG.
#include <CLI/CLI.hpp>
#include <iostream>

#include "cli/commands.h"
#include "cli/workplace.h"
#include "picture/colourway.h"

namespace foreslice::cli {
namespace {

struct ColourwayOptions {
    CommonOptions common;
    std::filesystem::path output;
    std::string age;
    double unit = 1.5;
    bool without_design = false;
};

int make_colourway(const ColourwayOptions& options) {
    const auto library = library_of(options.common);
    auto design = opened(options.common.design, *library);
    set_age(design, options.age);
    check_picture_name(options.output, options.common.design);
    const auto image = picture::colourway_plate(design, *library, options.unit);
    write_shared(image, options.output, design, *library, std::nullopt, options.without_design);
    std::cout << options.output.string() << ": " << design.portions.size() << " portions, " << image.width_px
              << " x " << image.height_px << " px\n";
    return good;
}

}  // namespace

void add_colourway(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<ColourwayOptions>();
    CLI::App* command =
        app.add_subcommand("colourway", "Draw the colours over time, under lamps and to other eyes");
    add_design(*command, options->common);
    command->add_option("-o,--output", options->output, "Picture to write (PNG)")
        ->type_name("FILE")
        ->required();
    add_age(*command, options->age);
    command->add_option("--scale", options->unit, "Size of the plate")
        ->type_name("X")
        ->check(CLI::Range(0.5, 8.0))
        ->capture_default_str();
    add_sharing(*command, options->without_design);
    add_colourants(*command, options->common);
    command->footer("Example:\n  foreslice colourway palettes/slipway.foreslice.json -o colours.png");
    command->final_callback([options, &chosen] { chosen = [options] { return make_colourway(*options); }; });
}

}  // namespace foreslice::cli
