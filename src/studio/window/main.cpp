// foreslice-studio: the window. Parses, opens, runs, returns a code: 0 good, 1 it could not run or a script
// failed, 2 wrong use or bad input.
#include <SDL_main.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>
#include <string>

#include "foundation/error.h"
#include "picture/assets.h"
#include "studio/window/app.h"

namespace {

using foreslice::studio::AppOptions;

void describe(CLI::App& cli, AppOptions& options, std::string& size) {
    cli.add_option("design", options.design,
                   "Design to open, or a collection, or a picture with its design in it");
    cli.add_option("--size", size, "Size of the window in points, for example 1280x720")->type_name("WxH");
    cli.add_option("--scale", options.scale, "Size of writing and controls; 1 is usual")
        ->check(CLI::Range(0.75, 4.0));
    cli.add_option("--threads", options.threads, "Threads that draw; 0 takes as many as the machine has")
        ->check(CLI::Range(0, 256));
    cli.add_option("--state-folder", options.state_folder, "Where settings and unnamed work are kept");
    cli.add_flag("--frame-log", options.frame_log, "Say at the end how long frames took");
    // For tests: not shown in the help text.
    cli.add_option("--script", options.script)->group("");
    cli.add_option("--widgets", options.widget_file)->group("");
    cli.footer("Example: foreslice-studio palettes/slipway.foreslice.json --size 1440x900");
}

bool parse_size(const std::string& text, AppOptions& options) {
    if (text.empty()) return true;
    char rest = 0;
    return std::sscanf(text.c_str(), "%dx%d%c", &options.width, &options.height, &rest) == 2 &&
           options.width >= 640 && options.height >= 400 && options.width <= 16384 && options.height <= 16384;
}

}  // namespace

#if defined(__SANITIZE_ADDRESS__)
// Mesa's driver is unloaded before the leak check runs, which then could not name its frames: keep it loaded.
extern "C" int dlclose(void*) {
    return 0;
}
// About 1 kB once a run, inside SDL's X11 and D-Bus connections.
extern "C" const char* __lsan_default_suppressions() {
    return "leak:libdbus-1\nleak:libX11\n";
}
#endif

int main(int argc, char** argv) {
    AppOptions options;
    std::string size;
    CLI::App cli{"Design a swirled soap loaf and watch its cut face change", "foreslice-studio"};
    describe(cli, options, size);
    try {
        cli.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        return cli.exit(error) == 0 ? 0 : 2;
    }
    if (!parse_size(size, options)) {
        std::fprintf(stderr, "--size: %s is no size; allowed: WIDTHxHEIGHT from 640x400 to 16384x16384\n",
                     foreslice::quoted(size).c_str());
        return 2;
    }
    try {
        foreslice::picture::note_program(argv[0]);
        foreslice::studio::App app(options);
        return app.run();
    } catch (const foreslice::InputError& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
}
