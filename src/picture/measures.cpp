#include "picture/measures.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <utility>

#include "picture/measure_parts.h"
#include "picture/origin_band.h"

namespace foreslice::picture {
namespace {

// Lengths of a digital boundary by steps along and across the lattice, without bias for directions (Vossepoel
// and Smeulders 1982, from memory).
constexpr double straight_step = 0.948, corner_step = 1.340 / 2;

PortionLattice empty_lattice(const flow::Box& box, double px_per_mm, int side, int portions) {
    const PixelLattice pixels(box.width_mm, box.height_mm, px_per_mm);
    PortionLattice out;
    out.side = side;
    out.width = pixels.width_px * out.side;
    out.height = pixels.height_px * out.side;
    out.portions = portions;
    out.step_mm = (1.0 / out.side) * pixels.size_mm;
    out.portion.resize(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
    return out;
}

// Boundary lengths of each pair of portions, in steps, gathered over rows of blocks of 2 x 2 points.
class Borders {
  public:
    Borders(const PortionLattice& face, const std::vector<std::uint8_t>& muddy)
        : face_(face), muddy_(muddy), width_(static_cast<std::size_t>(face.width)) {}

    struct Counts {
        std::uint32_t straight = 0, corners = 0;
    };
    using Pairs = std::map<std::pair<int, int>, Counts>;

    void count_row(std::size_t row, Pairs& pairs) const {
        const std::uint8_t *above = &face_.portion[row * width_], *below = above + width_;
        for (std::size_t x = 0; x + 1 < width_; ++x) {
            if (above[x] == above[x + 1] && above[x] == below[x] && above[x] == below[x + 1]) continue;
            if (!seen(row, x)) continue;
            count_block(above[x], above[x + 1], below[x], below[x + 1], pairs);
        }
    }

  private:
    bool seen(std::size_t row, std::size_t x) const {
        const std::size_t at = row * width_ + x;
        return !(muddy_[at] || muddy_[at + 1] || muddy_[at + width_] || muddy_[at + width_ + 1]);
    }
    static Counts& of(Pairs& pairs, int a, int b) { return pairs[{std::min(a, b), std::max(a, b)}]; }

    // a b
    // c d
    static void count_block(int a, int b, int c, int d, Pairs& pairs) {
        if (a == d && b == c) {
            of(pairs, a, b).corners += 2;
        } else if (a == b && c == d) {
            ++of(pairs, a, c).straight;
        } else if (a == c && b == d) {
            ++of(pairs, a, b).straight;
        } else {
            // A corner, or three portions that meet: every point that differs from both its neighbours is cut
            // off by a corner's length from each of them, half of it where they differ.
            cut_off(a, b, c, pairs);
            cut_off(b, a, d, pairs);
            cut_off(c, a, d, pairs);
            cut_off(d, b, c, pairs);
        }
    }
    static void cut_off(int own, int one, int other, Pairs& pairs) {
        if (own != one && own != other && one == other) ++of(pairs, own, one).corners;
    }

    const PortionLattice& face_;
    const std::vector<std::uint8_t>& muddy_;
    std::size_t width_;
};

std::vector<FaceMeasures::Boundary> boundaries_of(const PortionLattice& face,
                                                  const std::vector<std::uint8_t>& muddy,
                                                  const std::vector<colour::Lab>& labs, WorkerPool& pool) {
    const Borders borders(face, muddy);
    constexpr std::size_t rows_a_task = 32;
    const std::size_t rows = face.height > 1 ? static_cast<std::size_t>(face.height) - 1 : 0;
    std::vector<Borders::Pairs> parts((rows + rows_a_task - 1) / rows_a_task);
    pool.parallel_for(parts.size(), [&](std::size_t task) {
        for (std::size_t row = task * rows_a_task; row < std::min(rows, (task + 1) * rows_a_task); ++row)
            borders.count_row(row, parts[task]);
    });
    Borders::Pairs all;
    for (const auto& part : parts)
        for (const auto& [pair, counts] : part) {
            all[pair].straight += counts.straight;
            all[pair].corners += counts.corners;
        }
    std::vector<FaceMeasures::Boundary> out;
    const double step_mm = std::sqrt(face.step_mm.x * face.step_mm.y);
    for (const auto& [pair, counts] : all)
        out.push_back({pair.first, pair.second,
                       step_mm * (straight_step * counts.straight + corner_step * counts.corners),
                       colour::ciede2000(labs[static_cast<std::size_t>(pair.first)],
                                         labs[static_cast<std::size_t>(pair.second)])});
    std::stable_sort(out.begin(), out.end(),
                     [](const auto& a, const auto& b) { return a.length_mm > b.length_mm; });
    return out;
}

// Twice the points of a cell that have no partner in the mirrored one.
int unmatched(const PortionLattice& face, std::size_t row, std::size_t column,
              std::array<int, 256>& balance) {
    const auto side = static_cast<std::size_t>(face.side), width = static_cast<std::size_t>(face.width);
    const auto each = [&](auto&& visit) {
        for (std::size_t q = 0; q < side; ++q)
            for (std::size_t p = 0; p < side; ++p) {
                const std::uint8_t* line = &face.portion[(row * side + q) * width];
                visit(line[column * side + p], line[width - 1 - column * side - p]);
            }
    };
    each([&](std::uint8_t here, std::uint8_t there) {
        ++balance[here];
        --balance[there];
    });
    int sum = 0;
    each([&](std::uint8_t here, std::uint8_t there) {
        for (const std::uint8_t portion : {here, there}) sum += std::abs(std::exchange(balance[portion], 0));
    });
    return sum;
}

double symmetry_of(const PortionLattice& face, WorkerPool& pool) {
    const auto side = static_cast<std::size_t>(face.side);
    const std::size_t rows = static_cast<std::size_t>(face.height) / side;
    const std::size_t columns = static_cast<std::size_t>(face.width) / side;
    std::vector<std::int64_t> unlike(rows);
    pool.parallel_for(rows, [&](std::size_t row) {
        std::array<int, 256> balance{};
        for (std::size_t column = 0; column < columns; ++column)
            unlike[row] += unmatched(face, row, column, balance);
    });
    std::int64_t sum = 0;
    for (const auto part : unlike) sum += part;
    return 1 - 0.5 * static_cast<double>(sum) / static_cast<double>(face.portion.size());
}

std::vector<double> face_percents(const PortionLattice& face) {
    std::array<std::uint64_t, 256> counts{};
    for (const std::uint8_t portion : face.portion) ++counts[portion];
    std::vector<double> percents;
    for (std::size_t portion = 0; portion < static_cast<std::size_t>(face.portions); ++portion)
        percents.push_back(100 * static_cast<double>(counts[portion]) /
                           static_cast<double>(face.portion.size()));
    return percents;
}

void weigh_contrasts(FaceMeasures& out) {
    double length_mm = 0, sum = 0;
    bool any = false;
    for (const auto& boundary : out.boundaries) {
        length_mm += boundary.length_mm;
        sum += boundary.length_mm * boundary.de00;
        if (boundary.length_mm < least_boundary_mm) continue;
        out.least_contrast_de00 = any ? std::min(out.least_contrast_de00, boundary.de00) : boundary.de00;
        any = true;
    }
    if (length_mm > 0) out.mean_contrast_de00 = sum / length_mm;
}

}  // namespace

PortionLattice drawn_lattice(const flow::OriginRaster& origins, const flow::Box& box, int portions,
                             const PortionAt& portion_at, WorkerPool& pool) {
    PortionLattice out = empty_lattice(box, origins.px_per_mm, points_a_pixel, portions);
    const auto width = static_cast<std::size_t>(out.width);
    constexpr std::size_t side = points_a_pixel;
    pool.parallel_for(static_cast<std::size_t>(origins.height_px), [&](std::size_t row) {
        for (std::size_t column = 0; column < width / side; ++column) {
            const std::size_t pixel = row * (width / side) + column;
            const std::size_t first = origins.first[pixel], samples = origins.first[pixel + 1] - first;
            const auto across =
                static_cast<std::size_t>(std::lround(std::sqrt(static_cast<double>(samples))));
            for (std::size_t q = 0; q < side; ++q)
                for (std::size_t p = 0; p < side; ++p) {
                    const std::size_t at = first + (q * across / side) * across + p * across / side;
                    const Vec2 origin{static_cast<double>(origins.x_mm[at]),
                                      static_cast<double>(origins.y_mm[at])};
                    out.portion[(row * side + q) * width + column * side + p] =
                        static_cast<std::uint8_t>(portion_at(origin));
                }
        }
    });
    return out;
}

PortionLattice poured_lattice(const flow::Box& box, double px_per_mm, int side, int portions,
                              const PortionAt& portion_at, WorkerPool& pool) {
    PortionLattice out = empty_lattice(box, px_per_mm, side, portions);
    const auto width = static_cast<std::size_t>(out.width);
    pool.parallel_for(static_cast<std::size_t>(out.height), [&](std::size_t row) {
        const double y_mm = box.height_mm - (static_cast<double>(row) + 0.5) * out.step_mm.y;
        for (std::size_t column = 0; column < width; ++column)
            out.portion[row * width + column] = static_cast<std::uint8_t>(
                portion_at({(static_cast<double>(column) + 0.5) * out.step_mm.x, y_mm}));
    });
    return out;
}

FaceMeasures measured(const PortionLattice& face, const PortionLattice& poured,
                      const std::vector<double>& poured_percent, const std::vector<colour::Lab>& labs,
                      WorkerPool& pool) {
    FaceMeasures out;
    const BandWidths bands = band_widths(face, pool);
    out.median_thickness_mm = bands.median_mm;
    out.fine_thickness_mm = bands.fine_mm;
    out.muddy_percent = bands.muddy_percent;
    const auto percents = face_percents(face);
    const auto feathers = feathers_of(face, poured, pool);
    for (std::size_t portion = 0; portion < percents.size(); ++portion) {
        out.portions.push_back({poured_percent[portion], percents[portion], feathers[portion]});
        out.feathers += feathers[portion];
    }
    out.symmetry = symmetry_of(face, pool);
    out.boundaries = boundaries_of(face, bands.muddy, labs, pool);
    weigh_contrasts(out);
    out.lattice_mm = std::max(face.step_mm.x, face.step_mm.y);
    return out;
}

}  // namespace foreslice::picture
