// foreslice tint: what doses given on the command line, in any unit, make of a bar; no design is needed.
#include <CLI/CLI.hpp>
#include <array>
#include <cmath>
#include <iomanip>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/dose_words.h"
#include "cli/lamps.h"
#include "cli/workplace.h"
#include "colour/viewing.h"
#include "design/design_file.h"
#include "design/tint.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "picture/caption.h"
#include "picture/colourway.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;

struct TintOptions {
    CommonOptions common;
    std::vector<std::string> doses;
    std::string dispersion = "1:3,oil", age;
    std::filesystem::path base_of, output;
    bool json = false;
};

struct Moment {
    const char* words;
    double days;
};
constexpr std::array moments{Moment{"wet", 0}, Moment{"next day", 1}, Moment{"4 weeks", 28},
                             Moment{"6 months", 180}};

/// A loaf of one portion that holds these doses.
design::Design loaf_of(const TintOptions& options, const colour::ColourantLibrary& library) {
    design::Design design;
    if (!options.base_of.empty()) {
        const design::Design other = opened(options.base_of, library);
        design.base = other.base;
        design.age_days = other.age_days;
        design.cut = other.cut;
    }
    design.name = "Tint";
    design::Portion portion;
    portion.id = portion.name = "tint";
    portion.share_percent = 100;
    portion.white.colourant = "titanium-dioxide";
    const colour::Dispersion dispersion = dispersion_from(options.dispersion);
    for (const std::string& words : options.doses) {
        design::ColourantDose dose = dose_from(words, dispersion);
        const colour::Colourant* colourant = library.find(dose.colourant);
        if (colourant == nullptr)
            throw InputError("", words, "the library has no colourant " + foreslice::quoted(dose.colourant),
                             "an id of it");
        if (colourant->kind == "white" && design::g_per_kg_oils_of(portion.white, design, library) == 0)
            portion.white = std::move(dose);
        else
            portion.doses.push_back(std::move(dose));
    }
    design.portions = {portion};
    design.pours.emplace_back().portion = portion.id;
    set_age(design, options.age);
    design::validate(design);
    design::validate(design, library);
    return design;
}

struct Amount {
    const colour::Colourant* colourant = nullptr;
    std::array<double, colour::all_dose_units.size()> in{};  ///< in the order of all_dose_units
    double g_per_drop = 0;
};

std::vector<Amount> amounts_of(const design::Design& design, const colour::ColourantLibrary& library,
                               const colour::Dispersion& dispersion) {
    std::vector<Amount> all;
    const double batter = design::batter_kg_per_kg_oils(design);
    for (const colour::Dose& dose : design::doses_of(design.portions.front(), design, library)) {
        Amount amount{dose.colourant, {}, colour::powder_g_per_drop(*dose.colourant, dispersion)};
        for (std::size_t u = 0; u < amount.in.size(); ++u)
            amount.in[u] = colour::amount_in(colour::all_dose_units[u], dose.g_per_kg_oils, *dose.colourant,
                                             dispersion, batter);
        all.push_back(amount);
    }
    return all;
}

std::vector<design::Warning> warnings_of(const design::Design& design,
                                         const colour::ColourantLibrary& library) {
    std::vector<design::Warning> found;
    for (auto& warning : design::warnings(design, library))
        if (warning.place.starts_with("/portions") || warning.place.starts_with("/base"))
            found.push_back(std::move(warning));
    return found;
}

void print(const std::vector<Amount>& amounts, const colour::Dispersion& dispersion) {
    for (const Amount& amount : amounts) {
        std::cout << amount.colourant->name << "\n ";
        for (std::size_t u = 0; u < amount.in.size(); ++u)
            std::cout << (u > 0 ? "  = " : " ") << picture::short_number(amount.in[u], 3) << " "
                      << words_of(colour::all_dose_units[u]);
        std::cout << "\n  a level teaspoon holds "
                  << picture::short_number(amount.colourant->gram_per_teaspoon, 3)
                  << " g of it; a drop of 1:" << picture::short_number(dispersion.parts_of_carrier, 3)
                  << " in " << name_of(dispersion.carrier) << " "
                  << picture::short_number(amount.g_per_drop, 3) << " g\n";
    }
    if (amounts.empty()) std::cout << "no colourant\n";
}

void print_ages(design::Design design, const colour::ColourantLibrary& library) {
    std::cout << "            likely   lightest  darkest   dE00 across\n"
              << std::fixed << std::setprecision(1);
    for (const Moment& moment : moments) {
        design.age_days = moment.days;
        const auto band = design::colour_band_of(design.portions.front(), design, library);
        std::cout << std::left << std::setw(12) << moment.words << std::right
                  << colour::hex_of(band.middle.srgb) << "  " << colour::hex_of(band.lightest.srgb) << "   "
                  << colour::hex_of(band.darkest.srgb) << "   " << band.spread_de00 << "\n";
    }
}

