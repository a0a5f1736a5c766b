// Feathers: pieces of a portion far from where it was poured, told apart by flooding.
#include <algorithm>
#include <array>
#include <limits>

#include "picture/measure_parts.h"

namespace foreslice::picture {
namespace {

constexpr int bridged_cells = 2;  // gaps that do not part a feather

// Distance (in thirds of a cell) from the cells of one portion, by the 3-4 chamfer in two sweeps (Borgefors
// 1986, from memory): at most 8 % off.
class Distances {
  public:
    Distances(const PortionLattice& cells, int portion)
        : width_(cells.width), height_(cells.height), far_(cells.portion.size()) {
        for (std::size_t at = 0; at < far_.size(); ++at)
            far_[at] = cells.portion[at] == portion ? 0 : unreached;
        for (int y = 0; y < height_; ++y)
            for (int x = 0; x < width_; ++x) relax(x, y, -1);
        for (int y = height_ - 1; y >= 0; --y)
            for (int x = width_ - 1; x >= 0; --x) relax(x, y, 1);
    }
    int at(std::size_t cell) const { return far_[cell]; }
    static constexpr int unreached = std::numeric_limits<int>::max() / 2;

  private:
    void relax(int x, int y, int ahead) {
        int& own = far_[index(x, y)];
        own = std::min({own, from(x + ahead, y) + 3, from(x, y + ahead) + 3, from(x + ahead, y + ahead) + 4,
                        from(x - ahead, y + ahead) + 4});
    }
    int from(int x, int y) const {
        return x < 0 || y < 0 || x >= width_ || y >= height_ ? unreached : far_[index(x, y)];
    }
    std::size_t index(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x);
    }

    int width_, height_;
    std::vector<int> far_;
};

class Tongues {
  public:
    Tongues(const PortionLattice& cells, const PortionLattice& poured, int portion)
        : cells_(cells), portion_(portion), distances_(poured, portion), open_(cells.portion.size()) {
        const auto away = static_cast<int>(feather_start_mm / cells.step_mm.x * 3);
        for (std::size_t at = 0; at < open_.size(); ++at)
            open_[at] = cells.portion[at] == portion_ && distances_.at(at) > away ? 1 : 0;
    }

    int count() {
        const double cell_mm2 = cells_.step_mm.x * cells_.step_mm.y;
        int found = 0;
        for (std::size_t at = 0; at < open_.size(); ++at) {
            if (!open_[at]) continue;
            const Piece piece = flood(at);
            if (piece.reach * cells_.step_mm.x / 3 >= feather_reach_mm &&
                static_cast<double>(piece.cells) * cell_mm2 >= feather_area_mm2)
                ++found;
        }
        return found;
    }

  private:
    struct Piece {
        std::size_t cells = 0;
        int reach = 0;
    };

    // Takes the piece of open cells round one out of the map.
    Piece flood(std::size_t start) {
        Piece piece;
        waiting_.assign(1, start);
        open_[start] = 0;
        while (!waiting_.empty()) {
            const std::size_t at = waiting_.back();
            waiting_.pop_back();
            ++piece.cells;
            piece.reach = std::max(piece.reach, distances_.at(at));
            const int x = static_cast<int>(at % static_cast<std::size_t>(cells_.width));
            const int y = static_cast<int>(at / static_cast<std::size_t>(cells_.width));
            for (int v = std::max(0, y - bridged_cells); v <= std::min(cells_.height - 1, y + bridged_cells);
                 ++v)
                for (int u = std::max(0, x - bridged_cells);
                     u <= std::min(cells_.width - 1, x + bridged_cells); ++u)
                    take(static_cast<std::size_t>(v) * static_cast<std::size_t>(cells_.width) +
                         static_cast<std::size_t>(u));
        }
        return piece;
    }
    void take(std::size_t at) {
        if (!open_[at]) return;
        open_[at] = 0;
        waiting_.push_back(at);
    }

    const PortionLattice& cells_;
    int portion_;
    Distances distances_;
    std::vector<std::uint8_t> open_;  ///< cells that may still begin or continue a feather
    std::vector<std::size_t> waiting_;
};

std::uint8_t most_common(const PortionLattice& lattice, std::size_t column, std::size_t row) {
    const auto side = static_cast<std::size_t>(lattice.side), width = static_cast<std::size_t>(lattice.width);
    std::array<std::uint16_t, 256> counts{};
    std::uint8_t best = 255;
    const auto each = [&](auto&& visit) {
        for (std::size_t q = 0; q < side; ++q)
            for (std::size_t p = 0; p < side; ++p)
                visit(lattice.portion[(row * side + q) * width + column * side + p]);
    };
    each([&](std::uint8_t portion) { ++counts[portion]; });
    std::uint16_t most = 0;
    each([&](std::uint8_t portion) {
        if (counts[portion] > most || (counts[portion] == most && portion < best)) {
            most = counts[portion];
            best = portion;
        }
    });
    return best;
}

}  // namespace

PortionLattice cells_of(const PortionLattice& lattice, WorkerPool& pool) {
    PortionLattice cells;
    cells.width = lattice.width / lattice.side;
    cells.height = lattice.height / lattice.side;
    cells.portions = lattice.portions;
    cells.step_mm = static_cast<double>(lattice.side) * lattice.step_mm;
    const auto width = static_cast<std::size_t>(cells.width);
    cells.portion.resize(width * static_cast<std::size_t>(cells.height));
    pool.parallel_for(static_cast<std::size_t>(cells.height), [&](std::size_t row) {
        for (std::size_t column = 0; column < width; ++column)
            cells.portion[row * width + column] = most_common(lattice, column, row);
    });
    return cells;
}

std::vector<int> feathers_of(const PortionLattice& face, const PortionLattice& poured, WorkerPool& pool) {
    const PortionLattice cells = cells_of(face, pool), before = cells_of(poured, pool);
    std::vector<int> counts(static_cast<std::size_t>(face.portions));
    pool.parallel_for(counts.size(), [&](std::size_t portion) {
        counts[portion] = Tongues(cells, before, static_cast<int>(portion)).count();
    });
    return counts;
}

}  // namespace foreslice::picture
