// What several commands share: common options, opening a design with its colourants, checks of file names.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "batter/oils_table.h"
#include "colour/pigment.h"
#include "design/design.h"
#include "design/shared_picture.h"
#include "flow/flow.h"
#include "foundation/worker_pool.h"
#include "picture/face.h"

namespace CLI {
class App;
}

namespace foreslice::cli {

struct CommonOptions {
    std::filesystem::path design;
    std::filesystem::path colourants;  ///< empty: the program's own library
    unsigned threads = 0;              ///< 0: as many as the machine has
    int cells_across = flow::Resolution{}.cells_across;

    flow::Resolution resolution() const;
};

void add_design(CLI::App& command, CommonOptions& options);
void add_colourants(CLI::App& command, CommonOptions& options);
/// --bar and --px-per-mm; `bars` says which bars are meant.
void add_view(CLI::App& command, picture::FaceRequest& request, const char* bars);
/// --threads and --cells.
void add_computing(CLI::App& command, CommonOptions& options);

/// The library that --colourants names, else the program's own; with the entries that came along when the
/// design is a shared picture.
std::shared_ptr<const colour::ColourantLibrary> library_of(const CommonOptions& options);
/// The table of oils: the program's own when none was chosen.
batter::OilsTable oils_of(const std::filesystem::path& chosen);
/// Loads a design file, or the design inside a shared picture, and validates; every error names the file.
design::Design opened(const std::filesystem::path& path, const colour::ColourantLibrary& library);

/// Refuses, before any work is done, a picture name that does not end in .png, lies in no folder, or is one
/// of the inputs.
void check_picture_name(const std::filesystem::path& picture, const std::filesystem::path& design);

/// --without-design: for pictures that carry their design unless this is set.
void add_sharing(CLI::App& command, bool& without_design);
/// Writes the picture with the design inside it, unless `without_design`.
void write_shared(const picture::Image& image, const std::filesystem::path& path,
                  const design::Design& design, const colour::ColourantLibrary& library,
                  const std::optional<design::View>& view, bool without_design);

/// Says on standard error when a flow solve stayed short of its tolerance, and returns the exit code for it.
int exit_code_of(const flow::SolveReport& report, const std::string& name);

/// --age: days, or "wet", "cut", "4w", "6m".
void add_age(CLI::App& command, std::string& age);
/// Nothing for an empty text. Throws InputError for anything but the words above and 0 to 3650.
void set_age(design::Design& design, const std::string& age);

}  // namespace foreslice::cli
