// foreslice vary: one or two fields of a design through a range of values, as a labelled sheet and figures.
#include <CLI/CLI.hpp>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/measures_json.h"
#include "cli/progress_line.h"
#include "cli/workplace.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/memory_need.h"
#include "picture/variations.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;

struct VaryOptions {
    CommonOptions common;
    picture::FaceRequest request{.px_per_mm = 4};
    std::vector<std::string> over;
    std::filesystem::path output, csv;
    bool json = false;
};

void print_json(const design::Design& design, const std::vector<design::FieldAxis>& axes,
                const std::vector<picture::Variation>& variations) {
    Json out{{"design", design.name}, {"over", Json::array()}, {"faces", Json::array()}};
    for (const auto& axis : axes) out["over"].push_back({{"field", axis.field}, {"values", axis.values}});
    for (const auto& one : variations)
        out["faces"].push_back(
            {{"values", one.values}, {"measures", json_of_measures(one.measures, one.design)}});
    std::cout << out.dump(2) << "\n";
}

int make_variations(VaryOptions options) {
    const auto library = library_of(options.common);
    const auto design = opened(options.common.design, *library);
    std::vector<design::FieldAxis> axes;
    for (const auto& text : options.over) axes.push_back(design::axis_from(text));
    if (options.output.empty() && options.csv.empty() && !options.json)
        throw InputError("", "-o", "there is nothing to do", "a sheet to write (-o), --csv or --json");
    if (!options.output.empty()) check_picture_name(options.output, options.common.design);
    options.request.resolution = options.common.resolution();
    auto variations = picture::variations_of(design, axes, *library);
    if (!options.output.empty())
        picture::check_memory_of_faces(variations.size(), design, options.request.px_per_mm);
    WorkerPool pool(options.common.threads);
    picture::FaceMaker maker(pool, library);
    {
        ProgressLine line(design.name);
        picture::measure_all(maker, variations, options.request, line.progress());
        if (!options.output.empty())
            picture::write_png(
                picture::variations_sheet(maker, design, axes, variations, options.request, line.progress()),
                options.output);
    }
    if (!options.csv.empty())
        write_file_atomically(options.csv, picture::variations_csv(design, axes, variations));
    if (options.json) print_json(design, axes, variations);
    flow::SolveReport solve;
    for (const auto& one : variations) solve = picture::worst_of(solve, one.solve);
    if (!options.json) std::cout << variations.size() << (variations.size() == 1 ? " face\n" : " faces\n");
    return exit_code_of(solve, options.common.design.string());
}

}  // namespace

void add_vary(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<VaryOptions>();
    CLI::App* command =
        app.add_subcommand("vary", "Draw and measure a design while one or two of its fields change");
    add_design(*command, options->common);
    command
        ->add_option("--over", options->over,
                     "A field of the design by its path in the file, and what it runs through: passes=3..9, "
                     "age_days=0..180:60, batter.trace=light,medium. Twice for a grid")
        ->type_name("FIELD=VALUES")
        ->required()
        ->allow_extra_args(false);
    command->add_option("-o,--output", options->output, "Sheet to write (PNG)")->type_name("FILE");
    command->add_option("--csv", options->csv, "Table of the measures to write")->type_name("FILE");
    command->add_flag("--json", options->json, "Print the measures as JSON");
    add_view(*command, options->request, "Which bar of the loaf, from 1");
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice vary palettes/slipway.foreslice.json --over passes=3..9 --over "
        "batter.trace=light,medium -o sheet.png");
    command->final_callback([options, &chosen] { chosen = [options] { return make_variations(*options); }; });
}

}  // namespace foreslice::cli
