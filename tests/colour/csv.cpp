#include "colour/csv.h"

#include <fstream>
#include <sstream>
#include <stdexcept>

namespace foreslice::testing {
namespace {

std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> cells;
    std::istringstream stream(line);
    for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
    return cells;
}

}  // namespace

Csv::Csv(const std::filesystem::path& path) {
    std::ifstream file(path);
    if (!file) throw std::runtime_error("cannot open " + path.string());
    for (std::string line; std::getline(file, line);) {
        if (!line.empty() && line.back() == '\r') line.pop_back();
        if (line.empty() || line[0] == '#') continue;
        std::vector<std::string> cells = split(line);
        if (columns_.empty())
            for (std::size_t i = 0; i < cells.size(); ++i) columns_[cells[i]] = i;
        else
            cells_.push_back(std::move(cells));
    }
}

const std::string& Csv::text(std::size_t row, const std::string& column) const {
    const auto found = columns_.find(column);
    if (found == columns_.end()) throw std::runtime_error("no column " + column);
    return cells_.at(row).at(found->second);
}

double Csv::number(std::size_t row, const std::string& column) const {
    return std::stod(text(row, column));
}

std::string reflectance_column(int lambda_nm) {
    return std::string("R").append(std::to_string(lambda_nm));
}

}  // namespace foreslice::testing
