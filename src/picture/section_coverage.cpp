#include "picture/section_coverage.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "picture/cover_bands.h"
#include "picture/films.h"
#include "picture/origin_band.h"

namespace foreslice::picture {
namespace {

constexpr int halvings = 6;  // of a sample's piece where its ends differ
constexpr int halvings_when_equal = 1;

// Where neighbouring samples come from places further apart than this on either side, what lies between them
// is unknown: about the thickness of a layer.
constexpr double lost_step_mm = 9;

// Origins that spread less than this over a pixel, and agree with those round it, are taken for one bit.
constexpr double quiet_spread_px = 4;

class IdleMap final : public flow::FlowMap {
  public:
    Vec2 origin_mm(Vec2 point_mm) const override { return point_mm; }
    double path_length_mm() const override { return 0; }
    std::unique_ptr<flow::Instant> at_fraction(double) const override { return nullptr; }
    const flow::SolveReport& report() const override { return report_; }

  private:
    flow::SolveReport report_;
};

// A few rows of a face: origins, and what lies at the origin of each pixel's middle sample.
class Rows {
  public:
    Rows(const Section& section, const flow::OriginRaster& origins, const Band& band)
        : section_(section), origins_(origins), band_(band) {
        const std::size_t count = static_cast<std::size_t>(origins.width_px * band.rows);
        middle_.reserve(count);
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t from = first(i), samples = first(i + 1) - from;
            const int side = lattice_side(samples);
            middle_.push_back(
                section.at(origin(from + static_cast<std::size_t>(side / 2 * side + side / 2))));
        }
    }

    /// Covers pixel (column, row of the band); returns whether its samples are a lottery: at least a quarter
    /// of them are lost.
    bool cover(int column, int row, PixelShares& pixel, std::uint8_t* share) const {
        const std::size_t at = static_cast<std::size_t>(row * origins_.width_px + column);
        if (quiet(column, row)) {
            pixel.write_single(middle_[at].material, share);
            return false;
        }
        pixel.clear();
        const std::size_t from = first(at), to = first(at + 1);
        const int side = lattice_side(to - from);
        std::size_t lost = 0;
        for (std::size_t i = from; i < to; ++i)
            if (!add_sample(from, static_cast<int>(i - from), side, pixel)) ++lost;
        pixel.write(share);
        return 4 * lost >= to - from;
    }

  private:
    std::size_t first(std::size_t pixel) const {
        return origins_.first[static_cast<std::size_t>(band_.first_row * origins_.width_px) + pixel];
    }
    Vec2 origin(std::size_t sample) const {
        return {static_cast<double>(origins_.x_mm[sample]), static_cast<double>(origins_.y_mm[sample])};
    }

    // Whether the pixel and those round it show one bit, and its corners too. Rows beyond the band are judged
    // by the corners alone.
    bool quiet(int column, int row) const {
        const int width = origins_.width_px;
        const Bit own = middle_[static_cast<std::size_t>(row * width + column)];
        for (int v = std::max(0, row - 1); v <= std::min(band_.rows - 1, row + 1); ++v)
            for (int u = std::max(0, column - 1); u <= std::min(width - 1, column + 1); ++u)
                if (!(middle_[static_cast<std::size_t>(v * width + u)] == own)) return false;
        const std::size_t at = static_cast<std::size_t>(row * width + column);
        const std::size_t from = first(at), to = first(at + 1);
        const auto side = static_cast<std::size_t>(lattice_side(to - from));
        const Vec2 top_left = origin(from), low_right = origin(to - 1);
        const Vec2 top_right = origin(from + side - 1), low_left = origin(to - side);
        if (std::max(length(top_left - low_right), length(top_right - low_left)) >
            quiet_spread_px / origins_.px_per_mm)
            return false;
        const bool edge_of_band = row == 0 || row + 1 == band_.rows;
        return !edge_of_band || (section_.at(top_left) == own && section_.at(low_right) == own &&
                                 section_.at(top_right) == own && section_.at(low_left) == own);
    }

    // The shorter of the steps to the neighbours on either side along a line of the lattice: where the map is
    // torn between two samples, the other side tells how it goes on.
    Vec2 step(std::size_t sample, int place, int side, int stride) const {
        const Vec2 here = origin(sample);
        const auto apart = static_cast<std::size_t>(stride);
        Vec2 shortest{1e9, 0};
        if (place + 1 < side) shortest = origin(sample + apart) - here;
        if (place > 0) {
            const Vec2 before = here - origin(sample - apart);
            if (length(before) < length(shortest)) shortest = before;
        }
        return shortest;
    }

