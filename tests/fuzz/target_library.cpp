// Colourant libraries: sound figures come out, and colours that are numbers.
#include <cmath>

#include "colour/pigment.h"
#include "fuzz_rule.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

bool in_display_range(const colour::LinearSrgb& light) {
    const auto holds = [](double v) { return std::isfinite(v) && v >= -1e-6 && v <= 1 + 1e-6; };
    return holds(light.r) && holds(light.g) && holds(light.b);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto read = taken([&] { return colour::ColourantLibrary::parse(bytes_from(data, size), "fuzz"); });
    if (!read) return 0;
    const std::string text = read->to_json();
    const auto again = taken([&] { return colour::ColourantLibrary::parse(text, "written"); });
    must(again.has_value(), "a library that was read can be written and read");
    must(again->colourants().size() == read->colourants().size(), "it has as many colourants then");
    must(again->to_json() == text, "its file is the same then");
    must(in_display_range(colour::colour_of(read->base()).linear), "the plain base has a colour");
    for (std::size_t i = 0; i < read->colourants().size() && i < 4; ++i) {
        const auto optics = colour::mixed(read->base(), {{&read->colourants()[i], 10.0}});
        must(in_display_range(colour::colour_of(optics).linear), "every colourant has a colour");
    }
    return 0;
}
