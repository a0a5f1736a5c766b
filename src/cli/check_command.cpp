// foreslice check: whether a design can be made, and what is risky about it.
#include <CLI/CLI.hpp>
#include <iostream>

#include "cli/commands.h"
#include "cli/workplace.h"
#include "design/identity.h"
#include "design/recipe.h"
#include "design/validation.h"

namespace foreslice::cli {
namespace {

int check(const CommonOptions& options) {
    const auto library = library_of(options);
    const auto design = opened(options.design, *library);
    auto warnings = design::warnings(design, *library);
    if (!design.recipe.oils.empty())
        for (auto& warning : design::plan_batch(design, oils_of({}), *library).warnings)
            warnings.push_back(std::move(warning));
    std::cout << options.design.string() << ": valid, ";
    if (warnings.empty()) std::cout << "no warnings";
    if (!warnings.empty()) std::cout << warnings.size() << (warnings.size() == 1 ? " warning" : " warnings");
    std::cout << "\n";
    for (const auto& warning : warnings)
        std::cout << "  " << warning.place << ": " << warning.sentence << " " << warning.cure << "\n";
    std::cout << "  its code, as on a bench sheet: " << design::identity_code(design) << "\n";
    return good;
}

}  // namespace

void add_check(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<CommonOptions>();
    CLI::App* command = app.add_subcommand("check", "Say whether a design is valid, and warn of risks");
    add_design(*command, *options);
    add_colourants(*command, *options);
    command->footer(
        "Exit code 0 for a valid design, warnings or not; 2 for one that cannot be made.\n\n"
        "Example:\n  foreslice check palettes/slipway.foreslice.json");
    command->final_callback([options, &chosen] { chosen = [options] { return check(*options); }; });
}

}  // namespace foreslice::cli
