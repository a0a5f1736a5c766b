#include "picture/coverage.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

namespace foreslice::picture {
namespace {

constexpr int columns_a_pixel = 4;

// Collects the weights of one pixel's portions and writes them as bytes that add up to 255.
class PixelShares {
  public:
    explicit PixelShares(int portions) : weight_(static_cast<std::size_t>(portions)) {}

    void clear() { std::fill(weight_.begin(), weight_.end(), 0.0); }
    void add(int portion, double weight) { weight_[static_cast<std::size_t>(portion)] += weight; }

    void write_single(int portion, std::uint8_t* share) const {
        std::fill(share, share + weight_.size(), std::uint8_t{0});
        share[portion] = 255;
    }
    // Largest remainders: round down, then give the codes left over to those that lost most.
    void write(std::uint8_t* share) {
        const double total = std::accumulate(weight_.begin(), weight_.end(), 0.0);
        int given = 0;
        for (std::size_t i = 0; i < weight_.size(); ++i) {
            const double exact = 255 * weight_[i] / total;
            share[i] = static_cast<std::uint8_t>(std::clamp(std::floor(exact), 0.0, 255.0));
            given += share[i];
            weight_[i] = exact - share[i];
        }
        for (; given < 255; ++given) {
            const auto most = std::max_element(weight_.begin(), weight_.end());
            ++share[most - weight_.begin()];
            *most = -1;
        }
    }

