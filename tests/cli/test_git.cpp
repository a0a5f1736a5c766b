// Two people edit one design; plain git puts it together, line by line.
#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/program.h"
#include "design/design_file.h"
#include "design/field_paths.h"
#include "design/merge.h"

using namespace foreslice;
using foreslice::testing::bytes_of;
using foreslice::testing::ScratchFolder;

namespace {

class Repository {
  public:
    Repository() {
        git("init -q");
        git("config user.name Tester");
        git("config user.email tester@example.invalid");
        git("config commit.gpgsign false");
    }
    int git(const std::string& words) const {
        const std::string command =
            "cd \"" + (scratch_ / "") + "\" && \"" GIT_PROGRAM "\" " + words + " >>log 2>&1";
        return std::system(command.c_str());
    }
    void write(const design::Design& design) const {
        std::ofstream(file(), std::ios::binary) << design::to_json(design);
    }
    std::string file() const { return scratch_ / "soap.foreslice.json"; }
    std::string path(const std::string& name) const { return scratch_ / name; }

    /// Two branches with one commit each; whether git merges them by itself.
    bool merges(const design::Design& base, const design::Design& ours, const design::Design& theirs) const {
        write(base);
        git("checkout -q --orphan start" + std::to_string(++round_) +
            " && \"" GIT_PROGRAM "\" add soap.foreslice.json && \"" GIT_PROGRAM "\" commit -q -m base");
        git("checkout -q -b ours" + std::to_string(round_));
        write(ours);
        git("commit -q -a -m ours");
        git("checkout -q -b theirs" + std::to_string(round_) + " HEAD~1");
        write(theirs);
        git("commit -q -a -m theirs");
        return git("merge -q --no-edit ours" + std::to_string(round_)) == 0;
    }

  private:
    ScratchFolder scratch_;
    mutable int round_ = 0;
};

design::Design slipway() {
    return design::load(FORESLICE_SOURCE "/palettes/slipway.foreslice.json");
}

}  // namespace

TEST_CASE("git: edits of different fields by two people merge, and the result is what both wanted") {
    const auto base = slipway();
    // Neighbours in the file among them: two doses of one portion, pours next to each other, mould and
    // batter.
    const std::vector<std::pair<std::pair<const char*, const char*>, std::pair<const char*, const char*>>>
        pairs{{{"mould.fill_mm", "80"}, {"batter.trace", "medium"}},
              {{"ink.ultramarine-blue.g_per_kg_oils", "9"}, {"ink.activated-charcoal.g_per_kg_oils", "4"}},
              {{"pours.salt.unevenness_mm", "2"}, {"pours.amber.unevenness_mm", "3"}},
              {{"passes", "8"}, {"cut.bar_thickness_mm", "26"}},
              {{"salt.white.g_per_kg_oils", "9"}, {"amber.iron-oxide-yellow.g_per_kg_oils", "7"}},
              {{"hand.wander_mm", "1"}, {"cut.trim_mm", "6"}}};
    const Repository repository;
    for (const auto& pair : pairs) {
        const auto &mine = pair.first, &yours = pair.second;  // clang 14 captures no names of a binding
        CAPTURE(mine.first);
        CAPTURE(yours.first);
        const auto ours = design::with_field(base, mine.first, mine.second);
        const auto theirs = design::with_field(base, yours.first, yours.second);
        REQUIRE(repository.merges(base, ours, theirs));
        CHECK(design::load(repository.file()) == design::with_field(ours, yours.first, yours.second));
    }
}

TEST_CASE("git: with the program as merge driver, fields on neighbouring lines merge too") {
    const auto base = slipway();
    const auto ours = design::with_field(base, "mould.width_mm", "70");
    const auto theirs = design::with_field(base, "mould.height_mm", "95");
    const Repository plain;
    CHECK_FALSE(plain.merges(base, ours, theirs));  // git merges no two changes that touch
    const Repository driven;
    driven.git("config merge.foreslice.driver '\"" FORESLICE_PROGRAM "\" merge %O %A %B'");
    std::ofstream(driven.path(".git/info/attributes")) << "*.foreslice.json merge=foreslice\n";
    REQUIRE(driven.merges(base, ours, theirs));
    CHECK(design::load(driven.file()) == design::with_field(ours, "mould.height_mm", "95"));
    CHECK_FALSE(driven.merges(base, ours, design::with_field(base, "mould.width_mm", "60")));
}

TEST_CASE("git: one changed field is one changed line") {
    const auto base = slipway();
    const Repository repository;
    repository.write(base);
    repository.git("add soap.foreslice.json && \"" GIT_PROGRAM "\" commit -q -m base");
    const std::vector<std::pair<const char*, const char*>> edits{{"mould.width_mm", "90"},
                                                                 {"passes", "9"},
                                                                 {"pours.ink.unevenness_mm", "9"},
                                                                 {"salt.white.g_per_kg_oils", "9"},
                                                                 {"seed", "9"}};
    for (const auto& [field, value] : edits) {
        repository.write(design::with_field(base, field, value));
        std::filesystem::remove(repository.path("stat"));
        repository.git("--no-pager diff --numstat --output=stat -- soap.foreslice.json");
        CHECK(bytes_of(repository.path("stat")).rfind("1\t1\t", 0) == 0);
    }
}
