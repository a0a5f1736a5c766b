// foreslice swatch: a colourant from a photograph of test bars.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <iomanip>
#include <iostream>
#include <optional>
#include <sstream>

#include "cli/commands.h"
#include "cli/workplace.h"
#include "colour/learned.h"
#include "colour/photo.h"
#include "colour/swatch_fit.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/caption.h"

namespace foreslice::cli {
namespace {

constexpr double most_spread = 0.15, most_clipped = 0.02, worrying_de00 = 3;

struct SwatchOptions {
    CommonOptions common;
    std::filesystem::path photo, output;
    std::string card, plain, id, name, kind = "other", white = "titanium-dioxide";
    std::vector<std::string> bars;
    double card_reflectance = 0.9, radius_px = 12;
};

/// "x,y", "x,y,more..." as numbers.
std::vector<double> numbers_in(const std::string& text, const std::string& place, std::size_t least,
                               std::size_t most, const std::string& form) {
    std::vector<double> numbers;
    std::istringstream in(text);
    for (std::string part; std::getline(in, part, ',');) {
        std::size_t used = 0;
        double value = 0;
        try {
            value = std::stod(part, &used);
        } catch (const std::exception&) {
            used = std::string::npos;
        }
        if (used != part.size() || !std::isfinite(value))
            throw InputError("", place, "found " + foreslice::quoted(text), form);
        numbers.push_back(value);
    }
    if (numbers.size() < least || numbers.size() > most)
        throw InputError("", place, "found " + foreslice::quoted(text), form);
    return numbers;
}

class Session {
  public:
    explicit Session(const SwatchOptions& options)
        : options_(options), photo_(colour::load_photo(options.photo)), library_(starting_library()) {}

    int run() {
        const auto at = numbers_in(options_.card, "--card", 2, 3, "X,Y or X,Y,RADIUS in pixels");
        card_ = read("the card", {at[0], at[1], at.size() > 2 ? at[2] : options_.radius_px});
        base_ = library_.base();
        base_provenance_ = library_.base_provenance();
        if (!options_.plain.empty()) fit_plain();
        if (!options_.bars.empty()) fit_bars();
        if (options_.bars.empty() && options_.plain.empty())
            throw InputError("", "swatch", "there is nothing to fit", "--plain, --bar or both");
        if (!options_.output.empty()) keep();
        return good;
    }

  private:
    colour::ColourantLibrary starting_library() const {
        std::error_code ignored;
        if (!options_.output.empty() && std::filesystem::exists(options_.output, ignored))
            return colour::ColourantLibrary::load(options_.output);
        return *library_of(options_.common);
    }

    colour::LinearSrgb read(const std::string& what, const colour::Patch& patch) const {
        const auto reading = colour::read_patch(photo_, patch);
        if (reading.clipped > most_clipped)
            std::cerr << "foreslice: " << what << " is overexposed in the photo ("
                      << std::lround(100 * reading.clipped)
                      << " % of its pixels are at the limit); take the photo darker\n";
        if (reading.spread > most_spread)
            std::cerr << "foreslice: " << what << " is uneven (" << std::lround(100 * reading.spread)
                      << " % spread); take a smaller patch, away from shadows and shine\n";
        return reading.light;
    }

    colour::LinearSrgb balanced(const std::string& what, const colour::Patch& patch) const {
        return colour::white_balanced(read(what, patch), card_, options_.card_reflectance);
    }

    void fit_plain() {
        const auto at = numbers_in(options_.plain, "--plain", 2, 3, "X,Y or X,Y,RADIUS in pixels");
        const auto seen =
            balanced("the plain bar", {at[0], at[1], at.size() > 2 ? at[2] : options_.radius_px});
        base_ = colour::fit_base(library_.base(), seen);
        base_provenance_ = colour::learned_base_provenance(source());
        std::cout << "plain bar " << colour::hex_of(colour::encoded(seen)) << "\n";
    }

    void fit_bars() {
        const colour::Colourant* white = library_.find(options_.white);
        std::vector<colour::TestBar> bars;
        for (std::size_t n = 0; n < options_.bars.size(); ++n) {
            const std::string place = "--bar " + std::to_string(n + 1);
            const auto at = numbers_in(options_.bars[n], place, 3, 5,
                                       "X,Y,GRAMS or X,Y,GRAMS,WHITE or X,Y,GRAMS,WHITE,RADIUS");
            const double radius = at.size() > 4 ? at[4] : options_.radius_px;
            bars.push_back({at[2], at.size() > 3 ? at[3] : 0,
                            balanced("bar " + std::to_string(n + 1), {at[0], at[1], radius})});
        }
        const auto fit = colour::fit_colourant(base_, white, bars);
        report(fit, bars);
        made_ = colour::learned_colourant(fit, bars, source(), options_.id, options_.name, options_.kind,
                                          library_.find(options_.id));
    }

