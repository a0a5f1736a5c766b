// What the commands for collections share: opening one with its designs and colourants, drawing its faces,
// and its report in words and as JSON.
#pragma once

#include <filesystem>
#include <iosfwd>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "cli/workplace.h"
#include "design/collection.h"
#include "design/family.h"
#include "picture/lineup.h"

namespace foreslice::cli {

struct OpenedFamily {
    design::Collection collection;
    std::vector<std::filesystem::path> files;   ///< of the designs
    std::vector<design::FamilyMember> members;  ///< in the collection's order
    std::shared_ptr<const colour::ColourantLibrary> colour_library;
};

/// The positional COLLECTION.
void add_collection(CLI::App& command, CommonOptions& options);
/// Loads the collection, its library (--colourants wins) and its designs, and validates them; every error
/// names its file. A folder stands for a collection of all designs in it.
OpenedFamily open_family(const CommonOptions& options);

/// Throws InputError when pictures of all soaps at this scale, drawn `times` as large, would need more memory
/// than there is.
void check_memory(const OpenedFamily& family, double px_per_mm, double times = 1);

/// Draws the middle bar of every design at twice `px_per_mm`. Throws as check_memory() does.
std::vector<picture::FamilyFace> faces_of(const OpenedFamily& family, picture::FaceMaker& maker,
                                          double px_per_mm, const flow::Resolution& resolution);

void print_report(std::ostream& out, const OpenedFamily& family, const design::FamilyReport& report,
                  const std::vector<picture::AlikePair>& alike);
nlohmann::ordered_json json_of(const OpenedFamily& family, const design::FamilyReport& report,
                               const std::vector<picture::AlikePair>& alike);

}  // namespace foreslice::cli
