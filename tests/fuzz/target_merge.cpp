// Two people's edits: three design files, parted by the byte 0x1E. Whatever they say, the edits can be told
// in words and put together, and what comes out is a design that can be written and read.
#include <vector>

#include "design/design_file.h"
#include "design/differences.h"
#include "design/merge.h"
#include "fuzz_rule.h"

using namespace foreslice;
using namespace foreslice::testing;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes = bytes_from(data, size);
    std::vector<design::Design> designs;
    for (std::size_t at = 0; at <= bytes.size() && designs.size() < 3;) {
        const std::size_t end = std::min(bytes.find('\x1e', at), bytes.size());
        auto read = taken([&] { return design::parse(bytes.substr(at, end - at), "fuzz"); });
        if (!read) return 0;
        designs.push_back(std::move(*read));
        at = end + 1;
    }
    if (designs.size() < 3) return 0;
    for (const auto& difference : design::differences(designs[0], designs[1]))
        must(!design::sentence_of(difference).empty(), "every difference has words");
    must(design::differences(designs[1], designs[1]).empty(), "nothing differs from itself");
    const auto merged = taken([&] { return design::merged(designs[0], designs[1], designs[2]); });
    if (!merged) return 0;
    const auto again = taken([&] { return design::parse(design::to_json(merged->design), "written"); });
    must(again.has_value(), "what was merged can be written and read");
    must(*again == merged->design, "it is the same design then");
    must(design::merged(designs[0], designs[1], designs[0]).design == designs[1],
         "an edit and none give the edit");
    return 0;
}
