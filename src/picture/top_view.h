// The top of a bar as it is seen from in front and a little above: heights, materials and flakes over the
// area from the cut face to the bar's back.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

#include "design/design.h"
#include "foundation/vec2.h"
#include "foundation/worker_pool.h"
#include "picture/image.h"
#include "picture/top.h"

namespace foreslice::picture {

/// One flake of glitter.
struct Flake {
    double x_mm = 0;
    double depth_mm = 0;  ///< behind the cut face; flakes that the cut meets lie up to a radius before it
    double radius_mm = 0;
    double glint = 0;      ///< 0..1: how it happens to lie; near 1 it mirrors the light
    std::size_t kind = 0;  ///< index into Top::glitter
};

/// One seed on the top.
struct TopSeed {
    double x_mm = 0, depth_mm = 0;
    double length_mm = 0, width_mm = 0, angle_rad = 0;
    double shade = 0;      ///< -1..1, for small differences between seeds
    std::size_t kind = 0;  ///< index into Inclusions::scattered
};

struct TopView {
    std::size_t columns = 0, rows = 0;   ///< nodes from wall to wall, and from the front to the back
    double column_mm = 0, row_mm = 0;    ///< between nodes
    std::vector<float> height_mm;        ///< [row * columns + column], from the floor
    std::vector<std::uint8_t> material;  ///< the same: what lies at the surface
    std::vector<Flake> flakes;           ///< ordered by depth, the farthest first
    std::vector<TopSeed> seeds;          ///< the same

    double depth_mm() const { return row_mm * static_cast<double>(rows - 1); }
    double height_at_mm(double x_mm, double depth_mm) const;
};

/// How high above the floor (mm) things on the top appear in the picture: so much more for every mm that they
/// lie behind the cut face.
double rise_per_depth(double thickness_mm);

/// The flakes and seeds over the top from `from_mm` to `to_mm` along the loaf, their depths from `front_mm`.
/// Seeded: one place on a loaf always has the same.
std::vector<Flake> flakes_over(const design::Design& design, double from_mm, double to_mm, double front_mm);
std::vector<TopSeed> seeds_over(const design::Design& design, double from_mm, double to_mm, double front_mm);

/// The finished top at even distances from a bar's face at `z_mm` to its back.
struct TopSlices {
    double row_mm = 0;  ///< between them
    std::vector<FinishedTop> tops;
};
TopSlices slices_of_top(const design::Design& design, double z_mm, WorkerPool& pool);

/// The top of a bar whose face is at `z_mm`. `material_at`: index of the material at the poured surface, at a
/// distance from the left wall. `material_of_heap`: of each of Top::spooned. `step_mm`: between nodes.
TopView view_of_top(const design::Design& design, double z_mm, double step_mm, const TopSlices& slices,
                    const std::function<int(double x_mm)>& material_at,
                    const std::vector<int>& material_of_heap, WorkerPool& pool);

}  // namespace foreslice::picture