  private:
    std::vector<double> weight_;
};

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

// The height among the origins that one of n samples stands for. n samples on a square lattice span
// (1 - 1/sqrt n) of the pixel, so a smooth map spreads them over (sqrt n - 1) times a sample's own height.
double height_of_one_sample(const Extent& e, std::size_t samples) {
    const double gaps = std::sqrt(static_cast<double>(samples)) - 1;
    return gaps > 0 ? static_cast<double>(e.y_high - e.y_low) / std::max(1.0, gaps) : 0.0;
}

void cover_pixel(const LayerStack& stack, const flow::OriginRaster& origins, std::size_t at,
                 PixelShares& pixel, std::uint8_t* share) {
    const std::size_t from = origins.first[at], to = origins.first[at + 1];
    const Extent e = extent_of(origins, from, to);
    const double half = 0.5 * height_of_one_sample(e, to - from);
    // Edges rise by at most `slack` within the pixel's origins; beyond that all samples see one layer.
    const double x_middle = 0.5 * static_cast<double>(e.x_low + e.x_high);
    const double slack = half + 0.5 * stack.steepest_slope() * static_cast<double>(e.x_high - e.x_low);
    const int lowest = stack.layer_at({x_middle, static_cast<double>(e.y_low) - slack});
    if (lowest == stack.layer_at({x_middle, static_cast<double>(e.y_high) + slack})) {
        pixel.write_single(stack.portion_of_layer(lowest), share);
        return;
    }
    pixel.clear();
    for (std::size_t i = from; i < to; ++i) {
        const auto y = static_cast<double>(origins.y_mm[i]);
        add_piece(stack, static_cast<double>(origins.x_mm[i]), y - half, y + half, 1, pixel);
    }
    pixel.write(share);
}

void cover_poured_pixel(const LayerStack& stack, double left_mm, double bottom_mm, double size_mm,
                        PixelShares& pixel, std::uint8_t* share) {
    pixel.clear();
    const double bottom = std::clamp(bottom_mm, 0.0, stack.height_mm());
    const double top = std::clamp(bottom_mm + size_mm, 0.0, stack.height_mm());
    for (int column = 0; column < columns_a_pixel; ++column)
        add_piece(stack, left_mm + size_mm * (column + 0.5) / columns_a_pixel, bottom, top, 1, pixel);
    pixel.write(share);
}

using RowWork = std::function<void(int row, PixelShares& pixel, std::uint8_t* share)>;

// Rows are independent; what they add to the areas is whole numbers, so the order does not matter.
Coverage cover_rows(int width_px, int height_px, int portions, double px_per_mm, WorkerPool& pool,
                    Progress& progress, const RowWork& work) {
    Coverage out;
    out.width_px = width_px;
    out.height_px = height_px;
    out.portions = portions;
    out.px_per_mm = px_per_mm;
    const auto row_bytes = static_cast<std::size_t>(width_px) * static_cast<std::size_t>(portions);
    const auto rows = static_cast<std::size_t>(height_px), kinds = static_cast<std::size_t>(portions);
    out.share.resize(rows * row_bytes);
    std::vector<std::uint64_t> sums(rows * kinds);
    progress.begin_stage("laying the layers along the flow", height_px);
    pool.parallel_for(rows, [&](std::size_t row) {
        PixelShares pixel(portions);
        std::uint8_t* share = &out.share[row * row_bytes];
        work(static_cast<int>(row), pixel, share);
        for (std::size_t i = 0; i < row_bytes; ++i) sums[row * kinds + i % kinds] += share[i];
        progress.advance();
    });
    const double all = 255.0 * width_px * height_px;
    for (std::size_t kind = 0; kind < kinds; ++kind) {
        std::uint64_t sum = 0;
        for (std::size_t row = 0; row < rows; ++row) sum += sums[row * kinds + kind];
        out.area_percent.push_back(100 * static_cast<double>(sum) / all);
    }
    return out;
}

// One row of pixels sampled straight from the map on a square lattice in each pixel.
flow::OriginRaster sampled_row(const flow::FlowMap& map, int row, int width_px, double height_mm,
                               double px_per_mm, int across) {
    flow::OriginRaster out;
    out.width_px = width_px;
    out.height_px = 1;
    out.px_per_mm = px_per_mm;
    const double step_mm = 1 / (px_per_mm * across);
    for (int column = 0; column < width_px; ++column) {
        out.first.push_back(static_cast<std::uint32_t>(out.x_mm.size()));
        for (int i = 0; i < across * across; ++i) {
            const Vec2 point{column / px_per_mm + (i % across + 0.5) * step_mm,
                             height_mm - row / px_per_mm - (i / across + 0.5) * step_mm};
            const Vec2 origin = map.origin_mm(point);
            out.x_mm.push_back(static_cast<float>(origin.x));
            out.y_mm.push_back(static_cast<float>(origin.y));
        }
    }
    out.first.push_back(static_cast<std::uint32_t>(out.x_mm.size()));
    return out;
}

}  // namespace

int pixels_over(double length_mm, double px_per_mm) {
    return std::max(1, static_cast<int>(std::lround(length_mm * px_per_mm)));
}

Coverage poured_coverage(const LayerStack& stack, int portions, double px_per_mm, WorkerPool& pool,
                         Progress& progress) {
    const int width = pixels_over(stack.width_mm(), px_per_mm);
    const int height = pixels_over(stack.height_mm(), px_per_mm);
    const double size_mm = 1 / px_per_mm;
    return cover_rows(width, height, portions, px_per_mm, pool, progress,
                      [&](int row, PixelShares& pixel, std::uint8_t* share) {
                          const double bottom = stack.height_mm() - (row + 1) * size_mm;
                          for (int column = 0; column < width; ++column)
                              cover_poured_pixel(stack, column * size_mm, bottom, size_mm, pixel,
                                                 share + column * portions);
                      });
}

Coverage carried_coverage(const LayerStack& stack, int portions, const flow::OriginRaster& origins,
                          WorkerPool& pool, Progress& progress) {
    return cover_rows(origins.width_px, origins.height_px, portions, origins.px_per_mm, pool, progress,
                      [&](int row, PixelShares& pixel, std::uint8_t* share) {
                          const std::size_t start =
                              static_cast<std::size_t>(row) * static_cast<std::size_t>(origins.width_px);
                          for (int column = 0; column < origins.width_px; ++column)
                              cover_pixel(stack, origins, start + static_cast<std::size_t>(column), pixel,
                                          share + column * portions);
                      });
}

Coverage carried_coverage(const LayerStack& stack, int portions, const flow::FlowMap& map, double px_per_mm,
                          int samples_across, WorkerPool& pool, Progress& progress) {
    const int width = pixels_over(stack.width_mm(), px_per_mm);
    const int height = pixels_over(stack.height_mm(), px_per_mm);
    return cover_rows(width, height, portions, px_per_mm, pool, progress,
                      [&](int row, PixelShares& pixel, std::uint8_t* share) {
                          const auto origins =
                              sampled_row(map, row, width, stack.height_mm(), px_per_mm, samples_across);
                          for (int column = 0; column < width; ++column)
                              cover_pixel(stack, origins, static_cast<std::size_t>(column), pixel,
                                          share + column * portions);
                      });
}

}  // namespace foreslice::picture
