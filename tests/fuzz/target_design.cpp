// Design files. One that is read can be written and read back; one that passes validate() can be warned
// about, named and weighed out.
#include "batter/oils_table.h"
#include "colour/pigment.h"
#include "design/design_file.h"
#include "design/identity.h"
#include "design/recipe.h"
#include "design/validation.h"
#include "fuzz_rule.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

const colour::ColourantLibrary& library() {
    static const auto all = colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json");
    return all;
}

const batter::OilsTable& oils() {
    static const auto all = batter::OilsTable::load(FORESLICE_SOURCE "/palettes/oils.csv");
    return all;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto read = taken([&] { return design::parse(bytes_from(data, size), "fuzz"); });
    if (!read) return 0;
    const std::string text = design::to_json(*read);
    const auto again = taken([&] { return design::parse(text, "written"); });
    must(again.has_value(), "a design that was read can be written and read");
    must(*again == *read, "it is the same design then");
    must(design::to_json(*again) == text, "its file is the same then");
    const bool sound = taken([&] { return design::validate(*read, library(), "fuzz"), true; }).has_value();
    if (!sound) return 0;
    design::warnings(*read, library());
    must(!design::identity_code(*read).empty(), "every design has a code");
    taken([&] { return design::plan_batch(*read, oils(), library()); });
    return 0;
}
