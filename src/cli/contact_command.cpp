// foreslice contact: bars at their true size on paper, as a PDF.
#include <CLI/CLI.hpp>
#include <iostream>
#include <map>

#include "cli/commands.h"
#include "cli/family.h"
#include "cli/progress_line.h"
#include "foundation/error.h"
#include "picture/caption.h"
#include "picture/contact_paper.h"
#include "picture/memory_need.h"

namespace foreslice::cli {
namespace {

struct ContactOptions {
    CommonOptions common;
    std::filesystem::path output;
    std::string paper = "a4";
    bool crop_marks = false;
    double px_per_mm = 300 / 25.4;
};

const std::map<std::string, picture::PaperSize> papers{
    {"a4", picture::a4_paper}, {"a3", {297, 420}}, {"letter", picture::letter_paper}};

class Bars {
  public:
    Bars(const ContactOptions& options, std::shared_ptr<const colour::ColourantLibrary> library)
        : options_(options), pool_(options.common.threads), maker_(pool_, std::move(library)) {}

    void add(const design::Design& design, int bar, const std::string& title, const std::string& note) {
        ProgressLine line(design.name);
        picture::FaceRequest request{.bar = bar, .px_per_mm = options_.px_per_mm};
        request.resolution = options_.common.resolution();
        auto face = maker_.make(design, request, line.progress());
        solve = picture::worst_of(solve, face.solve);
        list.push_back({std::move(face.image), design.mould.width_mm, design.mould.fill_mm, title, note});
    }

    std::vector<picture::PaperBar> list;
    flow::SolveReport solve;

  private:
    const ContactOptions& options_;
    WorkerPool pool_;
    picture::FaceMaker maker_;
};

std::string size_words(const design::Design& design) {
    return picture::short_number(design.mould.width_mm, 4) + " × " +
           picture::short_number(design.mould.fill_mm, 4) + " mm";
}

void check_output(const std::filesystem::path& output) {
    if (output.extension() != ".pdf")
        throw InputError("", "-o", foreslice::quoted(output.string()) + " is not a name for a PDF",
                         "a name that ends in .pdf");
}

// Every bar of a design's loaf, or the middle bar of every design of a collection.
int make_contact(const ContactOptions& options) {
    check_output(options.output);
    picture::ContactPaper sheet{papers.at(options.paper), options.crop_marks, "", ""};
    std::optional<Bars> bars;
    std::error_code error;
    if (std::filesystem::is_directory(options.common.design, error) ||
        design::is_collection(options.common.design)) {
        const auto family = open_family(options.common);
        check_memory(family, options.px_per_mm);
        bars.emplace(options, family.colour_library);
        sheet.heading = family.collection.name;
        sheet.note = "the middle bar of each soap at its true size";
        for (const auto& member : family.members)
            bars->add(member.design, picture::middle_bar_of(member.design), member.design.name,
                      size_words(member.design));
    } else {
        const auto library = library_of(options.common);
        const auto design = opened(options.common.design, *library);
        picture::check_memory_of_faces(static_cast<std::size_t>(design::bar_count(design)), design,
                                       options.px_per_mm);
        bars.emplace(options, library);
        sheet.heading = design.name;
        sheet.note = "every bar of the loaf at its true size, " + size_words(design);
        for (int bar = 1; bar <= design::bar_count(design); ++bar)
            bars->add(design, bar, "bar " + std::to_string(bar), design.name);
    }
    auto paper = picture::Paper::pdf(sheet.paper, {sheet.heading, "Contact sheet at true size"});
    picture::draw_contact_paper(paper, sheet, bars->list);
    const int pages = paper.page_count();
    paper.write_pdf(options.output);
    std::cout << options.output.string() << ": " << bars->list.size()
              << (bars->list.size() == 1 ? " bar on " : " bars on ") << pages
              << (pages == 1 ? " page\n" : " pages\n");
    return exit_code_of(bars->solve, options.common.design.string());
}

}  // namespace

void add_contact(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<ContactOptions>();
    CLI::App* command = app.add_subcommand("contact", "Put bars at their true size on paper (PDF)");
    command
        ->add_option("DESIGN_OR_COLLECTION", options->common.design,
                     "A design: every bar of its loaf. A collection or a folder: the middle bar of each soap")
        ->required();
    command->add_option("-o,--output", options->output, "Sheet to write (PDF)")
        ->type_name("FILE")
        ->required();
    command->add_option("--paper", options->paper, "a4, a3 or letter")
        ->check(CLI::IsMember({"a4", "a3", "letter"}))
        ->capture_default_str();
    command->add_flag("--crop-marks", options->crop_marks, "Marks to cut the bars out by");
    command
        ->add_option("--px-per-mm", options->px_per_mm,
                     "Fineness of the faces, 2 to 24; 11.8 is 300 to the inch")
        ->type_name("X")
        ->check(CLI::Range(2.0, 24.0));
    add_computing(*command, options->common);
    add_colourants(*command, options->common);
    command->footer(
        "Example:\n  foreslice contact palettes/last-ferry.collection.json -o contact.pdf --crop-marks");
    command->final_callback([options, &chosen] { chosen = [options] { return make_contact(*options); }; });
}

}  // namespace foreslice::cli
