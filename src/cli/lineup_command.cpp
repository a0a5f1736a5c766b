// foreslice lineup: the whole family as bars on a shelf, and what can be said about it as a whole.
#include <CLI/CLI.hpp>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/family.h"
#include "picture/lineup.h"

namespace foreslice::cli {
namespace {

struct LineupOptions {
    CommonOptions common;
    std::filesystem::path output;
    double px_per_mm = 4;
    double alike_de00 = 6;
    std::optional<double> margin_percent;
    bool json = false;
};

std::string note_of(const OpenedFamily& family) {
    return std::to_string(family.members.size()) + (family.members.size() == 1 ? " soap" : " soaps") +
           ", the middle bar of each, all at one scale";
}

int make_lineup(const LineupOptions& options) {
    const auto family = open_family(options.common);
    if (!options.output.empty()) check_picture_name(options.output, options.common.design);
    WorkerPool pool(options.common.threads);
    picture::FaceMaker maker(pool, family.colour_library);
    const auto faces = faces_of(family, maker, options.px_per_mm, options.common.resolution());
    std::vector<picture::LineupBar> bars;
    std::vector<picture::FaceSignature> signatures;
    flow::SolveReport solve;
    for (const auto& face : faces) {
        bars.push_back(face.bar);
        signatures.push_back(face.signature);
        solve = picture::worst_of(solve, face.solve);
    }
    if (!options.output.empty())
        picture::write_png(
            picture::lineup_picture(family.collection.name, note_of(family), bars, options.px_per_mm),
            options.output);
    const auto report =
        design::family_report(family.members, *family.colour_library,
                              options.margin_percent.value_or(family.collection.margin_percent));
    const auto alike = picture::alike_pairs(signatures, options.alike_de00);
    if (options.json)
        std::cout << json_of(family, report, alike).dump(2) << "\n";
    else
        print_report(std::cout, family, report, alike);
    return exit_code_of(solve, options.common.design.string());
}

}  // namespace

void add_lineup(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<LineupOptions>();
    CLI::App* command =
        app.add_subcommand("lineup", "Stand a collection on a shelf and report on it as a whole");
    add_collection(*command, options->common);
    command->add_option("-o,--output", options->output, "Picture to write (PNG)")->type_name("FILE");
    command->add_option("--px-per-mm", options->px_per_mm, "Scale of the picture, 1 to 12")
        ->type_name("X")
        ->check(CLI::Range(picture::least_lineup_px_per_mm, picture::most_lineup_px_per_mm))
        ->capture_default_str();
    command
        ->add_option("--alike", options->alike_de00, "Soaps whose faces differ by less (mean dE00) are told")
        ->type_name("DE00")
        ->check(CLI::Range(0.0, 100.0))
        ->capture_default_str();
    command
        ->add_option("--margin", options->margin_percent,
                     "Percent of pigment to order beyond what is needed; else the collection's")
        ->type_name("PERCENT")
        ->check(CLI::Range(0.0, 100.0));
    command->add_flag("--json", options->json, "Print the report as JSON");
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer("Example:\n  foreslice lineup palettes/last-ferry.collection.json -o lineup.png");
    command->final_callback([options, &chosen] { chosen = [options] { return make_lineup(*options); }; });
}

}  // namespace foreslice::cli
