// foreslice sheet: the bench sheet of a design, or of a whole collection with its pastes and shortfalls.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <iostream>
#include <set>

#include "cli/commands.h"
#include "cli/progress_line.h"
#include "cli/workplace.h"
#include "design/design_file.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "picture/bench_files.h"
#include "picture/bench_page.h"
#include "picture/caption.h"
#include "picture/face.h"

namespace foreslice::cli {
namespace {

namespace fs = std::filesystem;

struct SheetOptions {
    CommonOptions common;
    std::vector<fs::path> designs;
    fs::path output, stock, oils;
    std::string paper = "a4", units, date, batch, scale, fine_scale, powder_scale, oils_weight, title;
    double px_per_mm = 6;
    bool no_face = false, pastes = false;
};

constexpr double face_px_per_mm = 8;

std::string ending_of(const fs::path& file) {
    auto ending = file.extension().string();
    for (char& c : ending) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    return ending;
}

/// Designs as named; a folder stands for all designs in it.
std::vector<fs::path> files_of(const std::vector<fs::path>& named) {
    std::vector<fs::path> files;
    for (const fs::path& path : named) {
        std::error_code error;
        if (!fs::is_directory(path, error)) {
            files.push_back(path);
            continue;
        }
        std::set<fs::path> inside;
        for (const auto& entry : fs::directory_iterator(path))
            if (entry.path().filename().string().ends_with(design::file_ending)) inside.insert(entry.path());
        if (inside.empty())
            throw InputError(path.string(), "", "holds no designs",
                             "a folder with files that end in .foreslice.json");
        files.insert(files.end(), inside.begin(), inside.end());
    }
    return files;
}

void check_output(const SheetOptions& options, const std::vector<fs::path>& files) {
    const std::set<std::string> known{".pdf", ".html", ".png", ".json", ".csv"};
    if (!known.contains(ending_of(options.output)))
        throw InputError("", "-o", foreslice::quoted(options.output.string()) + " is not a name for a sheet",
                         "a name that ends in .pdf, .html, .png, .json or .csv");
    std::error_code error;
    const fs::path folder = options.output.parent_path();
    if (!folder.empty() && !fs::is_directory(folder, error))
        throw InputError(options.output.string(), "",
                         "cannot be written: there is no folder " + foreslice::quoted(folder.string()), "");
    for (const fs::path& file : files)
        if (fs::equivalent(options.output, file, error))
            throw InputError(options.output.string(), "", "is a design and would be overwritten",
                             "another name");
}

std::optional<batter::Scale> scale_from(const std::string& text, const std::string& flag) {
    if (text.empty()) return std::nullopt;
    const auto mass = batter::mass_from_text(text);
    if (!mass || mass->amount < 0.001 || mass->amount > 100 || batter::to_g(mass->amount, mass->unit) > 500)
        throw InputError("", flag, foreslice::quoted(text) + " is no step of a scale",
                         "a mass such as 1 g, 0.1 g or 0.05 oz, from 0.001 to 100");
    return batter::Scale{mass->amount, mass->unit};
}

picture::BenchOptions bench_options(const SheetOptions& options) {
    picture::BenchOptions bench;
    if (!options.units.empty())
        bench.units = options.units == "us" ? batter::UnitSystem::us : batter::UnitSystem::metric;
    bench.scale = scale_from(options.scale, "--scale-resolution");
    bench.fine_scale = scale_from(options.fine_scale, "--fine-resolution");
    if (const auto powder = scale_from(options.powder_scale, "--powder-resolution"))
        bench.powder_scale = *powder;
    if (!options.date.empty()) {
        bench.date = picture::bench_date_from_text(options.date);
        if (!bench.date)
            throw InputError("", "--date", foreslice::quoted(options.date) + " is no date",
                             "YYYY-MM-DD, or YYYY-MM-DDTHH:MM when the lye goes into the oils");
    }
    bench.batch_number = options.batch;
    return bench;
}

class Sheets {
  public:
    Sheets(const SheetOptions& options, std::shared_ptr<const colour::ColourantLibrary> library)
        : options_(options),
          bench_(bench_options(options)),
          library_(std::move(library)),
          oils_(oils_of(options.oils)),
          pool_(options.common.threads),
          maker_(pool_, library_) {
        if (!options.oils_weight.empty()) {
            oils_g_ = batter::g_from_text(options.oils_weight);
            if (!oils_g_ || *oils_g_ <= 0)
                throw InputError("", "--oils-weight", foreslice::quoted(options.oils_weight) + " is no mass",
                                 "a mass such as 1000 g or 2 lb");
        }
        if (!options.stock.empty()) stock_ = batter::Stock::load(options.stock);
    }

