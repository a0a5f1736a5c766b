// foreslice palette: the few colours that a picture is made of.
#include <CLI/CLI.hpp>
#include <iomanip>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "colour/palette.h"

namespace foreslice::cli {
namespace {

struct PaletteOptions {
    std::filesystem::path picture;
    std::size_t count = 5;
    bool json = false;
};

int show_palette(const PaletteOptions& options) {
    const auto palette = colour::palette_of(colour::load_photo(options.picture), options.count);
    if (options.json) {
        nlohmann::ordered_json out{{"picture", options.picture.filename().string()}};
        out["colours"] = nlohmann::ordered_json::array();
        for (const auto& colour : palette)
            out["colours"].push_back({{"hex", colour::hex_of(colour.srgb)}, {"weight", colour.weight}});
        std::cout << out.dump(2) << "\n";
        return good;
    }
    for (const auto& colour : palette)
        std::cout << colour::hex_of(colour.srgb) << "  " << std::fixed << std::setprecision(1) << std::setw(5)
                  << 100 * colour.weight << " %\n";
    return good;
}

}  // namespace

void add_palette(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<PaletteOptions>();
    CLI::App* command = app.add_subcommand("palette", "Dominant, well-separated colours of a picture");
    command->add_option("IMAGE", options->picture, "Picture (JPEG or PNG)")->required();
    command->add_option("-n,--count", options->count, "How many colours, 1 to 16")
        ->type_name("N")
        ->capture_default_str();
    command->add_flag("--json", options->json, "Print JSON");
    command->footer("Example:\n  foreslice palette harbour.jpg -n 5");
    command->final_callback([options, &chosen] { chosen = [options] { return show_palette(*options); }; });
}

}  // namespace foreslice::cli
