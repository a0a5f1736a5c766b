#include "batter/oils_table.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "foundation/csv.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

namespace foreslice::batter {
namespace {

constexpr std::array kinds{OilKind::oil, OilKind::butter, OilKind::fat, OilKind::wax};

/// One row by the names of its columns.
class Cells {
  public:
    Cells(const CsvTable& table, const CsvTable::Row& row, const std::string& file)
        : table_(table), row_(row), file_(file) {}

    [[noreturn]] void fail(const std::string& column, const std::string& problem,
                           const std::string& allowed) const {
        throw InputError(file_, "line " + std::to_string(row_.line) + ", " + column, problem, allowed);
    }
    const std::string& text(std::string_view column) const { return row_.cells[table_.column(column)]; }
    std::string id() const {
        const std::string& id = text("id");
        const bool good =
            !id.empty() && id.size() <= 64 && id.find_first_not_of(letters) == std::string::npos;
        if (!good) fail("id", foreslice::quoted(id) + " is no id", "1 to 64 letters, digits, - and _");
        return id;
    }
    double number(const std::string& column, Span allowed) const {
        const std::string& cell = text(column);
        double value = 0;
        const auto read = std::from_chars(cell.data(), cell.data() + cell.size(), value);
        const bool good = read.ec == std::errc{} && read.ptr == cell.data() + cell.size() &&
                          value >= allowed.low && value <= allowed.high;
        if (!good)
            fail(column, foreslice::quoted(cell) + " is no such value",
                 plain_number(allowed.low) + " to " + plain_number(allowed.high));
        return value;
    }
    Span span(const std::string& of_what, Span allowed, bool may_be_empty) const {
        const std::string low = of_what + "_low", high = of_what + "_high";
        if (may_be_empty && text(low).empty() && text(high).empty()) return {};
        const Span span{number(low, allowed), number(high, allowed)};
        if (span.low > span.high) fail(low, "the low end lies above the high end", "low, then high");
        return span;
    }
    OilKind kind() const {
        for (const OilKind kind : kinds)
            if (text("kind") == name_of(kind)) return kind;
        fail("kind", foreslice::quoted(text("kind")) + " is no kind", "oil, butter, fat or wax");
    }

  private:
    static constexpr const char* letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    const CsvTable& table_;
    const CsvTable::Row& row_;
    const std::string& file_;
};

Oil oil_of(const Cells& cells) {
    Oil oil;
    oil.id = cells.id();
    oil.name = cells.text("name").empty() ? oil.id : cells.text("name");
    oil.inci = cells.text("inci");
    oil.koh_mg_per_g = cells.span("koh", possible_koh_mg_per_g, false);
    oil.iodine = cells.span("iodine", {0, 250}, true);
    oil.melts_c = cells.span("melts", {-40, 120}, true);
    oil.kind = cells.kind();
    oil.source = cells.text("source");
    oil.how_known = cells.text("how_known");
    return oil;
}

}  // namespace

OilsTable OilsTable::load(const std::filesystem::path& path) {
    return parse(read_file(path), path.string());
}

OilsTable OilsTable::parse(std::string_view csv, const std::string& file) {
    const CsvTable table = csv_from_text(csv, file);
    for (const char* column : {"id", "name", "inci", "koh_low", "koh_high", "iodine_low", "iodine_high",
                               "melts_low", "melts_high", "kind", "source", "how_known"})
        if (table.column(column) == table.header.size())
            throw InputError(
                file, "header", "there is no column " + foreslice::quoted(column),
                "id, name, inci, koh_low, koh_high, iodine_low, iodine_high, melts_low, melts_high, "
                "kind, source, how_known");
    OilsTable out;
    for (const CsvTable::Row& row : table.rows) {
        const Cells cells(table, row, file);
        Oil oil = oil_of(cells);
        if (out.find(oil.id) != nullptr)
            cells.fail("id", foreslice::quoted(oil.id) + " stands twice", "every id once");
        out.oils_.push_back(std::move(oil));
    }
    return out;
}

const Oil* OilsTable::find(std::string_view id) const {
    const auto found =
        std::find_if(oils_.begin(), oils_.end(), [id](const Oil& oil) { return oil.id == id; });
    return found == oils_.end() ? nullptr : &*found;
}

std::string OilsTable::some_ids() const {
    std::string out;
    for (std::size_t i = 0; i < oils_.size() && i < 6; ++i) out += (i == 0 ? "" : ", ") + oils_[i].id;
    return out;
}

std::string_view name_of(OilKind kind) {
    switch (kind) {
        case OilKind::butter:
            return "butter";
        case OilKind::fat:
            return "fat";
        case OilKind::wax:
            return "wax";
        case OilKind::oil:
            break;
    }
    return "oil";
}

}  // namespace foreslice::batter
