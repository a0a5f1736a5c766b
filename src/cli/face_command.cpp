// foreslice face: one cut face as a PNG, and its measures.
#include <CLI/CLI.hpp>
#include <cmath>
#include <iostream>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>

#include "cli/commands.h"
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
    std::string age;
};

using Json = nlohmann::ordered_json;

const std::map<std::string, picture::Stage> stages{{"poured", picture::Stage::poured},
                                                   {"drawn", picture::Stage::drawn}};

// As many digits as mean anything.
double rounded(double value) {
    return std::round(value * 1e4) / 1e4;
}

Json json_of(const picture::FaceMeasures& measures, const design::Design& design) {
    Json out;
    const auto id = [&](int portion) { return design.portions[static_cast<std::size_t>(portion)].id; };
    out["portions"] = Json::array();
    for (std::size_t i = 0; i < measures.portions.size(); ++i) {
        const auto& of = measures.portions[i];
        out["portions"].push_back({{"id", design.portions[i].id},
                                   {"name", design.portions[i].name},
                                   {"poured_percent", rounded(of.poured_percent)},
                                   {"face_percent", rounded(of.face_percent)},
                                   {"feathers", of.feathers}});
    }
    out["band_thickness_mm"] = {{"median", rounded(measures.median_thickness_mm)},
                                {"tenth_percentile", rounded(measures.fine_thickness_mm)}};
    out["muddy_percent"] = rounded(measures.muddy_percent);
    out["muddy_below_mm"] = picture::resolved_mm;
    out["feathers"] = measures.feathers;
    out["symmetry"] = rounded(measures.symmetry);
    out["contrast_de00"] = {{"mean", rounded(measures.mean_contrast_de00)},
                            {"least", rounded(measures.least_contrast_de00)}};
    out["boundaries"] = Json::array();
    for (const auto& boundary : measures.boundaries)
        out["boundaries"].push_back({{"between", {id(boundary.one), id(boundary.other)}},
                                     {"length_mm", rounded(boundary.length_mm)},
                                     {"de00", rounded(boundary.de00)}});
    out["measured_every_mm"] = rounded(measures.lattice_mm);
    return out;
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
    out["measures"] = json_of(*made.measures, design);
    std::cout << out.dump(2) << "\n";
}

int make_face(FaceOptions options) {
    const auto library = library_of(options.common);
    auto design = opened(options.common.design, *library);
    set_age(design, options.age);
    if (options.output.empty() && !options.json)
        throw InputError("", "-o", "there is nothing to do", "a picture to write (-o), --json, or both");
    if (!options.output.empty()) check_picture_name(options.output, options.common.design);
    options.request.resolution = options.common.resolution();
    const Made made = make(options, design, library);
    if (made.image) picture::write_png(*made.image, options.output);
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
    command->add_flag("--json", options->json,
                      "Print the face's measures as JSON: shares, band thickness, muddy share, feathers, "
                      "symmetry, contrast. With or without a picture");
    add_age(*command, options->age);
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice face palettes/slipway.foreslice.json -o slipway.png --bar 3 --px-per-mm 10\n"
        "  foreslice face palettes/slipway.foreslice.json --json");
    command->final_callback([options, &chosen] { chosen = [options] { return make_face(*options); }; });
}

}  // namespace foreslice::cli
