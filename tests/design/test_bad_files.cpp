// Every malformed file in tests/data/design/bad must be refused with a sentence that names the file, the
// place, what is wrong and what is allowed.
#include <doctest/doctest.h>

#include <set>
#include <sstream>
#include <vector>

#include "design/design_file.h"
#include "design/recipe.h"
#include "design/samples.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/text_file.h"
#include "text.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

struct Expected {
    std::string file, place, problem, allowed;
};

std::vector<Expected> expectations() {
    std::vector<Expected> rows;
    std::istringstream lines(read_file(samples::data("bad/expected.tsv")));
    for (std::string line; std::getline(lines, line);) {
        if (line.empty() || line[0] == '#') continue;
        std::istringstream cells(line);
        Expected row;
        std::getline(cells, row.file, '\t');
        std::getline(cells, row.place, '\t');
        std::getline(cells, row.problem, '\t');
        std::getline(cells, row.allowed, '\t');
        rows.push_back(row);
    }
    return rows;
}

}  // namespace

TEST_CASE("bad files: every one is refused with file, place, problem and what is allowed") {
    const auto rows = expectations();
    REQUIRE(rows.size() > 100);
    for (const Expected& row : rows) {
        CAPTURE(row.file);
        const auto path = samples::data("bad/" + row.file);
        try {
            const auto design = design::load(path);
            design::validate(design, samples::library(), path.string());
            design::validate(design, samples::oils(), path.string());
            FAIL_CHECK("accepted");
        } catch (const InputError& error) {
            const std::string sentence = error.what();
            CAPTURE(sentence);
            CHECK(error.file() == path.string());
            CHECK(contains(sentence, row.file));
            CHECK(error.place().rfind(row.place, 0) == 0);
            const bool points_into_json = !row.place.empty() && row.place[0] == '/';
            if (points_into_json && row.allowed != "32 levels") CHECK(error.place() == row.place);
            CHECK(contains(error.problem(), row.problem));
            CHECK(contains(error.allowed(), row.allowed));
            for (const char c : sentence) CHECK((static_cast<unsigned char>(c) >= 0x20 && c != 0x7f));
        }
    }
}

TEST_CASE("bad files: the list and the folder agree") {
    std::set<std::string> listed, found;
    for (const Expected& row : expectations()) listed.insert(row.file);
    for (const auto& entry : std::filesystem::directory_iterator(samples::data("bad")))
        if (entry.path().extension() == ".json") found.insert(entry.path().filename().string());
    CHECK(listed == found);
}

TEST_CASE("bad files: none at all, and a folder") {
    CHECK_THROWS_AS(design::load(samples::data("no-such-file.json")), InputError);
    CHECK_THROWS_AS(design::load(samples::data("bad")), InputError);
}
