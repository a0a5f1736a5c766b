// foreslice colours: what each portion's doses will look like, in numbers.
#include <CLI/CLI.hpp>
#include <iomanip>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/workplace.h"
#include "picture/caption.h"
#include "picture/face.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;

struct ColoursOptions {
    CommonOptions common;
    bool json = false;
};

Json json_of(const design::Portion& portion, const colour::PortionColour& c,
             const std::vector<picture::DoseNote>& doses) {
    Json out{{"id", portion.id}, {"name", portion.name}, {"share_percent", portion.share_percent}};
    out["doses"] = Json::array();
    for (const auto& dose : doses)
        out["doses"].push_back({{"name", dose.colourant},
                                {"g_per_kg_oils", dose.g_per_kg_oils},
                                {"teaspoons_per_pound_oils", dose.teaspoons_per_pound}});
    out["reflectance"] = c.reflectance;
    out["xyz"] = {c.xyz.x, c.xyz.y, c.xyz.z};
    out["lab"] = {c.lab.l, c.lab.a, c.lab.b};
    out["srgb"] = {c.srgb.r, c.srgb.g, c.srgb.b};
    out["hex"] = colour::hex_of(c.srgb);
    out["in_srgb_gamut"] = c.in_gamut;
    return out;
}

void print_spectrum(const colour::Spectrum& reflectance) {
    constexpr std::size_t a_row = 9;
    for (std::size_t start = 0; start < reflectance.size(); start += a_row) {
        std::cout << "    " << colour::lambda_nm(start) << " nm ";
        for (std::size_t band = start; band < std::min(start + a_row, reflectance.size()); ++band)
            std::cout << std::setw(6) << std::fixed << std::setprecision(1) << 100 * reflectance[band];
        std::cout << "\n";
    }
}

void print(const design::Portion& portion, const colour::PortionColour& c,
           const std::vector<picture::DoseNote>& doses) {
    std::cout << portion.name << "  (" << picture::short_number(portion.share_percent, 4)
              << " % of the batter)\n";
    for (const auto& dose : doses)
        std::cout << "  " << dose.colourant << ": " << picture::short_number(dose.g_per_kg_oils, 4)
                  << " g per kg of oils, " << picture::short_number(dose.teaspoons_per_pound, 2)
                  << " level teaspoons per pound of oils\n";
    if (doses.empty()) std::cout << "  no colourant\n";
    std::cout << std::fixed << std::setprecision(2) << "  XYZ   " << c.xyz.x << "  " << c.xyz.y << "  "
              << c.xyz.z << "\n  Lab   " << c.lab.l << "  " << c.lab.a << "  " << c.lab.b << "\n  sRGB  "
              << int{c.srgb.r} << " " << int{c.srgb.g} << " " << int{c.srgb.b} << "  "
              << colour::hex_of(c.srgb) << (c.in_gamut ? "\n" : "  (outside sRGB: shown with less chroma)\n")
              << "  reflectance, %, every 10 nm\n";
    print_spectrum(c.reflectance);
}

int show_colours(const ColoursOptions& options) {
    const auto library = library_of(options.common);
    const auto design = opened(options.common.design, *library);
    const auto colours = picture::portion_colours(design, *library);
    const auto doses = picture::dose_notes(design, *library);
    if (!options.json) {
        std::cout << design.name << ": colours under D65, CIE 1931 2-degree observer\n";
        for (std::size_t i = 0; i < colours.size(); ++i) {
            std::cout << "\n";
            print(design.portions[i], colours[i], doses[i]);
        }
        return good;
    }
    Json out{{"design", design.name}, {"illuminant", "D65"}, {"observer", "CIE 1931 2 degrees"}};
    out["lambda_nm"] = Json::array();
    for (std::size_t band = 0; band < colour::band_count; ++band)
        out["lambda_nm"].push_back(colour::lambda_nm(band));
    out["portions"] = Json::array();
    for (std::size_t i = 0; i < colours.size(); ++i)
        out["portions"].push_back(json_of(design.portions[i], colours[i], doses[i]));
    std::cout << out.dump(2) << "\n";
    return good;
}

}  // namespace

void add_colours(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<ColoursOptions>();
    CLI::App* command = app.add_subcommand("colours", "Spectrum and colour of every portion");
    add_design(*command, options->common);
    command->add_flag("--json", options->json, "Print JSON");
    add_colourants(*command, options->common);
    command->footer("Example:\n  foreslice colours palettes/slipway.foreslice.json --json");
    command->final_callback([options, &chosen] { chosen = [options] { return show_colours(*options); }; });
}

}  // namespace foreslice::cli
