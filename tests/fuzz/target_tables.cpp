// Tables as text: the oils (first byte even) or prices and stock (odd).
#include <cmath>

#include "batter/oils_table.h"
#include "batter/stock.h"
#include "batter/units.h"
#include "foundation/csv.h"
#include "fuzz_rule.h"

using namespace foreslice;
using namespace foreslice::testing;

namespace {

// A cell that a spreadsheet would take for a formula, that blanks would be taken off, or that begins like the
// mark of a file's byte order, comes back otherwise.
bool comes_back(const std::string& cell) {
    return cell.empty() || (std::string("=+@# \t'\xef").find(cell.front()) == std::string::npos &&
                            cell.back() != ' ' && cell.back() != '\t');
}

void check_rows(const std::string& text) {
    const auto table = taken([&] { return csv_from_text(text, "fuzz"); });
    if (!table) return;
    for (const auto& row : table->rows) {
        must(row.cells.size() == table->header.size(), "every row is as long as the header");
        if (row.cells.size() == 1 && row.cells[0].empty()) continue;  // written, it is an empty line
        bool plain = true;
        for (const auto& cell : row.cells) plain = plain && comes_back(cell);
        if (!plain) continue;
        const auto again = taken([&] { return csv_from_text(csv_line(row.cells), "written"); });
        must(again && again->header == row.cells, "a line that was written is read back the same");
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    const std::string text = bytes_from(data + 1, size - 1);
    check_rows(text);
    if (data[0] % 2 == 0) {
        const auto oils = taken([&] { return batter::OilsTable::parse(text, "fuzz"); });
        for (const auto& oil : oils ? oils->oils() : std::vector<batter::Oil>{})
            must(oil.koh_mg_per_g.low >= batter::possible_koh_mg_per_g.low &&
                     oil.koh_mg_per_g.high <= batter::possible_koh_mg_per_g.high &&
                     oil.koh_mg_per_g.low <= oil.koh_mg_per_g.high,
                 "an oil's range is one that can be");
    } else {
        const auto stock = taken([&] { return batter::Stock::parse(text, "fuzz"); });
        for (const auto& item : stock ? stock->items() : std::vector<batter::StockItem>{}) {
            must(!item.price_per_g || (std::isfinite(*item.price_per_g) && *item.price_per_g >= 0),
                 "a price is a number");
            must(!item.in_stock_g || (std::isfinite(*item.in_stock_g) && *item.in_stock_g >= 0),
                 "a stock is a number");
        }
    }
    return 0;
}