    static void report(const colour::SwatchFit& fit, const std::vector<colour::TestBar>& bars) {
        std::cout << std::fixed << std::setprecision(2);
        for (std::size_t n = 0; n < bars.size(); ++n)
            std::cout << "bar " << n + 1 << "  " << picture::short_number(bars[n].g_per_kg_oils, 4)
                      << " g/kg, white " << picture::short_number(bars[n].white_g_per_kg_oils, 4) << "  "
                      << colour::hex_of(colour::encoded(bars[n].seen)) << "  model within dE00 "
                      << fit.de00[n] << "\n";
        std::cout << "mean dE00 " << fit.mean_de00 << ", greatest " << fit.greatest_de00 << "\n";
        if (!fit.scattering_known)
            std::cout << "These bars do not tell how much the colourant scatters; add one with white.\n";
        if (fit.greatest_de00 > worrying_de00)
            std::cout << "One set of K and S does not explain all bars; check doses, light and patches.\n";
    }

    void keep() {
        colour::ColourantLibrary kept = colour::with_base(library_, base_, base_provenance_);
        if (made_) kept = colour::with_colourant(kept, *made_);
        const std::string text = kept.to_json();
        colour::ColourantLibrary::parse(text,
                                        options_.output.string());  // never write what cannot be read back
        write_file_atomically(options_.output, text);
        std::cout << "kept in " << options_.output.string() << "\n";
    }

    colour::PhotoSource source() const {
        return {options_.photo.filename().string(), options_.card_reflectance};
    }

    const SwatchOptions& options_;
    colour::Photo photo_;
    colour::ColourantLibrary library_;
    colour::LinearSrgb card_;
    colour::Optics base_;
    std::string base_provenance_;
    std::optional<colour::Colourant> made_;
};

}  // namespace

void add_swatch(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<SwatchOptions>();
    CLI::App* command =
        app.add_subcommand("swatch", "Learn a colourant from a photo of test bars on a white or grey card");
    command->add_option("PHOTO", options->photo, "Photo (JPEG or PNG); its orientation is honoured")
        ->required();
    command->add_option("--card", options->card, "Where the card is")->type_name("X,Y[,RADIUS]")->required();
    command
        ->add_option("--card-reflectance", options->card_reflectance,
                     "Of the card: white paper about 0.9, a grey card 0.18")
        ->type_name("R")
        ->check(CLI::Range(0.02, 1.0))
        ->capture_default_str();
    command->add_option("--plain", options->plain, "Where the plain bar is; refits the base")
        ->type_name("X,Y[,RADIUS]");
    command
        ->add_option(
            "--bar", options->bars,
            "A bar: where, and grams of colourant and of white per kg of oils; two or more, one with white")
        ->type_name("X,Y,GRAMS[,WHITE[,RADIUS]]");
    command->add_option("--radius", options->radius_px, "Radius of patches in pixels")
        ->type_name("PX")
        ->check(CLI::Range(0.5, 2000.0))
        ->capture_default_str();
    command->add_option("--id", options->id, "Id of the colourant: a-z, 0-9 and -")->type_name("ID");
    command->add_option("--name", options->name, "Its name for people")->type_name("TEXT");
    command
        ->add_option("--kind", options->kind,
                     "white, oxide, ultramarine, clay, carbon, mica, dye, lake, botanical, other")
        ->type_name("KIND")
        ->capture_default_str();
    command->add_option("--white", options->white, "The white in the bars (id)")
        ->type_name("ID")
        ->capture_default_str();
    command->add_option("-o,--output", options->output, "Library to keep it in; an existing one is added to")
        ->type_name("FILE");
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice swatch bars.jpg --card 80,60 --plain 300,240 --bar 520,240,6 --bar "
        "740,240,6,10 \\\n"
        "    --id quay-blue --name 'quay blue' --kind ultramarine -o my-colourants.json");
    command->final_callback([options, &chosen] {
        chosen = [options] {
            if (!options->bars.empty() && options->id.empty())
                throw InputError("", "--id", "is missing", "an id for the colourant that the bars show");
            return Session(*options).run();
        };
    });
}

}  // namespace foreslice::cli
