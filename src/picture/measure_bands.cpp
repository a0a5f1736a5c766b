// Chords by run lengths: once along the rows, once down the columns, no search.
#include <algorithm>
#include <cmath>

#include "picture/measure_parts.h"

namespace foreslice::picture {
namespace {

constexpr double bin_mm = 0.01;
constexpr std::size_t columns_a_task = 64;  // one cache line of portions

using Counts = std::vector<std::uint32_t>;

// Length of the horizontal run of equal portions through every point, in points.
std::vector<std::uint16_t> row_runs(const PortionLattice& face, WorkerPool& pool) {
    const auto width = static_cast<std::size_t>(face.width);
    std::vector<std::uint16_t> runs(face.portion.size());
    pool.parallel_for(static_cast<std::size_t>(face.height), [&](std::size_t row) {
        const std::uint8_t* portion = &face.portion[row * width];
        for (std::size_t start = 0, end = 0; start < width; start = end) {
            while (end < width && portion[end] == portion[start]) ++end;
            std::fill(&runs[row * width + start], &runs[row * width] + end,
                      static_cast<std::uint16_t>(std::min<std::size_t>(end - start, 65535)));
        }
    });
    return runs;
}

class Columns {
  public:
    Columns(const PortionLattice& face, const std::vector<std::uint16_t>& runs, std::size_t bins,
            std::vector<std::uint8_t>& muddy)
        : face_(face),
          runs_(runs),
          muddy_(muddy),
          width_(static_cast<std::size_t>(face.width)),
          bins_(bins) {}

    /// Thickness counts of the columns from `first` to before `last`; marks what is muddy.
    Counts count(std::size_t first, std::size_t last) const {
        Counts counts(bins_);
        std::vector<std::size_t> start(last - first, 0);
        const auto height = static_cast<std::size_t>(face_.height);
        for (std::size_t row = 1; row <= height; ++row)
            for (std::size_t column = first; column < last; ++column) {
                std::size_t& from = start[column - first];
                if (row < height &&
                    face_.portion[row * width_ + column] == face_.portion[(row - 1) * width_ + column])
                    continue;
                close_run(column, from, row, counts);
                from = row;
            }
        return counts;
    }

  private:
    void close_run(std::size_t column, std::size_t from, std::size_t to, Counts& counts) const {
        const double v = static_cast<double>(to - from) * face_.step_mm.y;
        for (std::size_t row = from; row < to; ++row) {
            const std::size_t at = row * width_ + column;
            const double h = runs_[at] * face_.step_mm.x;
            const double thickness = h * v / std::sqrt(h * h + v * v);
            ++counts[std::min(bins_ - 1, static_cast<std::size_t>(thickness / bin_mm))];
            muddy_[at] = thickness < resolved_mm ? 1 : 0;
        }
    }

    const PortionLattice& face_;
    const std::vector<std::uint16_t>& runs_;
    std::vector<std::uint8_t>& muddy_;
    std::size_t width_, bins_;
};

// Thickness below which a share of the area lies: the middle of its bin.
double percentile_mm(const std::vector<std::uint64_t>& counts, double total, double share) {
    double below = 0;
    for (std::size_t bin = 0; bin < counts.size(); ++bin) {
        below += static_cast<double>(counts[bin]);
        if (below >= share * total) return (static_cast<double>(bin) + 0.5) * bin_mm;
    }
    return static_cast<double>(counts.size()) * bin_mm;
}

}  // namespace

BandWidths band_widths(const PortionLattice& face, WorkerPool& pool) {
    BandWidths out;
    out.muddy.resize(face.portion.size());
    const auto runs = row_runs(face, pool);
    const double longest_mm = std::max(face.width * face.step_mm.x, face.height * face.step_mm.y);
    const auto bins = static_cast<std::size_t>(longest_mm / bin_mm) + 2;
    const Columns columns(face, runs, bins, out.muddy);
    const auto width = static_cast<std::size_t>(face.width);
    const std::size_t tasks = (width + columns_a_task - 1) / columns_a_task;
    std::vector<Counts> parts(tasks);
    pool.parallel_for(tasks, [&](std::size_t task) {
        parts[task] = columns.count(task * columns_a_task, std::min(width, (task + 1) * columns_a_task));
    });
    std::vector<std::uint64_t> counts(bins);
    for (const Counts& part : parts)
        for (std::size_t bin = 0; bin < bins; ++bin) counts[bin] += part[bin];
    const auto total = static_cast<double>(face.portion.size());
    out.median_mm = percentile_mm(counts, total, 0.5);
    out.fine_mm = percentile_mm(counts, total, 0.1);
    std::uint64_t muddy = 0;
    for (const std::uint8_t flag : out.muddy) muddy += flag;
    out.muddy_percent = 100 * static_cast<double>(muddy) / total;
    return out;
}

}  // namespace foreslice::picture
