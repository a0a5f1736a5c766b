// foreslice colours: what each portion's doses will look like, in numbers.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <iomanip>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/lamps.h"
#include "cli/workplace.h"
#include "colour/viewing.h"
#include "design/tint.h"
#include "picture/caption.h"
#include "picture/face.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;

struct ColoursOptions {
    CommonOptions common;
    bool json = false;
    std::string age;
};

/// The likely span, other lamps and observers, other eyes, and the top.
void add_views(Json& out, const colour::PortionColour& c, const colour::ColourBand& band,
               const colour::BarState& state) {
    using colour::Observer;
    out["likely_span"] = {{"lightest", colour::hex_of(band.lightest.srgb)},
                          {"darkest", colour::hex_of(band.darkest.srgb)},
                          {"de00", band.spread_de00}};
    const auto large_white = colour::white_of(colour::Illuminant::d65, Observer::cie1964_10deg);
    const auto large = colour::lab_of(
        colour::xyz_of(c.reflectance, colour::Illuminant::d65, Observer::cie1964_10deg), large_white);
    out["lab_10_degree"] = {large.l, large.a, large.b};
    for (const auto lamp : lamps)
        out["lamps"][std::string(name_of(lamp))] = {
            {"hex", colour::hex_of(colour::encoded(colour::seen_under(c.reflectance, lamp)))},
            {"inconstancy_de00_from_d65",
             colour::colour_shift(c.reflectance, colour::Illuminant::d65, lamp)}};
    for (const auto eye : colour::all_visions)
        if (eye != colour::Vision::usual)
            out["eyes"][std::string(name_of(eye))] =
                colour::hex_of(colour::encoded(colour::seen_with(eye, c.linear)));
    const auto top = colour::colour_of_reflectance(
        colour::under_veil(c.reflectance, colour::ash_veil(state, colour::Likely::lightest)));
    out["top_at_most_ash"] = colour::hex_of(top.srgb);
}

Json json_of_portion(const design::Portion& portion, const colour::PortionColour& c,
                     const std::vector<picture::DoseNote>& doses, const colour::ColourBand& band,
                     const colour::BarState& state) {
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
    add_views(out, c, band, state);
    return out;
}

void add_contrasts(Json& out, const design::Design& design,
                   const std::vector<colour::PortionColour>& colours) {
    out["contrasts"] = Json::array();
    for (std::size_t i = 0; i < colours.size(); ++i)
        for (std::size_t k = i + 1; k < colours.size(); ++k) {
            Json pair{{"portions", {design.portions[i].id, design.portions[k].id}}};
            for (const auto lamp : colour::all_illuminants)
                pair["de00"][std::string(name_of(lamp))] =
                    colour::contrast_under(colours[i].reflectance, colours[k].reflectance, lamp);
            out["contrasts"].push_back(std::move(pair));
        }
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

void print_views(const colour::PortionColour& c, const colour::ColourBand& band) {
    if (band.spread_de00 > 0.1)
        std::cout << "  likely between " << colour::hex_of(band.lightest.srgb) << " and "
                  << colour::hex_of(band.darkest.srgb) << "  (dE00 " << band.spread_de00 << ")\n";
    std::cout << "  colour inconstancy from daylight to";
    for (const auto lamp : lamps)
        std::cout << (lamp == lamps.front() ? " " : ", ") << name_of(lamp) << " dE00 "
                  << colour::colour_shift(c.reflectance, colour::Illuminant::d65, lamp);
    std::cout << "\n";
}

/// How far two portions are apart at the window and in the shop: what stands out in one may not in the other.
void print_contrasts(const design::Design& design, const std::vector<colour::PortionColour>& colours) {
    if (colours.size() < 2) return;
    std::cout << "\nContrast of portions, dE00: at the window (D65), in the shop (FL11), by a bulb (A)\n"
              << std::fixed << std::setprecision(1);
    for (std::size_t i = 0; i < colours.size(); ++i)
        for (std::size_t k = i + 1; k < colours.size(); ++k) {
            const auto contrast = [&](colour::Illuminant lamp) {
                return colour::contrast_under(colours[i].reflectance, colours[k].reflectance, lamp);
            };
            std::cout << "  " << design.portions[i].name << " and " << design.portions[k].name << ": "
                      << contrast(colour::Illuminant::d65) << ", " << contrast(colour::Illuminant::fl11)
                      << ", " << contrast(colour::Illuminant::a) << "\n";
        }
}

void print(const design::Portion& portion, const colour::PortionColour& c,
           const std::vector<picture::DoseNote>& doses, const colour::ColourBand& band,
           const colour::BarState& state) {
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
              << colour::hex_of(c.srgb) << (c.in_gamut ? "\n" : "  (outside sRGB: shown with less chroma)\n");
    print_views(c, band);
    const double ash = colour::ash_veil(state, colour::Likely::lightest);
    if (ash > 0)
        std::cout << "  a top with as much ash as is likely: "
                  << colour::hex_of(
                         colour::colour_of_reflectance(colour::under_veil(c.reflectance, ash)).srgb)
                  << "\n";
    std::cout << "  reflectance, %, every 10 nm\n";
    print_spectrum(c.reflectance);
}

int show_colours(const ColoursOptions& options) {
    const auto library = library_of(options.common);
    auto design = opened(options.common.design, *library);
    set_age(design, options.age);
    const auto state = design::bar_state_of(design);
    std::vector<colour::ColourBand> bands;
    for (const auto& portion : design.portions)
        bands.push_back(design::colour_band_of(portion, design, *library));
    const auto colours = picture::portion_colours(design, *library);
    const auto doses = picture::dose_notes(design, *library);
    if (!options.json) {
        std::cout << design.name << ": colours under D65, CIE 1931 2-degree observer, "
                  << picture::short_number(design.age_days, 4) << (design.age_days == 1 ? " day" : " days")
                  << " after pouring\n";
        for (std::size_t i = 0; i < colours.size(); ++i) {
            std::cout << "\n";
            print(design.portions[i], colours[i], doses[i], bands[i], state);
        }
        print_contrasts(design, colours);
        return good;
    }
    Json out{{"design", design.name}, {"illuminant", "D65"}, {"observer", "CIE 1931 2 degrees"}};
    out["lambda_nm"] = Json::array();
    for (std::size_t band = 0; band < colour::band_count; ++band)
        out["lambda_nm"].push_back(colour::lambda_nm(band));
    add_contrasts(out, design, colours);
    out["portions"] = Json::array();
    for (std::size_t i = 0; i < colours.size(); ++i) {
        out["portions"].push_back(json_of_portion(design.portions[i], colours[i], doses[i], bands[i], state));
        out["portions"].back()["top_sparkle"] = design::top_sparkle_of(design.portions[i], design, *library);
    }
    std::cout << out.dump(2) << "\n";
    return good;
}

}  // namespace

void add_colours(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<ColoursOptions>();
    CLI::App* command = app.add_subcommand("colours", "Spectrum and colour of every portion");
    add_design(*command, options->common);
    command->add_flag("--json", options->json, "Print JSON");
    add_age(*command, options->age);
    add_colourants(*command, options->common);
    command->footer("Example:\n  foreslice colours palettes/slipway.foreslice.json --json");
    command->final_callback([options, &chosen] { chosen = [options] { return show_colours(*options); }; });
}

}  // namespace foreslice::cli
