#include "picture/inclusions.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "foundation/random.h"

namespace foreslice::picture {
namespace {

using design::Embed;
using design::Scattered;

constexpr double sample_mm = 0.5;  // of the map, to be searched
constexpr double near_enough_mm = 0.02;
constexpr int attempts_a_bit = 24;  // at a place that no other bit takes

double share(std::uint64_t seed, std::uint64_t index) {
    return 0.5 * (1 + seeded_uniform(seed, index));
}

Vec2 turned(Vec2 point, double angle_rad) {
    const double c = std::cos(angle_rad), s = std::sin(angle_rad);
    return {c * point.x - s * point.y, s * point.x + c * point.y};
}

Vec2 half_size_of_bit(const PlacedBit& bit) {
    const double c = std::cos(bit.angle_rad), s = std::sin(bit.angle_rad);
    return {0.5 * std::hypot(bit.length_mm * c, bit.width_mm * s),
            0.5 * std::hypot(bit.length_mm * s, bit.width_mm * c)};
}

// Tells whether a bit would lie over one of those already laid.
class Laid {
  public:
    Laid(const flow::Box& box, double most_mm)
        : cell_mm_(std::max(most_mm, 0.5)), columns_(static_cast<int>(box.width_mm / cell_mm_) + 1) {
        cells_.resize(static_cast<std::size_t>(columns_) *
                      (static_cast<std::size_t>(box.height_mm / cell_mm_) + 1));
    }
    bool free(const PlacedBit& bit) const {
        const int u = column(bit), v = row(bit), rows = static_cast<int>(cells_.size()) / columns_;
        for (int j = std::max(0, v - 1); j <= std::min(rows - 1, v + 1); ++j)
            for (int i = std::max(0, u - 1); i <= std::min(columns_ - 1, u + 1); ++i)
                for (const std::uint32_t k : cells_[static_cast<std::size_t>(j * columns_ + i)])
                    if (length(bits_[k].middle_mm - bit.middle_mm) <
                        0.5 * (bits_[k].length_mm + bit.length_mm))
                        return false;
        return true;
    }
    void add(const PlacedBit& bit) {
        cells_[static_cast<std::size_t>(row(bit) * columns_ + column(bit))].push_back(
            static_cast<std::uint32_t>(bits_.size()));
        bits_.push_back(bit);
    }
    const std::vector<PlacedBit>& bits() const { return bits_; }

  private:
    int column(const PlacedBit& bit) const {
        return std::min(static_cast<int>(bit.middle_mm.x / cell_mm_), columns_ - 1);
    }
    int row(const PlacedBit& bit) const {
        return std::min(static_cast<int>(bit.middle_mm.y / cell_mm_),
                        static_cast<int>(cells_.size()) / columns_ - 1);
    }
    double cell_mm_;
    int columns_;
    std::vector<std::vector<std::uint32_t>> cells_;
    std::vector<PlacedBit> bits_;
};

class Layer {
  public:
    Layer(const design::Design& design, const BitGround& ground, bool done)
        : design_(design), ground_(ground), done_(done), carried_(ground.box, ground.map) {}

    std::vector<PlacedBit> all() {
        const auto& inclusions = design_.inclusions;
        for (std::size_t kind = 0; kind < inclusions.scattered.size(); ++kind)
            if (!inclusions.scattered[kind].on_top) scatter(kind);
        for (std::size_t i = 0; i < inclusions.embeds.size(); ++i) embed(i);
        return std::move(bits_);
    }

  private:
    bool wanted(const Scattered& bits, Vec2 poured_mm) const {
        const auto pour = static_cast<std::size_t>(ground_.pour_at(poured_mm));
        if (bits.pour) return static_cast<int>(pour) + 1 == *bits.pour;
        return design_.pours[pour].portion == bits.portion;
    }

    // Candidates evenly over all that was poured, and over the heaps; those in other portions fall away, so
    // that their number on the portion's area comes out as asked.
    void scatter(std::size_t kind) {
        const Scattered& bits = design_.inclusions.scattered[kind];
        const double a = bits.least_mm, b = bits.most_mm;
        const double area_mm2 = std::numbers::pi / 4 * (a * a + a * b + b * b) / 3 * bits.roundness;
        const double per_mm2 = bits.percent ? *bits.percent / 100 / area_mm2 : bits.per_cm2 / 100;
        const std::uint64_t seed =
            mixed_bits(mixed_bits(design_.seed ^ 0xb175) ^
                       mixed_bits(static_cast<std::uint64_t>(std::llround(1000 * ground_.z_mm))) ^ kind);
        const double all_mm2 = ground_.box.width_mm * ground_.box.height_mm;
        Laid laid(ground_.box, bits.most_mm);  // at their origins
        const auto count = static_cast<std::uint64_t>(std::floor(per_mm2 * all_mm2 + share(seed, 0)));
        for (std::uint64_t i = 0; i < count; ++i) {
            PlacedBit bit = bit_of(bits, kind, mixed_bits(seed + 1 + i));
            if (place_apart(bit, bits, laid)) laid.add(bit);
        }
        for (PlacedBit bit : laid.bits()) {
            bit.middle_mm = carried_(bit.middle_mm);
            bit.angle_rad += carried_.turn(bit.middle_mm, bit.length_mm);
            finish(bit, half_size_of_bit(bit));
        }
        if (done_ && ground_.top && !bits.pour) scatter_in_heaps(bits, kind, per_mm2, seed);
    }

