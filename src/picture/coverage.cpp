#include "picture/coverage.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "picture/cover_bands.h"
#include "picture/films.h"
#include "picture/origin_band.h"

namespace foreslice::picture {
namespace {

constexpr int columns_a_pixel = 4;

// Where neighbouring samples come from heights further apart than this on either side, what lies between them
// is unknown: about the thickness of a layer.
constexpr float lost_step_mm = 9;

// Shares out the piece [bottom, top] of a vertical line at x among the layers it crosses.
void add_piece(const LayerStack& stack, double x_mm, double bottom_mm, double top_mm, double weight,
               PixelShares& pixel) {
    const int first = stack.layer_at({x_mm, bottom_mm}), last = stack.layer_at({x_mm, top_mm});
    if (first == last || top_mm <= bottom_mm) {
        pixel.add(stack.portion_of_layer(first), weight);
        return;
    }
    double from = bottom_mm;
    for (int layer = first; layer <= last; ++layer) {
        const double edge = layer == last ? top_mm : std::min(stack.top_edge_mm(layer, x_mm), top_mm);
        if (edge <= from) continue;
        pixel.add(stack.portion_of_layer(layer), weight * (edge - from) / (top_mm - bottom_mm));
        from = edge;
    }
}

struct Extent {
    float x_low, x_high, y_low, y_high;
};

Extent extent_of(const flow::OriginRaster& origins, std::size_t from, std::size_t to) {
    Extent e{origins.x_mm[from], origins.x_mm[from], origins.y_mm[from], origins.y_mm[from]};
    for (std::size_t i = from + 1; i < to; ++i) {
        e.x_low = std::min(e.x_low, origins.x_mm[i]);
        e.x_high = std::max(e.x_high, origins.x_mm[i]);
        e.y_low = std::min(e.y_low, origins.y_mm[i]);
        e.y_high = std::max(e.y_high, origins.y_mm[i]);
    }
    return e;
}

// The smaller of the steps to the neighbours on either side along a line of the lattice: where the map is
// torn between two samples, the other side tells how it goes on.
float smaller_step(const float* at, int place, int side, int stride) {
    const float after = place + 1 < side ? std::abs(at[stride] - at[0]) : 1e9F;
    const float before = place > 0 ? std::abs(at[-stride] - at[0]) : 1e9F;
    return std::min(after, before);
}

// How far the origin moves over the sample's own part of the pixel, across it and down it.
struct Steps {
    float across_mm = 0, down_mm = 0;
    /// Half of the height that the sample stands for; nothing beyond the point itself where it is lost.
    double half_height_mm() const { return lost() ? 0 : 0.5 * static_cast<double>(across_mm + down_mm); }
    bool lost() const { return std::max(across_mm, down_mm) > lost_step_mm; }
};

Steps steps_of(const float* y_mm, int sample, int side) {
    if (side < 2) return {};
    return {smaller_step(y_mm + sample, sample % side, side, 1),
            smaller_step(y_mm + sample, sample / side, side, side)};
}

// Returns whether the pixel's samples are a lottery: at least a quarter of them are lost.
bool cover_pixel(const LayerStack& stack, const flow::OriginRaster& origins, std::size_t at,
                 PixelShares& pixel, std::uint8_t* share) {
    const std::size_t from = origins.first[at], to = origins.first[at + 1];
    const Extent e = extent_of(origins, from, to);
    const int side = lattice_side(to - from);
    // Edges rise by at most the slope times the width of the pixel's origins, and no sample's part reaches
    // further than its step; beyond that all of the pixel sees one layer.
    const double x_middle = 0.5 * static_cast<double>(e.x_low + e.x_high);
    const double slack = static_cast<double>(e.y_high - e.y_low) / std::max(1, side - 1) +
                         0.5 * stack.steepest_slope() * static_cast<double>(e.x_high - e.x_low);
    const int lowest = stack.layer_at({x_middle, static_cast<double>(e.y_low) - slack});
    if (lowest == stack.layer_at({x_middle, static_cast<double>(e.y_high) + slack})) {
        pixel.write_single(stack.portion_of_layer(lowest), share);
        return false;
    }
    pixel.clear();
    std::size_t lost = 0;
    for (std::size_t i = from; i < to; ++i) {
        const auto y = static_cast<double>(origins.y_mm[i]);
        const Steps steps = steps_of(&origins.y_mm[from], static_cast<int>(i - from), side);
        const double half = steps.half_height_mm();
        if (steps.lost()) ++lost;
        add_piece(stack, static_cast<double>(origins.x_mm[i]), y - half, y + half, 1, pixel);
    }
    pixel.write(share);
    return 4 * lost >= to - from;
}

void cover_poured_pixel(const LayerStack& stack, Vec2 low_corner_mm, Vec2 size_mm, PixelShares& pixel,
                        std::uint8_t* share) {
    pixel.clear();
    for (int column = 0; column < columns_a_pixel; ++column)
        add_piece(stack, low_corner_mm.x + size_mm.x * (column + 0.5) / columns_a_pixel, low_corner_mm.y,
                  low_corner_mm.y + size_mm.y, 1, pixel);
    pixel.write(share);
}

}  // namespace

Coverage poured_coverage(const LayerStack& stack, int portions, double px_per_mm, WorkerPool& pool,
                         Progress& progress) {
    const PixelLattice lattice(stack.width_mm(), stack.height_mm(), px_per_mm);
    const auto work = [&](const Band& band, PixelShares& pixel, std::uint8_t* share) {
        for (int column = 0; column < lattice.width_px; ++column)
            cover_poured_pixel(stack, lattice.point_mm(column, band.first_row + 1), lattice.size_mm, pixel,
                               share + column * portions);
    };
    return with_areas(
        cover_bands(lattice.width_px, lattice.height_px, portions, px_per_mm, 1, pool, progress, work), pool);
}

Coverage carried_coverage(const LayerStack& stack, int portions, const flow::OriginRaster& origins,
                          WorkerPool& pool, Progress& progress) {
    const auto width = static_cast<std::size_t>(origins.width_px);
    std::vector<std::uint8_t> lottery(width * static_cast<std::size_t>(origins.height_px));
    const auto work = [&](const Band& band, PixelShares& pixel, std::uint8_t* share) {
        const std::size_t start = static_cast<std::size_t>(band.first_row) * width;
        for (std::size_t at = start; at < start + width; ++at, share += portions)
            lottery[at] = cover_pixel(stack, origins, at, pixel, share);
    };
    auto coverage = cover_bands(origins.width_px, origins.height_px, portions, origins.px_per_mm, 1, pool,
                                progress, work);
    settle_films(coverage, lottery, pool);
    return with_areas(std::move(coverage), pool);
}

Coverage carried_coverage(const LayerStack& stack, int portions, const flow::FlowMap& map, double px_per_mm,
                          int samples_across, WorkerPool& pool, Progress& progress) {
    return carried_coverage(stack, portions, map,
                            PixelLattice(stack.width_mm(), stack.height_mm(), px_per_mm), samples_across,
                            pool, progress);
}

Coverage carried_coverage(const LayerStack& stack, int portions, const flow::FlowMap& map,
                          const PixelLattice& lattice, int samples_across, WorkerPool& pool,
                          Progress& progress) {
    const auto width = static_cast<std::size_t>(lattice.width_px);
    std::vector<std::uint8_t> lottery(width * static_cast<std::size_t>(lattice.height_px));
    const auto work = [&](const Band& band, PixelShares& pixel, std::uint8_t* share) {
        const auto origins = origin_band(map, lattice, band.first_row, band.rows, samples_across);
        const std::size_t start = static_cast<std::size_t>(band.first_row) * width;
        for (std::size_t at = 0; at < width * static_cast<std::size_t>(band.rows); ++at, share += portions)
            lottery[start + at] = cover_pixel(stack, origins, at, pixel, share);
    };
    auto coverage = cover_bands(lattice.width_px, lattice.height_px, portions, lattice.px_per_mm, rows_a_band,
                                pool, progress, work);
    settle_films(coverage, lottery, pool);
    return with_areas(std::move(coverage), pool);
}

}  // namespace foreslice::picture
