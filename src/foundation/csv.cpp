#include "foundation/csv.h"

#include <algorithm>

#include "foundation/error.h"

namespace foreslice {
namespace {

constexpr std::size_t most_rows = 10000;

std::string trimmed(const std::string& text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string::npos) return "";
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

class Reader {
  public:
    Reader(std::string_view text, const std::string& file) : text_(text), file_(file) {
        if (text_.starts_with("\xef\xbb\xbf")) at_ = 3;  // a byte order mark
    }

    bool next(CsvTable::Row& row) {
        while (at_ < text_.size() && (text_[at_] == '#' || at_line_end())) skip_line();
        if (at_ >= text_.size()) return false;
        row = {line_, {}};
        do row.cells.push_back(cell());
        while (took_comma_);
        return true;
    }

  private:
    bool at_line_end() const { return text_[at_] == '\n' || text_[at_] == '\r'; }

    /// To the next line, whichever way its end is written: some programs still write a lone CR.
    void skip_line() {
        while (at_ < text_.size() && !at_line_end()) ++at_;
        if (text_.substr(at_, 2) == "\r\n") ++at_;
        if (at_ < text_.size()) ++at_;
        ++line_;
    }

    /// Takes what ends a cell along.
    void end_cell() {
        took_comma_ = at_ < text_.size() && text_[at_] == ',';
        if (took_comma_)
            ++at_;
        else
            skip_line();
    }

    std::string cell() {
        while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\t')) ++at_;
        if (at_ < text_.size() && text_[at_] == '"') return quoted_cell();
        const std::size_t start = at_;
        while (at_ < text_.size() && text_[at_] != ',' && !at_line_end()) ++at_;
        std::string out = trimmed(std::string(text_.substr(start, at_ - start)));
        end_cell();
        return out;
    }

    std::string quoted_cell() {
        const int started = line_;
        std::string out;
        for (++at_; at_ < text_.size(); ++at_) {
            if (text_[at_] == '"') {
                if (at_ + 1 >= text_.size() || text_[at_ + 1] != '"') break;
                ++at_;
            }
            if (text_[at_] == '\n') ++line_;
            out += text_[at_];
        }
        if (at_ >= text_.size())
            throw InputError(file_, "line " + std::to_string(started),
                             "a quotation mark opens and never closes", "cells in pairs of quotation marks");
        ++at_;
        while (at_ < text_.size() && text_[at_] != ',' && !at_line_end()) ++at_;
        end_cell();
        return out;
    }

    std::string_view text_;
    const std::string& file_;
    std::size_t at_ = 0;
    int line_ = 1;
    bool took_comma_ = false;
};

}  // namespace

std::size_t CsvTable::column(std::string_view name) const {
    return static_cast<std::size_t>(std::find(header.begin(), header.end(), name) - header.begin());
}

CsvTable csv_from_text(std::string_view text, const std::string& file) {
    Reader reader(text, file);
    CsvTable table;
    CsvTable::Row row;
    if (!reader.next(row))
        throw InputError(file, "", "holds no table", "a line with the names of the columns");
    table.header = row.cells;
    while (reader.next(row)) {
        const std::string place = "line " + std::to_string(row.line);
        if (row.cells.size() != table.header.size())
            throw InputError(file, place, "has " + std::to_string(row.cells.size()) + " cells",
                             std::to_string(table.header.size()) + ", as the header");
        if (table.rows.size() == most_rows)
            throw InputError(file, place, "is one row too many", "at most " + std::to_string(most_rows));
        table.rows.push_back(row);
    }
    return table;
}

namespace {

/// In quotation marks where a comma, a mark or a line end asks for them (RFC 4180, 2.6 and 2.7).
void append_cell(std::string& line, const std::string& cell) {
    // A table program would take a text that begins like this for a formula.
    const bool guarded = !cell.empty() && (cell[0] == '=' || cell[0] == '+' || cell[0] == '@');
    const bool quoted = cell.find_first_of(",\"\r\n") != std::string::npos;
    if (quoted) line += '"';
    if (guarded) line += '\'';
    for (const char c : cell) {
        if (c == '"') line += '"';
        line += c;
    }
    if (quoted) line += '"';
}

}  // namespace

std::string csv_line(const std::vector<std::string>& cells) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        if (i > 0) line += ',';
        append_cell(line, cells[i]);
    }
    line += '\n';
    return line;
}

}  // namespace foreslice
