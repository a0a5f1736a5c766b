// Seeds, flecks and embeds on a face: where they came to lie, and how they are drawn. Rigid: a bit is carried
// to where the flow takes its middle (or, for an embed, the points of it together) and turned as the flow
// turns it there; its shape stays. What is drawn later lies over what was drawn before.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <vector>

#include "design/design.h"
#include "flow/flow.h"
#include "foundation/vec2.h"
#include "picture/image.h"
#include "picture/top.h"

namespace foreslice::picture {

/// One of them as it lies on a face.
struct PlacedBit {
    Vec2 middle_mm;
    double angle_rad = 0;
    double length_mm = 0, width_mm = 0;  ///< of what is scattered
    double shade = 0;                    ///< -1..1, for small differences between seeds
    std::uint64_t seed = 0;              ///< of a fleck's shape
    std::size_t kind = 0;                ///< index into the scattered, then the embeds
};

/// What has to be known of a section to lay bits into it.
struct BitGround {
    flow::Box box;                               ///< what was poured
    std::function<int(Vec2 poured_mm)> pour_at;  ///< index into Design::pours before the last strokes
    std::shared_ptr<const flow::FlowMap> map;    ///< of the last strokes; null: none
    std::shared_ptr<const FinishedTop> top;      ///< null: flat
    double z_mm = 0;
};

/// In the order in which they are drawn. Seeded: the same design has the same bits at the same place along
/// the loaf. Bits that would reach into a wall, the floor or the air are moved in. `done`: false leaves out
/// what comes after the last strokes, the work on the top and embeds that are laid in then.
std::vector<PlacedBit> bits_on_face(const design::Design& design, const BitGround& ground, bool done);

/// Draws bits over a face whose lower left corner is the box's; `colours`: of the scattered, then the embeds.
/// Only where there is soap. Returns how much of the soap they cover, percent.
double draw_bits(Image& face, const std::vector<PlacedBit>& bits, const design::Design& design,
                 const std::vector<colour::LinearSrgb>& colours, double px_per_mm);

/// The place that the flow takes a point to: the inverse of a backward map, by search.
class Carried {
  public:
    Carried(const flow::Box& box, std::shared_ptr<const flow::FlowMap> map);
    Vec2 operator()(Vec2 origin_mm) const;
    /// By what angle (rad) the map turns a bit of this size that ends at a point.
    double turn(Vec2 point_mm, double size_mm) const;

  private:
    flow::Box box_;
    std::shared_ptr<const flow::FlowMap> map_;
    int columns_, rows_;
    std::vector<Vec2> points_, origins_;
    std::vector<std::vector<std::uint32_t>> near_;  ///< samples by the cell that their origins lie in
};

}  // namespace foreslice::picture
