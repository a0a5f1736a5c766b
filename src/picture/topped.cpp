#include "picture/topped.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include "picture/shares.h"

namespace foreslice::picture {
namespace {

constexpr int edge_columns = 8;  // of a pixel, for the silhouette: exact in height
constexpr int heap_samples = 6;  // a side, of a pixel on a heap's border
constexpr int below_all = -1;

class ToppedMap final : public flow::FlowMap {
  public:
    ToppedMap(std::shared_ptr<const flow::FlowMap> map, std::shared_ptr<const FinishedTop> top)
        : map_(std::move(map)), top_(std::move(top)) {}
    Vec2 origin_mm(Vec2 point_mm) const override {
        const Vec2 drawn = top_->back(point_mm);
        return map_ ? map_->origin_mm(drawn) : drawn;
    }
    void to_origins_mm(Vec2* points_mm, std::size_t count) const override {
        for (std::size_t k = 0; k < count; ++k) points_mm[k] = top_->back(points_mm[k]);
        if (map_) map_->to_origins_mm(points_mm, count);
    }
    double path_length_mm() const override { return map_ ? map_->path_length_mm() : 0; }
    std::unique_ptr<flow::Instant> at_fraction(double fraction) const override {
        return map_ ? map_->at_fraction(fraction) : nullptr;
    }
    const flow::SolveReport& report() const override { return map_ ? map_->report() : idle_; }

  private:
    std::shared_ptr<const flow::FlowMap> map_;
    std::shared_ptr<const FinishedTop> top_;
    flow::SolveReport idle_;
};

class Finisher {
  public:
    Finisher(const FinishedTop& top, const std::vector<int>& materials, const PixelLattice& lattice)
        : top_(top), materials_(materials), lattice_(lattice) {}

    /// How much of a pixel is soap, 0..1.
    double soap(int column, int row) const {
        const double low = lattice_.point_mm(column, row + 1).y;
        double sum = 0;
        for (int i = 0; i < edge_columns; ++i) {
            const double x = (column + (i + 0.5) / edge_columns) * lattice_.size_mm.x;
            sum += std::clamp((top_.surface_mm(x) - low) / lattice_.size_mm.y, 0.0, 1.0);
        }
        return sum / edge_columns;
    }

    /// Mixes heaps into the shares of a pixel.
    void add_heaps(int column, int row, PixelShares& pixel, std::uint8_t* share, int kinds) const {
        const int first = heap(column, row, 0.5, 0.5);
        bool same = true;
        for (const double s : {0.0, 1.0})
            for (const double t : {0.0, 1.0}) same = same && heap(column, row, s, t) == first;
        if (same) {
            if (first != below_all) pixel.write_single(first, share);
            return;
        }
        pixel.clear();
        for (int k = 0; k < heap_samples * heap_samples; ++k) {
            const int right = k % heap_samples, up = k / heap_samples;
            const int material = heap(column, row, (right + 0.5) / heap_samples, (up + 0.5) / heap_samples);
            if (material != below_all)
                pixel.add(material, 255);
            else
                for (int kind = 0; kind < kinds; ++kind) pixel.add(kind, share[kind]);
        }
        pixel.write(share);
    }

  private:
    // Points in the air count for the surface below them.
    int heap(int column, int row, double s, double t) const {
        Vec2 at = lattice_.point_mm(column + s, row + t);
        at.y = std::min(at.y, top_.surface_mm(at.x) - 1e-6);
        const auto found = top_.heap_at(at);
        return found ? materials_[*found] : below_all;
    }

    const FinishedTop& top_;
    const std::vector<int>& materials_;
    const PixelLattice& lattice_;
};

// Whole numbers in a fixed order: the same on any number of threads.
std::vector<double> areas_of(const Coverage& face) {
    const auto kinds = static_cast<std::size_t>(face.portions);
    std::vector<std::uint64_t> sums(kinds);
    std::uint64_t all = 0;
    for (std::size_t at = 0; at < face.solid.size(); ++at)
        for (std::size_t k = 0; k < kinds; ++k) {
            const std::uint64_t seen = std::uint64_t{face.share[at * kinds + k]} * face.solid[at];
            sums[k] += seen;
            all += seen;
        }
    std::vector<double> percent;
    percent.reserve(sums.size());
    for (const std::uint64_t sum : sums)
        percent.push_back(100 * static_cast<double>(sum) /
                          static_cast<double>(std::max<std::uint64_t>(all, 1)));
    return percent;
}

}  // namespace

std::shared_ptr<const flow::FlowMap> topped(std::shared_ptr<const flow::FlowMap> map,
                                            std::shared_ptr<const FinishedTop> top) {
    return std::make_shared<ToppedMap>(std::move(map), std::move(top));
}

PixelLattice lattice_with_top(const FinishedTop& top, double px_per_mm, double high_mm) {
    PixelLattice lattice(top.width_mm(), top.rest_mm(), px_per_mm);
    const int above = std::max(0, static_cast<int>(std::ceil((high_mm - top.rest_mm()) / lattice.size_mm.y)));
    lattice.height_px += above;
    lattice.box_height_mm = top.rest_mm() + above * lattice.size_mm.y;
    return lattice;
}

Coverage with_top(Coverage below, const FinishedTop& top, const std::vector<int>& material_of_heap,
                  const PixelLattice& lattice, WorkerPool& pool) {
    const auto width = static_cast<std::size_t>(below.width_px),
               kinds = static_cast<std::size_t>(below.portions);
    below.above_px =
        lattice.height_px - PixelLattice(top.width_mm(), top.rest_mm(), below.px_per_mm).height_px;
    below.solid.assign(width * static_cast<std::size_t>(below.height_px), 255);
    const Finisher finisher(top, material_of_heap, lattice);
    const double lowest_mm = std::min(top.felt_from_mm(), top.surface().lowest_mm());
    const int rows =
        std::clamp(static_cast<int>(std::ceil((lattice.box_height_mm - lowest_mm) / lattice.size_mm.y)), 0,
                   below.height_px);
    pool.parallel_for(static_cast<std::size_t>(rows), [&](std::size_t row) {
        PixelShares pixel(below.portions);
        for (int column = 0; column < below.width_px; ++column) {
            const std::size_t at = row * width + static_cast<std::size_t>(column);
            below.solid[at] =
                static_cast<std::uint8_t>(std::lround(255 * finisher.soap(column, static_cast<int>(row))));
            if (lattice.point_mm(0, static_cast<double>(row)).y >= top.heaps_from_mm())
                finisher.add_heaps(column, static_cast<int>(row), pixel, &below.share[at * kinds],
                                   below.portions);
        }
    });
    below.area_percent = areas_of(below);
    return below;
}

}  // namespace foreslice::picture
