#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "cli/program.h"

using namespace foreslice::testing;

namespace {

std::set<std::filesystem::path> bad_designs() {
    std::set<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(FORESLICE_TEST_DATA "/design/bad"))
        if (entry.path().extension() == ".json") files.insert(entry.path());
    return files;
}

void check_refused(const Outcome& outcome, const std::string& file) {
    CHECK_MESSAGE(outcome.code == 2, file << " gave " << outcome.code);
    CHECK_MESSAGE(outcome.out.empty(), file << " printed " << outcome.out);
    CHECK_MESSAGE(outcome.err.find(file) != std::string::npos, file << " is not named in " << outcome.err);
    CHECK_MESSAGE(std::count(outcome.err.begin(), outcome.err.end(), '\n') == 1,
                  file << " gave more than one line: " << outcome.err);
    CHECK_MESSAGE(outcome.err.size() < 600, file << " gave a long sentence: " << outcome.err);
}

}  // namespace

TEST_CASE("every malformed design is refused with one sentence that names the file") {
    const auto files = bad_designs();
    REQUIRE(files.size() >= 50);
    for (const auto& file : files) check_refused(run({"check", file.string()}), file.string());
}

TEST_CASE("every command refuses a malformed design alike") {
    const ScratchFolder scratch;
    for (const char* name : {"empty-file.json", "png-header.json", "width-zero.json", "nul-bytes.json"}) {
        const std::string file = std::string(FORESLICE_TEST_DATA "/design/bad/") + name;
        check_refused(run({"face", file, "-o", scratch / "x.png"}), file);
        check_refused(run({"colours", file}), file);
        check_refused(run({"flow", file, "--probe", "3,4"}), file);
        CHECK_FALSE(std::filesystem::exists(scratch / "x.png"));
    }
}

TEST_CASE("files that are not there, or are folders, are named") {
    const ScratchFolder scratch;
    check_refused(run({"check", scratch / "nowhere.json"}), scratch / "nowhere.json");
    check_refused(run({"check", scratch / ""}), scratch / "");
    const std::string missing = scratch / "colourants.json";
    check_refused(run({"check", demo_design("slipway"), "--colourants", missing}), missing);
}
