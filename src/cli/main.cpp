// The command line: declares the commands, runs the chosen one, turns errors into sentences and exit codes.
#include <CLI/CLI.hpp>
#include <exception>
#include <iostream>
#include <new>

#include "cli/commands.h"
#include "foundation/error.h"
#include "picture/assets.h"

namespace {

using namespace foreslice;

constexpr const char* about =
    "Shows the cut faces of a swirled soap loaf before any batter is mixed.\n"
    "The poured layers are carried along the creeping flow round the wire and coloured from their doses.";

constexpr const char* footer =
    "Example:\n"
    "  foreslice face palettes/slipway.foreslice.json -o slipway.png\n\n"
    "Exit codes: 0 good; 2 wrong use or bad input; 3 made, but a flow solve stayed short of its tolerance.\n"
    "FORESLICE_ASSETS names the folder that holds assets/ and palettes/, if they are not found by "
    "themselves.";

int explain(CLI::App& app, const CLI::ParseError& error) {
    if (error.get_exit_code() == 0) return app.exit(error);  // help or version was asked for
    const auto chosen = app.get_subcommands();
    const std::string help = "foreslice " + (chosen.empty() ? "" : chosen.front()->get_name() + " ");
    std::cerr << "foreslice: " << error.what() << "\nSee: " << help << "--help\n";
    return cli::bad_input;
}

int run(const cli::Work& work) {
    try {
        return work();
    } catch (const InputError& error) {
        std::cerr << "foreslice: " << error.what() << "\n";
        return cli::bad_input;
    } catch (const std::bad_alloc&) {
        std::cerr << "foreslice: there is not enough memory for this; a smaller --px-per-mm needs less\n";
        return cli::bad_input;
    } catch (const std::exception& error) {
        std::cerr << "foreslice: unexpected: " << error.what() << "\n";
        return cli::failed;
    }
}

}  // namespace

int main(int argc, char** argv) {
    picture::note_program(argc > 0 ? argv[0] : nullptr);
    CLI::App app(about, "foreslice");
    app.footer(footer);
    app.set_version_flag("--version", "foreslice " FORESLICE_VERSION);
    app.require_subcommand(1);
    cli::Work work;
    cli::add_face(app, work);
    cli::add_colours(app, work);
    cli::add_flow(app, work);
    cli::add_check(app, work);
    cli::add_loaf(app, work);
    cli::add_demo(app, work);
    cli::add_colourway(app, work);
    cli::add_palette(app, work);
    cli::add_match(app, work);
    cli::add_swatch(app, work);
    cli::add_sheet(app, work);
    cli::add_orders(app, work);
    cli::add_vary(app, work);
    cli::add_diff(app, work);
    cli::add_lineup(app, work);
    cli::add_gallery(app, work);
    cli::add_contact(app, work);
    cli::add_made(app, work);
    cli::add_history(app, work);
    cli::add_merge(app, work);
    cli::add_tint(app, work);
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        return explain(app, error);
    }
    return run(work);
}
