// foreslice diff: what differs between two designs, in words of the trade, with both faces in one picture.
#include <CLI/CLI.hpp>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/progress_line.h"
#include "cli/workplace.h"
#include "design/differences.h"
#include "picture/caption.h"
#include "picture/cards.h"
#include "picture/face.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;

struct DiffOptions {
    CommonOptions common;
    std::filesystem::path other, output;
    picture::FaceRequest request{.px_per_mm = 6};
    bool json = false;
};

constexpr std::size_t most_lines_shown = 14;

picture::Image sheet_of(const DiffOptions& options, const design::Design& a, const design::Design& b,
                        const std::vector<design::Difference>& found, picture::FaceMaker& maker,
                        flow::SolveReport& solve) {
    std::vector<picture::Card> cards;
    for (const auto* design : {&a, &b}) {
        ProgressLine line(design->name);
        auto request = options.request;
        request.bar = std::min(request.bar, design::bar_count(*design));
        const auto face = maker.make(*design, request, line.progress());
        solve = picture::worst_of(solve, face.solve);
        picture::Card card;
        card.bar = picture::bar_picture(*design, face, request);
        card.label = picture::label_of(cards.size());
        card.title = design->name;
        card.lines = {picture::short_batter_words(*design) + " · " + picture::wire_words(*design)};
        cards.push_back(std::move(card));
    }
    for (std::size_t i = 0; i < std::min(found.size(), most_lines_shown); ++i)
        cards.back().lines.push_back(design::sentence_of(found[i]));
    if (found.size() > most_lines_shown)
        cards.back().lines.push_back("and " + std::to_string(found.size() - most_lines_shown) + " more");
    const std::string note = found.empty() ? "no differences"
                                           : std::to_string(found.size()) +
                                                 " differences, listed under B as what "
                                                 "B changes in A";
    return picture::card_sheet(a.name == b.name ? a.name + ": A and B" : a.name + " and " + b.name, note,
                               cards, 2);
}

int make_diff(DiffOptions options) {
    const auto library = library_of(options.common);
    const auto a = opened(options.common.design, *library);
    auto other = options.common;
    other.design = options.other;
    const auto b = opened(options.other, *library_of(other));
    if (!options.output.empty()) {
        check_picture_name(options.output, options.common.design);
        check_picture_name(options.output, options.other);
    }
    options.request.resolution = options.common.resolution();
    const auto found = design::differences(a, b, library.get());
    flow::SolveReport solve;
    if (!options.output.empty()) {
        WorkerPool pool(options.common.threads);
        picture::FaceMaker maker(pool, library);
        picture::write_png(sheet_of(options, a, b, found, maker, solve), options.output);
    }
    if (options.json) {
        Json out = Json::array();
        for (const auto& one : found)
            out.push_back({{"field", one.field}, {"place", one.place}, {"words", one.words}});
        std::cout << out.dump(2) << "\n";
    } else {
        for (const auto& one : found) std::cout << design::sentence_of(one) << "\n";
        if (found.empty()) std::cout << "no differences\n";
    }
    return exit_code_of(solve, options.common.design.string());
}

}  // namespace

void add_diff(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<DiffOptions>();
    CLI::App* command = app.add_subcommand("diff", "Say in words what differs between two designs");
    command->add_option("A", options->common.design, "Design file, or a picture that carries its design")
        ->required();
    command->add_option("B", options->other, "The other one")->required();
    command->add_option("-o,--output", options->output, "Picture of both faces to write (PNG)")
        ->type_name("FILE");
    command->add_flag("--json", options->json, "Print the differences as JSON");
    add_view(*command, options->request, "Which bar of each, from 1");
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice diff palettes/slipway.foreslice.json palettes/ebb-tide.foreslice.json -o "
        "both.png");
    command->final_callback([options, &chosen] { chosen = [options] { return make_diff(*options); }; });
}

}  // namespace foreslice::cli
