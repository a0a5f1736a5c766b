// foreslice match: which colourants, and how much of each, come nearest to a colour.
#include <CLI/CLI.hpp>
#include <iomanip>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/workplace.h"
#include "colour/match.h"
#include "colour/palette.h"
#include "design/design_file.h"
#include "design/tint.h"
#include "foundation/error.h"
#include "picture/caption.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;

struct MatchOptions {
    CommonOptions common;
    std::vector<std::string> targets;
    std::filesystem::path picture, base_of;
    std::size_t from_picture = 5;
    colour::MatchLimits limits;
    bool json = false;
};

std::vector<colour::EncodedSrgb> targets_of(const MatchOptions& options) {
    std::vector<colour::EncodedSrgb> targets;
    for (const std::string& text : options.targets) {
        const auto rgb = colour::encoded_from_hex(text);
        if (!rgb)
            throw InputError("", "COLOUR", foreslice::quoted(text) + " is not a colour",
                             "six hex digits, like #3f6f7c");
        targets.push_back(*rgb);
    }
    if (!options.picture.empty())
        for (const auto& colour :
             colour::palette_of(colour::load_photo(options.picture), options.from_picture))
            targets.push_back(colour.srgb);
    if (targets.empty())
        throw InputError("", "COLOUR", "no colour is given", "one or more like #3f6f7c, or --palette-of");
    return targets;
}

void print(const colour::Match& match, colour::EncodedSrgb target, bool priced) {
    std::cout << colour::hex_of(target);
    if (match.reachable)
        std::cout << "\n";
    else
        std::cout << "  out of reach of these colourants in this base; the nearest that can be had is "
                  << colour::hex_of(match.recipes.front().colour.srgb) << "\n";
    for (const auto& recipe : match.recipes) {
        std::cout << "  " << colour::hex_of(recipe.colour.srgb) << std::fixed << std::setprecision(2)
                  << "  dE00 " << recipe.de00 << "  metamerism " << recipe.metamerism << "  "
                  << std::setprecision(1) << recipe.total_g_per_kg_oils << " g/kg";
        if (priced)
            std::cout << std::setprecision(2) << "  cost " << recipe.price_per_kg_oils << " per kg of oils";
        std::cout << "\n";
        for (const auto& dose : recipe.doses)
            std::cout << "      " << dose.colourant->name << " "
                      << picture::short_number(dose.g_per_kg_oils, 3) << " g per kg of oils, "
                      << picture::short_number(
                             colour::teaspoons_per_pound(*dose.colourant, dose.g_per_kg_oils), 2)
                      << " level tsp per lb\n";
    }
}

Json json_of(const colour::Match& match, colour::EncodedSrgb target) {
    Json out{{"target", colour::hex_of(target)}, {"reachable", match.reachable}, {"recipes", Json::array()}};
    for (const auto& recipe : match.recipes) {
        Json one{{"hex", colour::hex_of(recipe.colour.srgb)},
                 {"de00", recipe.de00},
                 {"metamerism", recipe.metamerism},
                 {"total_g_per_kg_oils", recipe.total_g_per_kg_oils},
                 {"price_per_kg_oils", recipe.price_per_kg_oils},
                 {"doses", Json::array()}};
        for (const auto& dose : recipe.doses)
            one["doses"].push_back({{"colourant", dose.colourant->id},
                                    {"g_per_kg_oils", dose.g_per_kg_oils},
                                    {"teaspoons_per_pound_oils",
                                     colour::teaspoons_per_pound(*dose.colourant, dose.g_per_kg_oils)}});
        out["recipes"].push_back(std::move(one));
    }
    return out;
}

int show_matches(const MatchOptions& options) {
    const auto library = library_of(options.common);
    colour::BarState state;
    if (!options.base_of.empty()) state = design::bar_state_of(opened(options.base_of, *library));
    Json all = Json::array();
    for (const auto target : targets_of(options)) {
        const auto match = colour::match(*library, state, target, options.limits);
        if (options.json)
            all.push_back(json_of(match, target));
        else
            print(match, target, options.limits.most_price_per_kg_oils > 0);
    }
    if (options.json) std::cout << Json{{"illuminant", "D65"}, {"matches", all}}.dump(2) << "\n";
    return good;
}

}  // namespace

void add_match(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<MatchOptions>();
    CLI::App* command =
        app.add_subcommand("match", "Find doses for a colour, or for the colours of a picture");
    command->add_option("COLOUR", options->targets, "Wanted colours, like '#3f6f7c'");
    command->add_option("--palette-of", options->picture, "Take the colours of this picture too")
        ->type_name("IMAGE");
    command->add_option("-n", options->from_picture, "How many colours of the picture")
        ->type_name("N")
        ->check(CLI::Range(1, 16))
        ->capture_default_str();
    auto& limits = options->limits;
    command->add_option("--most", limits.most_colourants, "Most colourants besides the white")
        ->type_name("N")
        ->check(CLI::Range(0, 4))
        ->capture_default_str();
    command
        ->add_option("--most-powder", limits.most_total_g_per_kg_oils, "Most powder in all, g per kg of oils")
        ->type_name("G")
        ->check(CLI::Range(0.1, 200.0))
        ->capture_default_str();
    command
        ->add_option("--most-cost", limits.most_price_per_kg_oils,
                     "Most cost per kg of oils; needs prices in the library")
        ->type_name("X")
        ->check(CLI::Range(0.0, 1e6));
    command->add_option("--only", limits.only, "Only these colourants (ids)")
        ->type_name("ID")
        ->delimiter(',');
    command->add_option("--without", limits.without, "Not these colourants (ids)")
        ->type_name("ID")
        ->delimiter(',');
    command->add_option("--white", limits.white, "The white to use (id), or none")
        ->type_name("ID")
        ->capture_default_str();
    command->add_option("--recipes", limits.recipes, "How many recipes")
        ->type_name("N")
        ->check(CLI::Range(1, 20))
        ->capture_default_str();
    command->add_option("--base-of", options->base_of, "Base and age of this design")->type_name("DESIGN");
    command->add_flag("--json", options->json, "Print JSON");
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice match '#3f6f7c' --most 2\n  foreslice match --palette-of harbour.jpg -n 5");
    command->final_callback([options, &chosen] {
        if (options->limits.white == "none") options->limits.white.clear();
        chosen = [options] { return show_matches(*options); };
    });
}

}  // namespace foreslice::cli
