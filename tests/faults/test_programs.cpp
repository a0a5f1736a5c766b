// The commands when the disk is full, the folder read-only or the power goes: no half file under a finished
// name, the old one kept, one sentence, exit code 2.
#include <doctest/doctest.h>

#include <sys/resource.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <fstream>

#include "cli/program.h"
#include "faults/disk_faults.h"
#include "foundation/text_file.h"

using namespace foreslice;
using namespace foreslice::testing;
namespace fs = std::filesystem;

namespace {

struct Command {
    std::string output;  // what it writes, in the scratch folder
    std::vector<std::string> words;
};

std::vector<Command> commands() {
    const std::string quick = FORESLICE_TEST_DATA "/faults/quick.foreslice.json";
    const std::string pair = FORESLICE_TEST_DATA "/faults/pair.collection.json";
    return {{"face.png", {"face", quick, "--px-per-mm", "1"}},
            {"sheet.pdf", {"sheet", demo_design("slipway"), "--date", "2026-11-26", "--no-face"}},
            {"sheet.html", {"sheet", demo_design("slipway"), "--date", "2026-11-26", "--no-face"}},
            {"loaf.png", {"loaf", quick, "--px-per-mm", "1"}},
            {"page.html", {"gallery", pair, "--px-per-mm", "2", "--orders", "0"}},
            {"paper.pdf", {"contact", pair, "--px-per-mm", "2"}},
            {"lineup.png", {"lineup", pair, "--px-per-mm", "1"}}};
}

}  // namespace

TEST_CASE("commands: a full disk, a read-only folder and a power cut leave the old file and no half one") {
    if (!can_watch()) return;
    for (const Command& command : commands()) {
        CAPTURE(command.output);
        const ScratchFolder scratch;
        const std::string file = scratch / command.output, said = scratch / "said";
        std::vector<std::string> words{FORESLICE_PROGRAM};
        words.insert(words.end(), command.words.begin(), command.words.end());
        words.insert(words.end(), {"-o", file});
        const auto work = program(words, said);
        write_file_atomically(file, "the one from yesterday");
        const auto seen = watch(work);
        CHECK_MESSAGE(seen.code == 0, bytes_of(said));
        CHECK(bytes_of(file).size() > 1000);
        const auto at = [&](const char* name) {  // its place among the calls
            const auto found = std::find(seen.calls.begin() + 1, seen.calls.end(), name);  // 0 opens `said`
            REQUIRE(found != seen.calls.end());
            return static_cast<int>(found - seen.calls.begin());
        };
        const auto kept = [&] {
            CHECK(bytes_of(file) == "the one from yesterday");
            CHECK(std::distance(fs::directory_iterator(fs::path(file).parent_path()), {}) == 2);
        };
        struct Fault {
            int call, error;
            const char* sentence;
        };
        for (const auto& [call, error, sentence] :
             {Fault{at("write"), ENOSPC, "cannot be written: the disk is full"},
              Fault{at("open"), EROFS, "cannot be written: Read-only file system"}}) {
            write_file_atomically(file, "the one from yesterday");
            CHECK(break_disk(work, call, error, true).code == 2);
            const std::string text = bytes_of(said);
            CHECK_MESSAGE(text.find(sentence) != std::string::npos, text);
            CHECK_MESSAGE(text.find(command.output) != std::string::npos, text);
            kept();
        }
        write_file_atomically(file, "the one from yesterday");
        CHECK(cut_power(work, at("write"), When::half).code == 128 + 9);
        CHECK(bytes_of(file) == "the one from yesterday");
    }
}

TEST_CASE("files are written in one place only, so that what is tested there holds everywhere") {
    for (const auto& entry : fs::recursive_directory_iterator(FORESLICE_SOURCE "/src")) {
        const std::string name = entry.path().filename().string();
        if (!entry.is_regular_file() || name == "text_file.cpp") continue;
        const std::string text = bytes_of(entry.path().string());
        for (const char* other : {"std::ofstream", "fopen(", "std::fstream"}) {
            CAPTURE(name);
            CHECK_MESSAGE(text.find(other) == std::string::npos, other);
        }
    }
}

#if !defined(__SANITIZE_ADDRESS__)  // which takes all addresses there are
TEST_CASE("huge pictures are refused before they are begun, with the memory they would need") {
    // Two fifths of a gigabyte for the whole program, which is what some containers give.
    const auto in_little_memory = [](std::vector<std::string> words, const std::string& said) {
        words.insert(words.begin(), FORESLICE_PROGRAM);
        const auto start = program(words, said);
        return [start] {
            const rlimit limit{400U << 20U, 400U << 20U};
            return setrlimit(RLIMIT_AS, &limit) == 0 ? start() : 3;
        };
    };
    const std::string slipway = demo_design("slipway"),
                      collection = FORESLICE_SOURCE "/palettes/last-ferry.collection.json";
    const ScratchFolder scratch;
    const std::string said = scratch / "said", png = scratch / "x.png", pdf = scratch / "x.pdf";
    for (const auto& words : std::vector<std::vector<std::string>>{
             {"face", slipway, "--px-per-mm", "60", "-o", png},
             {"loaf", slipway, "--px-per-mm", "12", "-o", png},
             {"lineup", collection, "--px-per-mm", "12", "-o", png},
             {"contact", slipway, "--px-per-mm", "24", "-o", pdf},
             {"vary", slipway, "--over", "passes=3..12", "--px-per-mm", "30", "-o", png},
             {"orders", slipway, "--px-per-mm", "20", "-o", png}}) {
        CAPTURE(words[0]);
        const auto seen = watch(in_little_memory(words, said));
        const std::string text = bytes_of(said);
        CHECK_MESSAGE(seen.code == 2, text);
        CHECK_MESSAGE(text.find("would need about ") != std::string::npos, text);
        CHECK_MESSAGE(text.find(" are free") != std::string::npos, text);
        CHECK_MESSAGE(text.find("px per mm now") != std::string::npos, text);
        CHECK_FALSE(fs::exists(png));
        CHECK_FALSE(fs::exists(pdf));
    }
}
#endif
