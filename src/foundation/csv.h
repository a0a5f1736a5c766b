// Tables as text, comma separated (RFC 4180), with lines that start with # left out.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace foreslice {

struct CsvTable {
    struct Row {
        int line = 0;  ///< of the file, 1-based, for error sentences
        std::vector<std::string> cells;
    };
    std::vector<std::string> header;
    std::vector<Row> rows;

    /// Index of a column, or header.size() when there is none of that name.
    std::size_t column(std::string_view name) const;
};

/// Throws InputError for a table without a header, a quotation that never ends, a row that has not as many
/// cells as the header, and more than 10,000 rows. Blanks round unquoted cells are taken off.
CsvTable csv_from_text(std::string_view text, const std::string& file);

/// One line, quoted where need be, with a line feed. Cells that a spreadsheet would take for a formula get an
/// apostrophe in front.
std::string csv_line(const std::vector<std::string>& cells);

}  // namespace foreslice
