// foreslice merge: the edits of two people to one design, put together field by field; git's merge driver.
#include <CLI/CLI.hpp>
#include <iostream>

#include "cli/commands.h"
#include "cli/workplace.h"
#include "design/design_file.h"
#include "design/merge.h"

namespace foreslice::cli {
namespace {

struct MergeOptions {
    std::filesystem::path base, ours, theirs, output;
};

int make_merge(const MergeOptions& options) {
    const auto merged =
        design::merged(design::load(options.base), design::load(options.ours), design::load(options.theirs));
    const auto& output = options.output.empty() ? options.ours : options.output;
    design::save(merged.design, output);
    for (const auto& field : merged.conflicts)
        std::cerr << "foreslice: " << output.string() << ": " << field
                  << ": both changed this; the first one's was kept\n";
    return merged.conflicts.empty() ? good : failed;
}

}  // namespace

void add_merge(CLI::App& app, Work& chosen) {
    auto options = std::make_shared<MergeOptions>();
    CLI::App* command = app.add_subcommand("merge", "Put the edits of two people to one design together");
    command->add_option("BASE", options->base, "The design both began with")->required();
    command->add_option("OURS", options->ours, "The first one's design")->required();
    command->add_option("THEIRS", options->theirs, "The other one's")->required();
    command->add_option("-o,--output", options->output, "Design to write; else OURS is written over")
        ->type_name("FILE");
    command->footer(
        "Exit code 1 when both changed the same field; each is named, and the first one's is kept.\n"
        "As git's merge driver:\n  git config merge.foreslice.driver 'foreslice merge %O %A %B'\n"
        "  echo '*.foreslice.json merge=foreslice' >> .gitattributes\n\n"
        "Example:\n  foreslice merge base.json mine.json yours.json -o both.json");
    command->final_callback([options, &chosen] { chosen = [options] { return make_merge(*options); }; });
}

}  // namespace foreslice::cli
