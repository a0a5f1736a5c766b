// Collection files.
#include "design/collection.h"
#include "fuzz_rule.h"

using namespace foreslice;
using namespace foreslice::testing;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto read = taken([&] { return design::parse_collection(bytes_from(data, size), "harbour/fuzz"); });
    if (!read) return 0;
    for (const auto& member : read->members) {
        const std::string path = read->path_of(member.file).lexically_normal().string();
        must(path.starts_with("harbour"), "a collection names no file outside its own folder");
    }
    const std::string text = design::to_json(*read);
    const auto again = taken([&] { return design::parse_collection(text, "harbour/fuzz"); });
    must(again.has_value(), "a collection that was read can be written and read");
    must(again->members == read->members && again->name == read->name && again->notes == read->notes &&
             again->colourants == read->colourants && again->margin_percent == read->margin_percent,
         "it is the same collection then");
    must(design::to_json(*again) == text, "its file is the same then");
    return 0;
}
