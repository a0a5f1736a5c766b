// foreslice made: puts down what was really poured, beside the plan. foreslice history: what was made so far.
#include <CLI/CLI.hpp>
#include <chrono>
#include <cstdlib>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/workplace.h"
#include "design/design_file.h"
#include "design/differences.h"
#include "design/made.h"
#include "foundation/error.h"
#include "picture/caption.h"

namespace foreslice::cli {
namespace {

using Json = nlohmann::ordered_json;

struct MadeOptions {
    CommonOptions common;
    std::string date, note;
    std::filesystem::path photo;
    std::vector<std::string> weights, temperatures;
};

std::string today() {
    const std::chrono::year_month_day day{
        std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now())};
    const auto two = [](unsigned value) { return (value < 10 ? "0" : "") + std::to_string(value); };
    return std::to_string(static_cast<int>(day.year())) + "-" + two(static_cast<unsigned>(day.month())) +
           "-" + two(static_cast<unsigned>(day.day()));
}

std::vector<std::pair<std::string, double>> figures_from(const std::vector<std::string>& texts,
                                                         const std::string& option,
                                                         const std::string& example) {
    std::vector<std::pair<std::string, double>> list;
    for (const auto& text : texts) {
        const auto equals = text.find('=');
        const std::string figure = equals == std::string::npos ? "" : text.substr(equals + 1);
        char* end = nullptr;
        const double value = std::strtod(figure.c_str(), &end);
        if (equals == 0 || figure.empty() || *end != '\0')
            throw InputError("", option, foreslice::quoted(text) + " is no figure", example);
        list.emplace_back(text.substr(0, equals), value);
    }
    return list;
}

// A photo is named as it lies beside the plan.
std::string photo_beside(const std::filesystem::path& photo, const std::filesystem::path& plan) {
    if (photo.empty()) return "";
    std::error_code error;
    if (!std::filesystem::is_regular_file(photo, error))
        throw InputError(photo.string(), "--photo", "there is no such file", "a picture beside the plan");
    const auto folder = std::filesystem::absolute(plan).parent_path();
    return std::filesystem::absolute(photo)
        .lexically_normal()
        .lexically_relative(folder.lexically_normal())
        .generic_string();
}

int put_down(const MadeOptions& options) {
    if (design::is_picture(options.common.design))
        throw InputError(options.common.design.string(), "",
                         "is a picture: what was made is kept beside a plan", "a design file");
    const auto library = library_of(options.common);
    design::MadeBatch batch;
    batch.design = opened(options.common.design, *library);
    batch.date = options.date.empty() ? today() : options.date;
    batch.notes = options.note;
    batch.photo = photo_beside(options.photo, options.common.design);
    batch.weights_g = figures_from(options.weights, "--weight", "PORTION=GRAMS, as in salt=312");
    batch.temperatures_c =
        figures_from(options.temperatures, "--temperature", "WHAT=DEGREES, as in batter=34");
    design::add_made(options.common.design, batch);
    std::cout << design::made_file_of(options.common.design).string() << ": made " << batch.date << "\n";
    return good;
}

struct HistoryOptions {
    CommonOptions common;
    std::filesystem::path next;
    bool json = false;
};

void print_figures(const char* head, const std::vector<std::pair<std::string, double>>& figures,
                   const char* unit) {
    if (figures.empty()) return;
    std::cout << "  " << head;
    for (std::size_t i = 0; i < figures.size(); ++i)
        std::cout << (i == 0 ? " " : ", ") << figures[i].first << " " << plain_number(figures[i].second)
                  << unit;
    std::cout << "\n";
}

void print_batch(const design::MadeBatch& batch, const design::Design* before, const design::Design* plan_now,
                 const colour::ColourantLibrary& library) {
    std::cout << batch.date << "  " << batch.design.name << ", " << picture::batter_words(batch.design)
              << ", " << picture::wire_words(batch.design) << "\n";
    print_figures("weighed:", batch.weights_g, " g");
    print_figures("temperatures:", batch.temperatures_c, " °C");
    if (!batch.notes.empty()) std::cout << "  note: " << batch.notes << "\n";
    if (!batch.photo.empty()) std::cout << "  photo: " << batch.photo << "\n";
    const auto list = [&](const char* head, const design::Design& from, const design::Design& to) {
        const auto found = design::differences(from, to, &library);
        if (!found.empty()) std::cout << "  " << head << "\n";
        for (const auto& one : found) std::cout << "    " << design::sentence_of(one) << "\n";
    };
    if (before) list("changed since the batch before:", *before, batch.design);
    if (plan_now) list("changed in the plan since:", batch.design, *plan_now);
}

Json json_of_batch(const design::MadeBatch& batch, const design::Design* before,
                   const colour::ColourantLibrary& library) {
    Json weights = Json::object(), temperatures = Json::object(), changes = Json::array();
    for (const auto& [portion, g] : batch.weights_g) weights[portion] = g;
    for (const auto& [what, degrees] : batch.temperatures_c) temperatures[what] = degrees;
    if (before)
        for (const auto& one : design::differences(*before, batch.design, &library))
            changes.push_back(design::sentence_of(one));
    return {{"date", batch.date},
            {"name", batch.design.name},
            {"notes", batch.notes},
            {"photo", batch.photo},
            {"weights_g", weights},
            {"temperatures_c", temperatures},
            {"changed_since_the_batch_before", changes}};
}

int show_history(const HistoryOptions& options) {
    const auto library = library_of(options.common);
    const auto plan = opened(options.common.design, *library);
    const auto batches = design::load_made(options.common.design);
    if (!options.next.empty()) {
        if (batches.empty())
            throw InputError(options.common.design.string(), "--next",
                             "was never made, so nothing can start from it",
                             "a plan with a batch put down by foreslice made");
        std::error_code error;
        if (std::filesystem::exists(options.next, error))
            throw InputError(options.next.string(), "--next", "is there already and would be written over",
                             "a new name");
        design::save(design::next_from(batches.back()), options.next);
    }
    if (options.json) {
        Json out = Json::array();
        for (std::size_t i = 0; i < batches.size(); ++i)
            out.push_back(json_of_batch(batches[i], i > 0 ? &batches[i - 1].design : nullptr, *library));
        std::cout << out.dump(2) << "\n";
        return good;
    }
    if (batches.empty()) std::cout << options.common.design.string() << ": not made yet\n";
    for (std::size_t i = 0; i < batches.size(); ++i)
        print_batch(batches[i], i > 0 ? &batches[i - 1].design : nullptr,
                    i + 1 == batches.size() ? &plan : nullptr, *library);
    if (!options.next.empty())
        std::cout << options.next.string() << ": starts from the batch of " << batches.back().date << "\n";
    return good;
}

}  // namespace

