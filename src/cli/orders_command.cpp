// foreslice orders: every order of the layers from one flow, ranked and gathered, on one sheet.
#include <CLI/CLI.hpp>
#include <cmath>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/family.h"
#include "cli/progress_line.h"
#include "cli/workplace.h"
#include "foundation/error.h"
#include "picture/caption.h"
#include "picture/memory_need.h"
#include "picture/orders.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;

struct OrdersOptions {
    CommonOptions common;
    picture::OrdersRequest request;
    std::filesystem::path output, collection;
    std::string rank = "contrast";
    double px_per_mm = 4;
    bool json = false;
};

double rounded(double value) {
    return std::round(value * 1e3) / 1e3;
}

Json json_of(const picture::RankedOrder& order, const design::Design& ordered, bool with_collection) {
    Json pours = Json::array(), shares = Json::object();
    for (const auto& pour : ordered.pours) pours.push_back(pour.portion);
    for (std::size_t i = 0; i < ordered.portions.size(); ++i)
        shares[ordered.portions[i].id] = rounded(order.glance.face_percent[i]);
    Json out{{"pours_from_the_floor", pours},
             {"words", order.words},
             {"score", rounded(order.score)},
             {"contrast_de00", rounded(order.glance.contrast_de00)},
             {"muddy_percent", rounded(order.glance.muddy_percent)},
             {"accent_percent", rounded(order.accent_percent)},
             {"face_percent", shares}};
    if (with_collection) out["nearest_in_collection_de00"] = rounded(order.nearest_de00);
    return out;
}

void print_json(const design::Design& design, const picture::RankedOrders& ranked, bool with_collection) {
    const design::Layers layers(design);
    Json out{{"design", design.name},   {"looked_at", ranked.how},
             {"accent", ranked.accent}, {"alike_within_de00", rounded(ranked.reach_de00)},
             {"groups", ranked.groups}, {"orders", Json::array()}};
    for (const auto& order : ranked.orders)
        out["orders"].push_back(json_of(order, layers.in_order(order.order), with_collection));
    std::cout << out.dump(2) << "\n";
}

void print_words(const picture::RankedOrders& ranked) {
    std::cout << ranked.how << "\n";
    for (std::size_t group = 0; group < ranked.groups.size(); ++group) {
        const auto& best = ranked.orders[ranked.groups[group].front()];
        std::cout << picture::label_of(group) << "  " << best.words << "\n   " << best.stack
                  << "\n   contrast " << picture::short_number(best.glance.contrast_de00, 3) << ", accent "
                  << picture::short_number(best.accent_percent, 2) << " %, muddy "
                  << picture::short_number(best.glance.muddy_percent, 2) << " %";
        if (ranked.groups[group].size() > 1)
            std::cout << "; " << ranked.groups[group].size() - 1 << " like it";
        std::cout << "\n";
    }
}

// Faces of the other soaps of the collection, coarse: they are only compared at a glance.
std::vector<picture::FaceSignature> others_of(const OrdersOptions& options, WorkerPool& pool) {
    std::vector<picture::FaceSignature> signatures;
    if (options.collection.empty()) return signatures;
    CommonOptions common = options.common;
    common.design = options.collection;
    const auto family = open_family(common);
    picture::FaceMaker maker(pool, family.colour_library);
    const auto faces = faces_of(family, maker, 1, options.common.resolution());
    for (std::size_t i = 0; i < faces.size(); ++i) {
        std::error_code error;
        if (!std::filesystem::equivalent(family.files[i], options.common.design, error))
            signatures.push_back(faces[i].signature);
    }
    return signatures;
}

int make_orders(OrdersOptions options) {
    const auto library = library_of(options.common);
    const auto design = opened(options.common.design, *library);
    if (!options.output.empty()) {
        check_picture_name(options.output, options.common.design);
        picture::check_memory_of_faces(options.request.most_groups, design, options.px_per_mm);
    }
    options.request.resolution = options.common.resolution();
    options.request.aims = picture::aims_from(options.rank, design);
    WorkerPool pool(options.common.threads);
    options.request.collection = others_of(options, pool);
    picture::FaceMaker maker(pool, library);
    const auto ranked = [&] {
        ProgressLine line(design.name);
        auto made = picture::ranked_orders(maker, design, options.request, line.progress());
        if (!options.output.empty())
            picture::write_png(picture::orders_sheet(maker, design, made, options.request, options.px_per_mm,
                                                     line.progress()),
                               options.output);
        return made;
    }();
    if (options.json)
        print_json(design, ranked, !options.request.collection.empty());
    else
        print_words(ranked);
    return exit_code_of(ranked.solve, options.common.design.string());
}

void add_choice(CLI::App& command, OrdersOptions& options) {
    command
        .add_option(
            "--rank", options.rank,
            "What makes an order good, one or several with weights: contrast, clean (little muddy), "
            "accent (much of it seen), share:PORTION, kin or apart (like or unlike the collection's nearest "
            "soap); as in contrast=2,accent,share:salt=-1")
        ->type_name("AIMS")
        ->capture_default_str();
    command
        .add_option("--accent", options.request.accent, "The portion that is the accent; else the smallest")
        ->type_name("PORTION");
    command.add_option("--groups", options.request.most_groups, "Faces on the sheet, 1 to 60")
        ->type_name("N")
        ->check(CLI::Range(1, 60))
        ->capture_default_str();
    command
        .add_option("--alike", options.request.alike_de00,
                    "Faces that differ by less (mean dE00) count as one idea; more when there are too many")
        ->type_name("DE00")
        ->check(CLI::Range(0.0, 50.0))
        ->capture_default_str();
    command
        .add_option(
            "--most", options.request.most_orders,
            "Beyond so many possible orders they are searched, not all drawn; 16 to 40320. Else 720, or 60 "
            "where the pours are more than level layers")
        ->type_name("N")
        ->check(CLI::Range(16, 40320));
    command.add_option("--collection", options.collection, "Collection that kin and apart compare with")
        ->type_name("FILE");
    command.add_option("--seed", options.request.seed, "Of that search")
        ->type_name("N")
        ->capture_default_str();
}

}  // namespace

void add_orders(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<OrdersOptions>();
    CLI::App* command = app.add_subcommand("orders", "Try every order of the layers, rank and compare them");
    add_design(*command, options->common);
    command->add_option("-o,--output", options->output, "Sheet to write (PNG)")->type_name("FILE");
    add_choice(*command, *options);
    command->add_option("--bar", options->request.bar, "Which bar of the loaf, from 1")
        ->type_name("N")
        ->capture_default_str();
    command->add_option("--px-per-mm", options->px_per_mm, "Scale of the faces on the sheet, 1 to 20")
        ->type_name("X")
        ->check(CLI::Range(1.0, 20.0))
        ->capture_default_str();
    command->add_flag("--json", options->json, "Print every order with its measures as JSON");
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice orders palettes/slipway.foreslice.json -o orders.png --rank "
        "contrast,accent=2");
    command->final_callback([options, &chosen] { chosen = [options] { return make_orders(*options); }; });
}

}  // namespace foreslice::cli
