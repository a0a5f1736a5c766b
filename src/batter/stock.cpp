#include "batter/stock.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "batter/units.h"
#include "foundation/csv.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

namespace foreslice::batter {
namespace {

constexpr double most_money = 1e9;

/// "price" or "price (EUR)"; header.size() when there is none.
std::size_t price_column(const CsvTable& table, std::string& money) {
    for (std::size_t i = 0; i < table.header.size(); ++i) {
        const std::string& name = table.header[i];
        if (name == "price") return i;
        if (name.starts_with("price (") && name.ends_with(")") && name.size() <= 20) {
            money = name.substr(7, name.size() - 8);
            return i;
        }
    }
    return table.header.size();
}

std::optional<double> money_from(const std::string& cell) {
    double value = 0;
    const auto read = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    const bool good =
        read.ec == std::errc{} && read.ptr == cell.data() + cell.size() && value >= 0 && value <= most_money;
    return good ? std::optional(value) : std::nullopt;
}

}  // namespace

Stock Stock::load(const std::filesystem::path& path) {
    return parse(read_file(path), path.string());
}

Stock Stock::parse(std::string_view csv, const std::string& file) {
    const CsvTable table = csv_from_text(csv, file);
    Stock stock;
    const std::size_t columns = table.header.size();
    const std::size_t item = table.column("item"), in_stock = table.column("in_stock"),
                      price = price_column(table, stock.money_), amount = table.column("for");
    if (item == columns || in_stock == columns || price == columns || amount == columns)
        throw InputError(file, "header", "a column is missing", "item, in_stock, price, for");
    for (const CsvTable::Row& row : table.rows) {
        const auto fail = [&](const std::string& column, const std::string& cell,
                              const std::string& allowed) {
            throw InputError(file, "line " + std::to_string(row.line) + ", " + column,
                             foreslice::quoted(cell) + " cannot be understood", allowed);
        };
        StockItem line{row.cells[item]};
        if (line.item.empty()) fail("item", "", "the id of an oil, a colourant or an additive");
        if (stock.find(line.item) != nullptr) fail("item", line.item, "every item once");
        if (const std::string& cell = row.cells[in_stock]; !cell.empty()) {
            line.in_stock_g = g_from_text(cell);
            if (!line.in_stock_g) fail("in_stock", cell, "a mass such as 2.5 kg, 400 g, 16 oz or 3 lb");
        }
        if (const std::string& cell = row.cells[price]; !cell.empty()) {
            const auto money = money_from(cell);
            if (!money) fail("price", cell, "an amount of money without its sign, 0 or more");
            const auto mass = g_from_text(row.cells[amount]);
            if (!mass || *mass <= 0)
                fail("for", row.cells[amount], "the mass that the price is for, such as 1 kg");
            line.price_per_g = *money / *mass;
        }
        stock.items_.push_back(std::move(line));
    }
    return stock;
}

const StockItem* Stock::find(std::string_view item) const {
    const auto found = std::find_if(items_.begin(), items_.end(),
                                    [item](const StockItem& line) { return line.item == item; });
    return found == items_.end() ? nullptr : &*found;
}

Cost cost_of(const std::vector<Need>& needs, const Stock& stock) {
    Cost cost;
    for (const Need& need : needs) {
        const auto found = std::find_if(cost.lines.begin(), cost.lines.end(),
                                        [&](const CostLine& line) { return line.item == need.item; });
        if (found != cost.lines.end())
            found->g += need.g;
        else
            cost.lines.push_back({need.item, need.name, need.g, {}, {}, 0});
    }
    for (CostLine& line : cost.lines) {
        const StockItem* item = stock.find(line.item);
        if (item != nullptr && item->price_per_g) line.cost = line.g * *item->price_per_g;
        if (item != nullptr && item->in_stock_g) {
            line.in_stock_g = item->in_stock_g;
            line.short_g = std::max(0.0, line.g - *item->in_stock_g);
        }
        if (line.cost) cost.total += *line.cost;
        cost.complete = cost.complete && line.cost.has_value();
    }
    return cost;
}

}  // namespace foreslice::batter