    static PlacedBit bit_of(const Scattered& bits, std::size_t kind, std::uint64_t own) {
        PlacedBit bit;
        bit.seed = own;
        bit.kind = kind;
        bit.length_mm = bits.least_mm + (bits.most_mm - bits.least_mm) * share(own, 1);
        bit.width_mm = bit.length_mm * bits.roundness;
        bit.angle_rad = std::numbers::pi * share(own, 2);
        bit.shade = seeded_uniform(own, 3);
        return bit;
    }

    // The first throw decides whether there is a bit in the portion; further ones only keep it from others.
    bool place_apart(PlacedBit& bit, const Scattered& bits, const Laid& others) const {
        for (std::uint64_t attempt = 0; attempt < attempts_a_bit; ++attempt) {
            bit.middle_mm = {ground_.box.width_mm * share(bit.seed, 10 + 2 * attempt),
                             ground_.box.height_mm * share(bit.seed, 11 + 2 * attempt)};
            const bool inside = wanted(bits, bit.middle_mm);
            if (attempt == 0 && !inside) return false;
            if (inside && others.free(bit)) return true;
        }
        return false;
    }

    void scatter_in_heaps(const Scattered& bits, std::size_t kind, double per_mm2, std::uint64_t seed) {
        const FinishedTop& top = *ground_.top;
        const double low = top.felt_from_mm(), high = top.surface().highest_mm();
        const double area_mm2 = top.width_mm() * (high - low);
        const auto count = static_cast<std::uint64_t>(std::floor(per_mm2 * area_mm2 + share(seed, 7)));
        for (std::uint64_t i = 0; i < count; ++i) {
            PlacedBit bit = bit_of(bits, kind, mixed_bits((seed ^ 0x4ea9) + i));
            bit.middle_mm = {top.width_mm() * share(bit.seed, 10), low + (high - low) * share(bit.seed, 11)};
            if (bit.middle_mm.y >= top.surface_mm(bit.middle_mm.x)) continue;
            const auto heap = top.heap_at(bit.middle_mm);
            if (heap && design_.top.spooned[*heap].portion == bits.portion) bits_.push_back(bit);
        }
    }

    void embed(std::size_t index) {
        const Embed& embed = design_.inclusions.embeds[index];
        const bool carried = embed.laid == design::EmbedLaid::before_drawing;
        if (!carried && !done_) return;
        PlacedBit bit;
        bit.kind = design_.inclusions.scattered.size() + index;
        bit.angle_rad = embed.angle_deg * std::numbers::pi / 180;
        bit.middle_mm = embed.at_mm;
        const Vec2 half = design::half_size_mm(embed, embed.angle_deg);
        if (carried) {
            bit.middle_mm = moved_in(bit.middle_mm, half, ground_.box.height_mm);
            carry(bit, half);
        }
        const Vec2 half_now = design::half_size_mm(embed, bit.angle_rad * 180 / std::numbers::pi);
        if (carried) {
            finish(bit, half_now);
        } else {
            bit.middle_mm = moved_in(bit.middle_mm, half_now, 1e9);
            bits_.push_back(bit);
        }
    }

    // The rigid movement nearest to where the flow takes points spread over the piece (least squares).
    void carry(PlacedBit& bit, Vec2 half) const {
        std::vector<Vec2> before{bit.middle_mm};
        for (const double part : {0.4, 0.8})
            for (int k = 0; k < 8; ++k) {
                const Vec2 off = turned({part, 0}, k * std::numbers::pi / 4);
                before.push_back(bit.middle_mm + Vec2{off.x * half.x, off.y * half.y});
            }
        std::vector<Vec2> after;
        Vec2 middle{}, came_from{};
        for (const Vec2 point : before) {
            after.push_back(carried_(point));
            middle += (1.0 / static_cast<double>(before.size())) * after.back();
            came_from += (1.0 / static_cast<double>(before.size())) * point;
        }
        double along = 0, across = 0;
        for (std::size_t i = 0; i < before.size(); ++i) {
            const Vec2 a = before[i] - came_from, b = after[i] - middle;
            along += dot(a, b);
            across += a.x * b.y - a.y * b.x;
        }
        bit.middle_mm = middle;
        bit.angle_rad += std::atan2(across, along);
    }