    void add(const fs::path& file) {
        design::Design design = design::load(file);
        design::validate(design, file.string());
        design::validate(design, *library_, file.string());
        design::BatchPlan plan = planned(design, file);
        if (!stock_ && !design.bench.stock_file.empty())
            stock_ = batter::Stock::load(file.parent_path() / design.bench.stock_file);
        for (const batter::Need& need : picture::needs_of(plan)) needs_.push_back(need);
        soaps_.push_back({file, std::move(design), std::move(plan)});
    }

    int write() {
        std::vector<batter::NamedSplit> splits;
        for (const Soap& soap : soaps_) splits.push_back({soap.design.name, &soap.plan.split});
        pastes_ = batter::masterbatches_of(splits);
        if (options_.pastes) bench_.pastes = pastes_;
        for (const Soap& soap : soaps_)
            sheets_.push_back(picture::bench_sheet(
                {soap.design, soap.plan, *library_, design::warnings(soap.design, *library_),
                 stock_ ? &*stock_ : nullptr, face_of(soap.design, soap.file)},
                bench_));
        return write_file();
    }

  private:
    struct Soap {
        fs::path file;
        design::Design design;
        design::BatchPlan plan;
    };

    int write_file() {
        const bool shares = sheets_.size() > 1 || options_.pastes;
        const auto collection = shares ? std::optional(the_collection()) : std::nullopt;
        const picture::BenchCollection* shared = collection ? &*collection : nullptr;
        const auto paper = options_.paper == "letter" ? picture::letter_paper : picture::a4_paper;
        const std::string ending = ending_of(options_.output);
        if (ending == ".png")
            picture::write_png(
                picture::side_by_side(picture::bench_pictures(sheets_, shared, paper, options_.px_per_mm)),
                options_.output);
        else
            write_file_atomically(options_.output, ending == ".pdf"
                                                       ? picture::bench_pdf(sheets_, shared, paper)
                                                   : ending == ".html" ? picture::bench_html(sheets_, shared)
                                                   : ending == ".json" ? picture::bench_json(sheets_, shared)
                                                                       : picture::bench_csv(sheets_, shared));
        report(shared);
        return code_;
    }

    design::BatchPlan planned(const design::Design& design, const fs::path& file) const {
        try {
            return oils_g_ ? design::plan_batch_of_oils(design, oils_, *library_, *oils_g_)
                           : design::plan_batch(design, oils_, *library_);
        } catch (const InputError& error) {
            throw error.in_file(file.string());
        }
    }

    picture::Image face_of(const design::Design& design, const fs::path& file) {
        const std::string ending = ending_of(options_.output);
        if (options_.no_face || ending == ".json" || ending == ".csv") return {};
        picture::FaceRequest request;
        request.bar = std::max(1, (design::bar_count(design) + 1) / 2);
        request.px_per_mm = face_px_per_mm;
        request.resolution = options_.common.resolution();
        ProgressLine line(design.name);
        const auto face = maker_.make(design, request, line.progress());
        code_ = std::max(code_, exit_code_of(face.solve, file.string()));
        return face.image;
    }

    picture::BenchCollection the_collection() const {
        picture::BenchCollection collection;
        collection.title = options_.title;
        collection.powder_scale = bench_.powder_scale;
        if (bench_.date) collection.date = picture::date_words(*bench_.date);
        for (const picture::BenchSheet& sheet : sheets_) collection.soaps.push_back(sheet.title);
        collection.pastes = pastes_;
        if (stock_) {
            collection.cost = cost_of(needs_, *stock_);
            collection.money = stock_->money();
        }
        return collection;
    }

