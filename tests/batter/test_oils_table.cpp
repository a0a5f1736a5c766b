#include <doctest/doctest.h>

#include "batter/recipes.h"
#include "foundation/csv.h"
#include "foundation/error.h"

using namespace foreslice;
using namespace foreslice::batter;

namespace {

const std::string head =
    "id,name,inci,koh_low,koh_high,iodine_low,iodine_high,melts_low,melts_high,kind,source,how_known\n";

void check_refused(const std::string& csv, const std::string& place) {
    try {
        OilsTable::parse(csv, "oils.csv");
        FAIL("not refused: " << csv);
    } catch (const InputError& error) {
        CHECK(error.file() == "oils.csv");
        CHECK(error.place() == place);
    }
}

}  // namespace

TEST_CASE("oils: every row of the shipped table has its range and its source") {
    const auto& oils = testing::oils_table().oils();
    CHECK(oils.size() >= 32);
    for (const Oil& oil : oils) {
        CHECK_MESSAGE(!oil.source.empty(), oil.id);
        const bool known = oil.how_known == "read" || oil.how_known == "read-restated" ||
                           oil.how_known == "mixed" || oil.how_known == "memory";
        CHECK_MESSAGE(known, oil.id);
        CHECK(oil.koh_mg_per_g.low > 80);
        CHECK(oil.koh_mg_per_g.high < 270);
    }
}

TEST_CASE("oils: faults in a table are named by line and column") {
    check_refused("", "");
    check_refused("id,name\nolive,x\n", "header");
    check_refused(head + "ol ive,x,,184,196,,,,,oil,s,read\n", "line 2, id");
    check_refused(head + "olive,x,,196,184,,,,,oil,s,read\n", "line 2, koh_low");
    check_refused(head + "olive,x,,18400,19600,,,,,oil,s,read\n", "line 2, koh_low");
    check_refused(head + "olive,x,,,196,,,,,oil,s,read\n", "line 2, koh_low");
    check_refused(head + "olive,x,,184,196,,,,,juice,s,read\n", "line 2, kind");
    check_refused(head + "olive,x,,184,196,,,,,oil,s,read\nolive,x,,184,196,,,,,oil,s,read\n", "line 3, id");
    check_refused(head + "olive,x,,184,196,70,,,,oil,s,read\n", "line 2, iodine_high");
}

TEST_CASE("tables: quoted cells, comments and line ends of any kind are read") {
    const CsvTable table =
        csv_from_text("# note\r\na,b\r\n \"x, \"\"y\"\"\" , z \r\n\r\n1,\"two\nlines\"", "t.csv");
    REQUIRE(table.rows.size() == 2);
    CHECK(table.rows[0].cells == std::vector<std::string>{"x, \"y\"", "z"});
    CHECK(table.rows[0].line == 3);
    CHECK(table.rows[1].cells[1] == "two\nlines");
    CHECK(csv_line({"a", "b, c", "d \"e\"", "=1+2"}) == "a,\"b, c\",\"d \"\"e\"\"\",'=1+2\n");
    const CsvTable again = csv_from_text("h1,h2\n" + csv_line({"b, c", "d \"e\"\n"}), "t.csv");
    CHECK(again.rows[0].cells == std::vector<std::string>{"b, c", "d \"e\"\n"});
    const CsvTable old = csv_from_text("# note\ra,b\r1,2\r\r3,4", "t.csv");  // a lone CR ends a line too
    REQUIRE(old.rows.size() == 2);
    CHECK(old.rows[1].cells == std::vector<std::string>{"3", "4"});
    CHECK(old.rows[1].line == 5);
}
