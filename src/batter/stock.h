// Prices and stock: a maker's own table, what a soap costs, and what runs short.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace foreslice::batter {

/// Ids of what is neither an oil, a colourant nor an additive.
inline constexpr std::string_view naoh_id = "sodium-hydroxide", koh_id = "potassium-hydroxide",
                                  fragrance_id = "fragrance";

struct StockItem {
    std::string item;                     ///< id of an oil, a colourant, an additive, or one of the above
    std::optional<double> in_stock_g{};   ///< empty: not said
    std::optional<double> price_per_g{};  ///< in the maker's own money; empty: not said
};

class Stock {
  public:
    /// A table (CSV) with the columns item, in_stock, price, for: "olive", "5 kg", "7.20", "1 kg". Stock and
    /// price may be empty; masses take g, kg, oz or lb. The price's column may name the money: "price (EUR)".
    /// Throws InputError naming file, line, what is wrong and what is allowed.
    static Stock load(const std::filesystem::path& path);
    static Stock parse(std::string_view csv, const std::string& file);

    const StockItem* find(std::string_view item) const;  ///< nullptr when absent
    const std::vector<StockItem>& items() const { return items_; }
    const std::string& money() const { return money_; }  ///< "EUR"; empty when not named

  private:
    std::vector<StockItem> items_;
    std::string money_;
};

/// Something that is needed.
struct Need {
    std::string item;  ///< id
    std::string name;  ///< for people
    double g = 0;
};

struct CostLine {
    std::string item, name;
    double g = 0;
    std::optional<double> cost{};  ///< empty: no price known
    std::optional<double> in_stock_g{};
    double short_g = 0;  ///< 0 when there is enough or the stock is not known
};
struct Cost {
    std::vector<CostLine> lines;  ///< one an item, in the order of first need
    double total = 0;             ///< of what has a price
    bool complete = true;         ///< everything has a price
};
/// Needs of the same item are added up.
Cost cost_of(const std::vector<Need>& needs, const Stock& stock);

}  // namespace foreslice::batter