    void report(const picture::BenchCollection* collection) const {
        std::cout << options_.output.string() << ": " << sheets_.size()
                  << (sheets_.size() == 1 ? " sheet\n" : " sheets\n");
        for (const picture::BenchSheet& sheet : sheets_) {
            std::cout << "  " << sheet.title << ", " << sheet.code << ": "
                      << picture::short_number(sheet.plan.batch.batter_g, 5) << " g of batter, "
                      << picture::short_number(sheet.plan.batch.oils_g, 5) << " g of oils\n";
            for (const design::Warning& warning : sheet.warnings)
                std::cout << "    " << warning.place << ": " << warning.sentence << " " << warning.cure
                          << "\n";
        }
        if (collection == nullptr || !collection->cost) return;
        for (const batter::CostLine& line : collection->cost->lines)
            if (line.short_g > 0)
                std::cout << "  short of " << line.name << ": " << picture::short_number(line.short_g, 4)
                          << " g\n";
    }

    const SheetOptions& options_;
    picture::BenchOptions bench_;
    std::shared_ptr<const colour::ColourantLibrary> library_;
    batter::OilsTable oils_;
    WorkerPool pool_;
    picture::FaceMaker maker_;
    std::optional<double> oils_g_;
    std::optional<batter::Stock> stock_;
    std::vector<Soap> soaps_;
    std::vector<batter::Masterbatch> pastes_;
    std::vector<picture::BenchSheet> sheets_;
    std::vector<batter::Need> needs_;
    int code_ = good;
};

int make_sheet(const SheetOptions& options) {
    const auto files = files_of(options.designs);
    check_output(options, files);
    Sheets sheets(options, library_of(options.common));
    for (const fs::path& file : files) sheets.add(file);
    return sheets.write();
}

void add_bench_options(CLI::App& command, SheetOptions& options) {
    command.add_option("--paper", options.paper, "Paper: a4 or letter")
        ->check(CLI::IsMember({"a4", "letter"}))
        ->capture_default_str();
    command
        .add_option("--units", options.units, "metric or us; else as the design says. Powders stay in grams")
        ->check(CLI::IsMember({"metric", "us"}));
    command.add_option("--date", options.date, "Day of the bench, YYYY-MM-DD, and time, THH:MM, if you like")
        ->type_name("DATE");
    command.add_option("--batch", options.batch, "Batch number to print")->type_name("TEXT");
    command
        .add_option("--scale-resolution", options.scale,
                    "Step of the scale for oils, water and batter, e.g. 1g or 0.05oz")
        ->type_name("MASS");
    command.add_option("--fine-resolution", options.fine_scale, "Step of the scale for lye and additives")
        ->type_name("MASS");
    command
        .add_option("--powder-resolution", options.powder_scale, "Step of the scale for powders, e.g. 0.01g")
        ->type_name("MASS");
    command.add_option("--oils-weight", options.oils_weight, "So much oil instead of full moulds")
        ->type_name("MASS");
    command
        .add_option("--stock", options.stock, "Table (CSV) of prices and stock: item, in_stock, price, for")
        ->type_name("FILE");
    command.add_option("--oils", options.oils, "Table of oils to use instead of the program's own")
        ->type_name("FILE");
    command.add_flag("--pastes", options.pastes,
                     "Weigh powders out as pastes, one strong one of each for all designs");
    command.add_flag("--no-face", options.no_face, "Leave the picture of the face out; quick");
    command.add_option("--px-per-mm", options.px_per_mm, "Scale of a .png, pixels per mm of paper, 2 to 24")
        ->type_name("X")
        ->check(CLI::Range(2.0, 24.0))
        ->capture_default_str();
}

}  // namespace

void add_sheet(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<SheetOptions>();
    CLI::App* command =
        app.add_subcommand("sheet", "The bench sheet: what to weigh, split, tint, pour and draw");
    command->add_option("DESIGNS", options->designs, "Design files, or a folder of them")->required();
    command
        ->add_option("-o,--output", options->output,
                     "Sheet to write: .pdf, .html, .png, .json or .csv (weights)")
        ->type_name("FILE")
        ->required();
    options->title = "Collection";
    command->add_option("--title", options->title, "Heading of the page for a collection")
        ->capture_default_str();
    add_bench_options(*command, *options);
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Several designs give one file with a page for what they share: pastes and, with --stock, "
        "shortfalls.\n"
        "The figures are arithmetic, not a safety assessment.\n\n"
        "Example:\n  foreslice sheet palettes/slipway.foreslice.json -o slipway.pdf --date 2026-11-26");
    command->final_callback([options, &chosen] { chosen = [options] { return make_sheet(*options); }; });
}

}  // namespace foreslice::cli
