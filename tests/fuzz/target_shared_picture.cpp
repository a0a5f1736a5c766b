// Pictures that carry a design: the whole file from anywhere, and, in a sound file, any text.
#include <sstream>

#include "design/shared_picture.h"
#include "foundation/png_text.h"
#include "fuzz_rule.h"
#include "png_file.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

void check(const std::string& png) {
    const auto read = taken([&] { return design::design_in_picture(png, "fuzz"); });
    std::istringstream headings(png);
    const bool held = holds_png_text(headings, design::picture_keyword);
    if (!read) return;
    must(held, "a picture that carries a design says so by its headings");
    // As the program does: what came without colourants is drawn with its own.
    static const auto own = colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json");
    const auto& colourants = read->colourants ? *read->colourants : own;
    const auto written =
        taken([&] { return design::with_design(png, read->design, colourants, read->view); });
    if (!written) return;  // grew too large: the error has said so
    const auto again = taken([&] { return design::design_in_picture(*written, "written"); });
    must(again.has_value(), "a picture that was read can be written and read");
    must(again->design == read->design, "it carries the same design then");
    must(again->view == read->view, "and the same view");
    must(design::with_design(png, again->design, *again->colourants, again->view) == *written,
         "its bytes are the same then");
    design::with_sent(own, colourants);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const std::string picture = png_by_libpng();
    const std::string bytes = bytes_from(data, size);
    if (is_png(bytes))
        check(bytes);
    else
        check(with_png_text(picture, design::picture_keyword, bytes));
    return 0;
}
