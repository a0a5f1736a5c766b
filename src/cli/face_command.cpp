// foreslice face: one cut face as a PNG, and its measures.
#include <CLI/CLI.hpp>
#include <iostream>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>

#include "cli/commands.h"
#include "cli/measures_json.h"
#include "cli/progress_line.h"
#include "cli/workplace.h"
#include "foundation/error.h"
#include "picture/face.h"

namespace foreslice::cli {
namespace {

struct FaceOptions {
    CommonOptions common;
    picture::FaceRequest request;
    std::filesystem::path output;
    bool plain = false;
    bool json = false;
    bool without_design = false;
    std::string age;
};

using Json = nlohmann::ordered_json;

const std::map<std::string, picture::Stage> stages{{"poured", picture::Stage::poured},
                                                   {"drawn", picture::Stage::drawn}};

design::View view_of(const FaceOptions& options) {
    return {options.request.bar, options.request.px_per_mm, options.request.stage == picture::Stage::poured,
            options.plain, options.common.cells_across};
}

// A shared picture is drawn as it was looked at, but for what the command line says otherwise.
void take_view(FaceOptions& options, const CLI::App& command) {
    if (!design::is_picture(options.common.design)) return;
    const auto view = design::open_design(options.common.design).view;
    if (!view) return;
    if (command.count("--bar") == 0) options.request.bar = view->bar;
    if (command.count("--px-per-mm") == 0) options.request.px_per_mm = view->px_per_mm;
    if (command.count("--stage") == 0 && view->poured) options.request.stage = picture::Stage::poured;
    if (command.count("--plain") == 0) options.plain = view->plain;
    if (command.count("--cells") == 0) options.common.cells_across = view->cells_across;
}

struct Made {
    std::optional<picture::Image> image;
    std::optional<picture::FaceMeasures> measures;
    flow::SolveReport solve;
};

Made make(const FaceOptions& options, const design::Design& design,
          const std::shared_ptr<const colour::ColourantLibrary>& library) {
    WorkerPool pool(options.common.threads);
    picture::FaceMaker maker(pool, library);
    ProgressLine line(design.name);
    Made made;
    if (!options.output.empty()) {
        const auto face = maker.make(design, options.request, line.progress());
        made.solve = face.solve;
        made.image = options.plain ? face.image : picture::presented(design, face, options.request);
    }
    if (options.json) {
        made.measures = maker.measure(design, options.request, line.progress());
        if (options.request.stage == picture::Stage::drawn && !design.strokes.empty())
            made.solve = maker.flow_map(design, options.request, line.progress())->report();
    }
    return made;
}

void print_json(const FaceOptions& options, const design::Design& design, const Made& made) {
    Json out{{"design", design.name},
             {"bar", options.request.bar},
             {"bars", design::bar_count(design)},
             {"stage", options.request.stage == picture::Stage::poured ? "poured" : "drawn"}};
    if (made.image)
        out["picture"] = {{"file", options.output.string()},
                          {"width_px", made.image->width_px},
                          {"height_px", made.image->height_px}};
    out["measures"] = json_of_measures(*made.measures, design);
    std::cout << out.dump(2) << "\n";
}

int make_face(FaceOptions options, const CLI::App& command) {
    take_view(options, command);
    const auto library = library_of(options.common);
    auto design = opened(options.common.design, *library);
    set_age(design, options.age);
    if (options.output.empty() && !options.json)
        throw InputError("", "-o", "there is nothing to do", "a picture to write (-o), --json, or both");
    if (!options.output.empty()) check_picture_name(options.output, options.common.design);
    options.request.resolution = options.common.resolution();
    const Made made = make(options, design, library);
    if (made.image)
        write_shared(*made.image, options.output, design, *library, view_of(options), options.without_design);
    if (options.json)
        print_json(options, design, made);
    else
        std::cout << options.output.string() << ": bar " << options.request.bar << " of "
                  << design::bar_count(design) << ", " << made.image->width_px << " x "
                  << made.image->height_px << " px\n";
    return exit_code_of(made.solve, options.common.design.string());
}

}  // namespace

void add_face(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<FaceOptions>();
    CLI::App* command = app.add_subcommand("face", "Draw the cut face of one bar, or measure it");
    add_design(*command, options->common);
    command->add_option("-o,--output", options->output, "Picture to write (PNG)")->type_name("FILE");
    add_view(*command, options->request, "Which bar of the loaf, from 1");
    command
        ->add_option("--stage", options->request.stage,
                     "poured: layers before the wire moves; drawn: after it (default)")
        ->type_name("STAGE")
        ->transform(CLI::CheckedTransformer(stages));
    command->add_flag("--plain", options->plain, "The bare face: no outline, title or legend");
    command->add_flag("--json", options->json,
                      "Print the face's measures as JSON: shares, band thickness, muddy share, feathers, "
                      "symmetry, contrast. With or without a picture");
    add_age(*command, options->age);
    add_sharing(*command, options->without_design);
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice face palettes/slipway.foreslice.json -o slipway.png --bar 3 --px-per-mm 10\n"
        "  foreslice face palettes/slipway.foreslice.json --json");
    command->final_callback([options, command, &chosen] {
        chosen = [options, command] { return make_face(*options, *command); };
    });
}

}  // namespace foreslice::cli
