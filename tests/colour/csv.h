// Just enough CSV for our data files: '#' lines are comments, the first other line names the columns, no
// quotes.
#pragma once

#include <cstddef>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace foreslice::testing {

class Csv {
  public:
    /// Throws std::runtime_error when the file or a column is not there.
    explicit Csv(const std::filesystem::path& path);

    std::size_t rows() const { return cells_.size(); }
    const std::string& text(std::size_t row, const std::string& column) const;
    double number(std::size_t row, const std::string& column) const;

  private:
    std::map<std::string, std::size_t> columns_;
    std::vector<std::vector<std::string>> cells_;
};

/// "R550": how our files name the column of a reflectance.
std::string reflectance_column(int lambda_nm);

}  // namespace foreslice::testing
