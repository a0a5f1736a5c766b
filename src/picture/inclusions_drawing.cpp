#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include "foundation/random.h"
#include "picture/draw.h"
#include "picture/inclusions.h"

namespace foreslice::picture {
namespace {

constexpr int fleck_corners = 5;

// Positive outside; exact on the outline and nearly so around it.
double outside_ellipse(Vec2 at, double a, double b) {
    const double size = std::hypot(at.x / a, at.y / b);
    if (size < 1e-9) return -std::min(a, b);
    const double slope = std::hypot(at.x / (a * a), at.y / (b * b)) / size;
    return (size - 1) / slope;
}

/// A shred: a convex shape of five corners, as long and wide as asked.
class Fleck {
  public:
    explicit Fleck(const PlacedBit& bit) {
        for (int k = 0; k < fleck_corners; ++k) {
            const auto corner = static_cast<std::uint64_t>(k);
            const double angle =
                2 * std::numbers::pi * (k + 0.32 * seeded_uniform(bit.seed, 30 + corner)) / fleck_corners;
            corners_[corner] = {0.5 * bit.length_mm * std::cos(angle), 0.5 * bit.width_mm * std::sin(angle)};
        }
    }
    double outside(Vec2 at) const {
        double most = -1e9;
        for (std::size_t k = 0; k < fleck_corners; ++k) {
            const Vec2 a = corners_[k], along = corners_[(k + 1) % fleck_corners] - a;
            const Vec2 outward{along.y / length(along), -along.x / length(along)};
            most = std::max(most, dot(at - a, outward));
        }
        return most;
    }

  private:
    std::array<Vec2, fleck_corners> corners_;
};

struct Outline {
    std::function<double(Vec2)> outside_mm;  ///< of a point from the bit's middle, turned back
    Vec2 half_mm;                            ///< of the upright box round it
};

Outline outline_of(const PlacedBit& bit, const design::Design& design) {
    const auto& inclusions = design.inclusions;
    if (bit.kind >= inclusions.scattered.size()) {
        const design::Embed& embed = inclusions.embeds[bit.kind - inclusions.scattered.size()];
        const Vec2 half = design::half_size_mm(embed, bit.angle_rad * 180 / std::numbers::pi);
        if (embed.shape == design::EmbedShape::curve)
            return {[line = design::middle_line_mm(embed), thick = embed.height_mm / 2](Vec2 at) {
                        return design::distance_to_line_mm(line, at) - thick;
                    },
                    half};
        return {[&embed](Vec2 at) { return design::outside_mm(embed, at); }, half};
    }
    const double reach = 0.5 * bit.length_mm;
    if (inclusions.scattered[bit.kind].shape == design::BitShape::fleck)
        return {[fleck = Fleck(bit)](Vec2 at) { return fleck.outside(at); }, {reach, reach}};
    return {[bit](Vec2 at) { return outside_ellipse(at, bit.length_mm / 2, bit.width_mm / 2); },
            {reach, reach}};
}

colour::LinearSrgb shaded(const colour::LinearSrgb& own, double shade) {
    const double f = 1 + 0.16 * shade;
    return {std::min(1.0, own.r * f), std::min(1.0, own.g * f), std::min(1.0, own.b * f)};
}

// Draws one bit and keeps track of how much of every pixel is covered.
void draw_bit(Image& face, const PlacedBit& bit, const design::Design& design, const colour::LinearSrgb& own,
              double px_per_mm, std::vector<float>& covered) {
    const Outline outline = outline_of(bit, design);
    const Vec2 middle{bit.middle_mm.x * px_per_mm, face.height_px - bit.middle_mm.y * px_per_mm};
    const Vec2 half = px_per_mm * outline.half_mm + Vec2{1, 1};
    const double c = std::cos(bit.angle_rad), s = std::sin(bit.angle_rad);
    const auto light = shaded(own, bit.shade);
    const int top = std::max(0, static_cast<int>(std::floor(middle.y - half.y)));
    const int bottom = std::min(face.height_px - 1, static_cast<int>(middle.y + half.y));
    const int left = std::max(0, static_cast<int>(std::floor(middle.x - half.x)));
    const int right = std::min(face.width_px - 1, static_cast<int>(middle.x + half.x));
    for (int y = top; y <= bottom; ++y)
        for (int x = left; x <= right; ++x) {
            const double dx = (x + 0.5 - middle.x) / px_per_mm, dy = (middle.y - y - 0.5) / px_per_mm;
            const double outside = outline.outside_mm({c * dx + s * dy, -s * dx + c * dy});
            const double cover = std::clamp(0.5 - outside * px_per_mm, 0.0, 1.0);
            if (cover <= 0) continue;
            const auto at = static_cast<std::size_t>(y) * static_cast<std::size_t>(face.width_px) +
                            static_cast<std::size_t>(x);
            const std::uint8_t soap = face.rgba[4 * at + 3];
            if (soap == 0) continue;
            face.rgba[4 * at + 3] = 255;  // within the soap's part of the pixel
            blend(face, x, y, light, cover);
            face.rgba[4 * at + 3] = soap;
            covered[at] = static_cast<float>(1 - (1 - covered[at]) * (1 - cover));
        }
}

}  // namespace

double draw_bits(Image& face, const std::vector<PlacedBit>& bits, const design::Design& design,
                 const std::vector<colour::LinearSrgb>& colours, double px_per_mm) {
    if (bits.empty()) return 0;
    std::vector<float> covered(static_cast<std::size_t>(face.width_px) *
                               static_cast<std::size_t>(face.height_px));
    for (const PlacedBit& bit : bits) draw_bit(face, bit, design, colours[bit.kind], px_per_mm, covered);
    double sum = 0, soap = 0;
    for (std::size_t at = 0; at < covered.size(); ++at) {
        const double here = face.rgba[4 * at + 3] / 255.0;
        soap += here;
        sum += here * static_cast<double>(covered[at]);
    }
    return soap > 0 ? 100 * sum / soap : 0;
}

}  // namespace foreslice::picture