void add_made(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<MadeOptions>();
    CLI::App* command = app.add_subcommand("made", "Put down beside the plan that it was made, and how");
    add_design(*command, options->common);
    command->add_option("--date", options->date, "Day it was made, YYYY-MM-DD; else today")
        ->type_name("DATE");
    command->add_option("--weight", options->weights, "Batter really weighed for a portion; may be repeated")
        ->type_name("PORTION=GRAMS")
        ->allow_extra_args(false);
    command
        ->add_option("--temperature", options->temperatures,
                     "A temperature in °C, as in batter=34; may be repeated")
        ->type_name("WHAT=DEGREES")
        ->allow_extra_args(false);
    command->add_option("--note", options->note, "What is worth remembering")->type_name("TEXT");
    command->add_option("--photo", options->photo, "A photo that lies in the plan's folder")
        ->type_name("FILE");
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice made slipway.foreslice.json --date 2026-03-14 --weight salt=312 --temperature "
        "batter=34 --note 'thickened fast'");
    command->final_callback([options, &chosen] { chosen = [options] { return put_down(*options); }; });
}

void add_history(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<HistoryOptions>();
    CLI::App* command =
        app.add_subcommand("history", "Show what was made from a plan, and start the next from it");
    add_design(*command, options->common);
    command
        ->add_option("--next", options->next,
                     "Design to write, for the next batch: the last one as it was really weighed")
        ->type_name("FILE");
    command->add_flag("--json", options->json, "Print the batches as JSON");
    add_colourants(*command, options->common);
    command->footer("Example:\n  foreslice history slipway.foreslice.json --next slipway-2.foreslice.json");
    command->final_callback([options, &chosen] { chosen = [options] { return show_history(*options); }; });
}

}  // namespace foreslice::cli