    // Returns false for a sample that is lost: it counts for the point alone.
    bool add_sample(std::size_t from, int number, int side, PixelShares& pixel) const {
        const std::size_t sample = from + static_cast<std::size_t>(number);
        const Vec2 here = origin(sample);
        if (side < 2) {
            pixel.add(section_.at(here).material, 1);
            return true;
        }
        const Vec2 across = step(sample, number % side, side, 1);
        const Vec2 down = step(sample, number / side, side, side);
        if (std::max(length(across), length(down)) > lost_step_mm) {
            pixel.add(section_.at(here).material, 1);
            return false;
        }
        const Vec2 falling = across + down, rising = across - down;
        const Vec2 half = 0.5 * (length(falling) > length(rising) ? falling : rising);
        const Vec2 a = here - half, b = here + half;
        add_piece(a, section_.at(a), b, section_.at(b), 1, 0, pixel);
        return true;
    }

    void add_piece(Vec2 a, Bit at_a, Vec2 b, Bit at_b, double weight, int depth, PixelShares& pixel) const {
        if (depth >= (at_a == at_b ? halvings_when_equal : halvings)) {
            pixel.add(at_a.material, 0.5 * weight);
            pixel.add(at_b.material, 0.5 * weight);
            return;
        }
        const Vec2 middle = 0.5 * (a + b);
        const Bit at_middle = section_.at(middle);
        add_piece(a, at_a, middle, at_middle, 0.5 * weight, depth + 1, pixel);
        add_piece(middle, at_middle, b, at_b, 0.5 * weight, depth + 1, pixel);
    }

    const Section& section_;
    const flow::OriginRaster& origins_;
    Band band_;
    std::vector<Bit> middle_;
};

void cover_rows(const Section& section, const flow::OriginRaster& origins, const Band& in_raster,
                PixelShares& pixel, std::uint8_t* share, int materials, std::uint8_t* lottery) {
    const Rows rows(section, origins, in_raster);
    for (int row = 0; row < in_raster.rows; ++row)
        for (int column = 0; column < origins.width_px; ++column, share += materials, ++lottery)
            *lottery = rows.cover(column, row, pixel, share) ? 1 : 0;
}

}  // namespace

Coverage section_coverage(const Section& section, int materials, const flow::OriginRaster& origins,
                          WorkerPool& pool, Progress& progress) {
    const auto width = static_cast<std::size_t>(origins.width_px);
    std::vector<std::uint8_t> lottery(width * static_cast<std::size_t>(origins.height_px));
    const auto work = [&](const Band& band, PixelShares& pixel, std::uint8_t* share) {
        cover_rows(section, origins, band, pixel, share, materials,
                   &lottery[static_cast<std::size_t>(band.first_row) * width]);
    };
    auto coverage = cover_bands(origins.width_px, origins.height_px, materials, origins.px_per_mm,
                                rows_a_band, pool, progress, work);
    settle_films(coverage, lottery, pool);
    return with_areas(std::move(coverage), pool);
}

Coverage section_coverage(const Section& section, int materials, const flow::FlowMap& map, double px_per_mm,
                          int samples_across, WorkerPool& pool, Progress& progress) {
    return section_coverage(section, materials, map,
                            PixelLattice(section.width_mm(), section.height_mm(), px_per_mm), samples_across,
                            pool, progress);
}

Coverage section_coverage(const Section& section, int materials, const flow::FlowMap& map,
                          const PixelLattice& lattice, int samples_across, WorkerPool& pool,
                          Progress& progress) {
    const auto width = static_cast<std::size_t>(lattice.width_px);
    std::vector<std::uint8_t> lottery(width * static_cast<std::size_t>(lattice.height_px));
    const auto work = [&](const Band& band, PixelShares& pixel, std::uint8_t* share) {
        const auto origins = origin_band(map, lattice, band.first_row, band.rows, samples_across);
        cover_rows(section, origins, {0, band.rows}, pixel, share, materials,
                   &lottery[static_cast<std::size_t>(band.first_row) * width]);
    };
    auto coverage = cover_bands(lattice.width_px, lattice.height_px, materials, lattice.px_per_mm,
                                rows_a_band, pool, progress, work);
    settle_films(coverage, lottery, pool);
    return with_areas(std::move(coverage), pool);
}

Coverage section_coverage(const Section& section, int materials, double px_per_mm, int samples_across,
                          WorkerPool& pool, Progress& progress) {
    return section_coverage(section, materials, IdleMap(), px_per_mm, samples_across, pool, progress);
}

}  // namespace foreslice::picture
