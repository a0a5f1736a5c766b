// Records of batches made.
#include "design/made.h"
#include "fuzz_rule.h"

using namespace foreslice;
using namespace foreslice::testing;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto read = taken([&] { return design::parse_made(bytes_from(data, size), "fuzz"); });
    if (!read) return 0;
    const std::string text = design::to_json(*read);
    const auto again = taken([&] { return design::parse_made(text, "written"); });
    must(again.has_value(), "a record that was read can be written and read");
    must(again->size() == read->size(), "it has as many batches then");
    for (std::size_t i = 0; i < read->size(); ++i)
        must((*again)[i].design == (*read)[i].design && (*again)[i].date == (*read)[i].date &&
                 (*again)[i].weights_g == (*read)[i].weights_g && (*again)[i].notes == (*read)[i].notes,
             "every batch is the same then");
    must(design::to_json(*again) == text, "its file is the same then");
    for (const auto& batch : *read) design::next_from(batch);
    return 0;
}