    Vec2 moved_in(Vec2 at, Vec2 half, double high_mm) const {
        const double wide = ground_.box.width_mm;
        const double x = 2 * half.x > wide ? wide / 2 : std::clamp(at.x, half.x, wide - half.x);
        return {x, std::max(std::min(at.y, high_mm - half.y), half.y)};
    }

    // Into the box, then along with the work on the top, then below its surface.
    void finish(PlacedBit bit, Vec2 half) {
        bit.middle_mm = moved_in(bit.middle_mm, half, ground_.box.height_mm);
        if (done_ && ground_.top) {
            bit.middle_mm = ground_.top->forth(bit.middle_mm);
            double high = ground_.top->surface_mm(bit.middle_mm.x);
            for (const double side : {-1.0, -0.5, 0.5, 1.0})
                high = std::min(high, ground_.top->surface_mm(bit.middle_mm.x + side * half.x));
            bit.middle_mm = moved_in(bit.middle_mm, half, high);
        }
        bits_.push_back(bit);
    }

    const design::Design& design_;
    const BitGround& ground_;
    bool done_;
    Carried carried_;
    std::vector<PlacedBit> bits_;
};

}  // namespace

Carried::Carried(const flow::Box& box, std::shared_ptr<const flow::FlowMap> map)
    : box_(box),
      map_(std::move(map)),
      columns_(std::max(1, static_cast<int>(std::ceil(box.width_mm / sample_mm)))),
      rows_(std::max(1, static_cast<int>(std::ceil(box.height_mm / sample_mm)))) {
    if (!map_) return;
    const double dx = box.width_mm / columns_, dy = box.height_mm / rows_;
    for (int j = 0; j < rows_; ++j)
        for (int i = 0; i < columns_; ++i) points_.push_back({(i + 0.5) * dx, (j + 0.5) * dy});
    origins_ = points_;
    map_->to_origins_mm(origins_.data(), origins_.size());
    near_.resize(points_.size());
    for (std::size_t k = 0; k < origins_.size(); ++k) {
        const int i = std::clamp(static_cast<int>(origins_[k].x / dx), 0, columns_ - 1);
        const int j = std::clamp(static_cast<int>(origins_[k].y / dy), 0, rows_ - 1);
        near_[static_cast<std::size_t>(j * columns_ + i)].push_back(static_cast<std::uint32_t>(k));
    }
}

Vec2 Carried::operator()(Vec2 origin_mm) const {
    if (!map_) return origin_mm;
    const double dx = box_.width_mm / columns_, dy = box_.height_mm / rows_;
    const int u = std::clamp(static_cast<int>(origin_mm.x / dx), 0, columns_ - 1);
    const int v = std::clamp(static_cast<int>(origin_mm.y / dy), 0, rows_ - 1);
    Vec2 at = origin_mm;
    double off = std::numeric_limits<double>::max();
    const int farthest = std::max(columns_, rows_);
    for (int ring = 0; ring <= farthest && off > (ring - 1) * std::min(dx, dy); ++ring)
        for (int j = std::max(0, v - ring); j <= std::min(rows_ - 1, v + ring); ++j)
            for (int i = std::max(0, u - ring); i <= std::min(columns_ - 1, u + ring); ++i) {
                if (std::max(std::abs(i - u), std::abs(j - v)) != ring) continue;
                for (const std::uint32_t k : near_[static_cast<std::size_t>(j * columns_ + i)])
                    if (const double d = length(origins_[k] - origin_mm); d < off) {
                        off = d;
                        at = points_[k];
                    }
            }
    for (double step = 0.5 * sample_mm; step > 0.01 && off > near_enough_mm;) {
        const Vec2 from = at;
        for (const Vec2 way : {Vec2{1, 0}, Vec2{-1, 0}, Vec2{0, 1}, Vec2{0, -1}}) {
            const Vec2 next = from + step * way;
            if (next.x < 0 || next.y < 0 || next.x > box_.width_mm || next.y > box_.height_mm) continue;
            if (const double d = length(map_->origin_mm(next) - origin_mm); d < off) {
                off = d;
                at = next;
            }
        }
        if (at == from) step /= 2;
    }
    return at;
}

// The turn in the polar decomposition of the forward gradient, which is the inverse of the backward map's.
double Carried::turn(Vec2 point_mm, double size_mm) const {
    if (!map_) return 0;
    const double half = std::max(0.15, size_mm / 2);
    const Vec2 across = map_->origin_mm(point_mm + Vec2{half, 0}) - map_->origin_mm(point_mm - Vec2{half, 0});
    const Vec2 up = map_->origin_mm(point_mm + Vec2{0, half}) - map_->origin_mm(point_mm - Vec2{0, half});
    return std::atan2(up.x - across.y, across.x + up.y);
}

std::vector<PlacedBit> bits_on_face(const design::Design& design, const BitGround& ground, bool done) {
    return Layer(design, ground, done).all();
}

}  // namespace foreslice::picture
