// The short pass, with any compiler: the kept seeds of one target, and a few hundred small changes to each,
// always the same ones. `replay_design FOLDER`; ends with 0 when the rule held for all of them.
#include <algorithm>
#include <filesystem>
#include <vector>

#include "foundation/random.h"
#include "foundation/text_file.h"
#include "fuzz_rule.h"

namespace fs = std::filesystem;

namespace {

constexpr std::uint64_t changes_of_each = 400;

std::string changed(std::string bytes, std::uint64_t seed) {
    auto pick = [&, n = std::uint64_t{0}](std::size_t below) mutable {
        return static_cast<std::size_t>(foreslice::mixed_bits(seed * 1000 + n++) % below);
    };
    for (std::size_t left = 1 + pick(3); left > 0 && !bytes.empty(); --left) {
        const std::size_t at = pick(bytes.size());
        switch (pick(6)) {
            case 0:
                bytes[at] = static_cast<char>(pick(256));
                break;
            case 1:
                bytes[at] = static_cast<char>(bytes[at] ^ (1 << pick(8)));
                break;
            case 2:
                bytes.erase(at, 1 + pick(12));
                break;
            case 3:
                bytes.insert(at, bytes.substr(pick(bytes.size()), 1 + pick(40)));
                break;
            case 4:
                bytes.resize(at);
                break;
            default:
                bytes.insert(at, 1 + pick(4), static_cast<char>(pick(256)));
                break;
        }
    }
    return bytes;
}

void try_bytes(const std::string& bytes) {
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

}  // namespace

int main(int count, char** words) {
    if (count != 2 || !fs::is_directory(words[1])) {
        std::fprintf(stderr, "usage: %s FOLDER\n", words[0]);
        return 2;
    }
    std::vector<fs::path> seeds;
    for (const auto& entry : fs::directory_iterator(words[1])) seeds.push_back(entry.path());
    std::sort(seeds.begin(), seeds.end());
    foreslice::testing::must(!seeds.empty(), "there are seeds");
    for (const auto& seed : seeds) {
        std::printf("%s\n", seed.filename().string().c_str());  // the last line says which one it was
        std::fflush(stdout);
        const std::string bytes = foreslice::read_file(seed);
        try_bytes(bytes);
        for (std::uint64_t i = 0; i < changes_of_each; ++i) try_bytes(changed(bytes, i));
    }
    return 0;
}