void print_colour(const design::Design& design, const colour::PortionColour& c) {
    std::cout << std::fixed << std::setprecision(2) << picture::short_number(design.age_days, 4)
              << (design.age_days == 1 ? " day" : " days") << " after pouring: " << colour::hex_of(c.srgb)
              << "  L*a*b* " << c.lab.l << " " << c.lab.a << " " << c.lab.b
              << (c.in_gamut ? "" : "  (outside sRGB: shown with less chroma)")
              << "\ncolour inconstancy from daylight (D65) to";
    for (const auto lamp : lamps)
        std::cout << (lamp == lamps.front() ? " " : ", ") << name_of(lamp) << " dE00 "
                  << colour::colour_shift(c.reflectance, colour::Illuminant::d65, lamp);
    std::cout << "\n";
}

Json json_of(const design::Design& design, const colour::ColourantLibrary& library,
             const std::vector<Amount>& amounts) {
    const auto c = design::colour_of(design.portions.front(), design, library);
    Json out{{"hex", colour::hex_of(c.srgb)},
             {"lab", {c.lab.l, c.lab.a, c.lab.b}},
             {"in_srgb_gamut", c.in_gamut},
             {"age_days", design.age_days}};
    out["doses"] = Json::array();
    for (const Amount& amount : amounts) {
        Json dose{{"colourant", amount.colourant->id}};
        for (std::size_t u = 0; u < amount.in.size(); ++u)
            dose[std::string(key_of(colour::all_dose_units[u]))] = amount.in[u];
        out["doses"].push_back(std::move(dose));
    }
    design::Design aged = design;
    for (const Moment& moment : moments) {
        aged.age_days = moment.days;
        const auto band = design::colour_band_of(aged.portions.front(), aged, library);
        out["over_time"].push_back({{"age_days", moment.days},
                                    {"likely", colour::hex_of(band.middle.srgb)},
                                    {"lightest", colour::hex_of(band.lightest.srgb)},
                                    {"darkest", colour::hex_of(band.darkest.srgb)},
                                    {"de00", band.spread_de00}});
    }
    for (const auto lamp : lamps)
        out["colour_inconstancy_de00"][std::string(name_of(lamp))] =
            colour::colour_shift(c.reflectance, colour::Illuminant::d65, lamp);
    for (const auto& warning : warnings_of(design, library))
        out["warnings"].push_back({{"sentence", warning.sentence}, {"cure", warning.cure}});
    return out;
}

int show_tint(const TintOptions& options) {
    const auto library = library_of(options.common);
    const design::Design design = loaf_of(options, *library);
    const colour::Dispersion dispersion = dispersion_from(options.dispersion);
    const auto amounts = amounts_of(design, *library, dispersion);
    if (!options.output.empty()) {
        check_picture_name(options.output, options.base_of);
        picture::write_png(picture::colourway_plate(design, *library, 1.5), options.output);
    }
    if (options.json) {
        std::cout << json_of(design, *library, amounts).dump(2) << "\n";
        return good;
    }
    print(amounts, dispersion);
    print_colour(design, design::colour_of(design.portions.front(), design, *library));
    print_ages(design, *library);
    for (const auto& warning : warnings_of(design, *library))
        std::cout << "! " << warning.sentence << " " << warning.cure << "\n";
    return good;
}

}  // namespace

void add_tint(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<TintOptions>();
    CLI::App* command =
        app.add_subcommand("tint", "The colour that doses give, in any unit, over time and under lamps");
    command
        ->add_option("DOSE", options->doses,
                     "A colourant's id and its amount: g/kg (of oils), g/kg-batter, %, tsp/lb, drops/kg; "
                     "ultramarine-blue=1tsp/lb")
        ->required();
    command
        ->add_option(
            "--dispersion", options->dispersion,
            "What drops are of: parts of carrier to one of powder by mass, and oil, water or glycerin")
        ->type_name("1:N,CARRIER")
        ->capture_default_str();
    command->add_option("--base-of", options->base_of, "Base and age of this design")->type_name("DESIGN");
    add_age(*command, options->age);
    command->add_option("-o,--output", options->output, "Swatches as a picture (PNG)")->type_name("FILE");
    command->add_flag("--json", options->json, "Print JSON");
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice tint ultramarine-blue=1tsp/lb titanium-dioxide=0.5%\n"
        "  foreslice tint iron-oxide-red=60drops/kg --dispersion 1:1,glycerin --age 6m");
    command->final_callback([options, &chosen] { chosen = [options] { return show_tint(*options); }; });
}

}  // namespace foreslice::cli
