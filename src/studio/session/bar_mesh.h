// The bar mock-up as triangles, and a drawing of it on the processor for displays without shaders. Lengths in
// mm; x to the right, y up, z towards the eye; the bar's middle at the origin.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <vector>

#include "picture/image.h"

namespace foreslice::studio {

using Vec3 = std::array<float, 3>;

struct BarSize {
    double width_mm = 65, height_mm = 80, thickness_mm = 25;
    double rounding_mm = 2.5;
    double above_mm = 0;  ///< how much of the face's picture lies above the bar's height
    friend bool operator==(const BarSize&, const BarSize&) = default;
};

/// How much the top lies above (below when negative) the bar's height, at x from the left wall and z from the
/// cut face; empty: a flat top.
using TopHeight = std::function<double(double x_mm, double z_mm)>;

struct BarMesh {
    struct Corner {
        Vec3 position_mm, normal;
        float on_top = 0;  ///< 0..1: how much it belongs to a top that has a height of its own
    };
    std::vector<Corner> corners;
    std::vector<std::uint32_t> triangles;  ///< three corners each, anticlockwise seen from outside
};
/// What its sides show.
struct BarSkin {
    picture::Image face;  ///< bare; every side shows what of it lies behind or before
    picture::Image
        above;           ///< a worked top from straight above, the cut at its upper edge; empty: as the face
    double glitter = 0;  ///< grains a square millimetre on what looks up
};
BarMesh bar_mesh(const BarSize& size, const TopHeight& top = {});

/// Where the bar is looked at from.
struct BarView {
    float yaw_deg = -28, pitch_deg = 20, distance = 4.5F;  ///< distance in half diagonals of the bar
    friend bool operator==(const BarView&, const BarView&) = default;
};
/// Column by column, as OpenGL takes it; `aspect`: width over height of the picture.
using Matrix = std::array<float, 16>;
Matrix screen_from_bar(const BarSize& size, const BarView& view, float aspect);
Vec3 eye_of(const BarSize& size, const BarView& view);
/// Towards the window whose light falls on the bar: fixed to the eye, so it moves round the bar with it.
Vec3 light_of(const BarView& view);
/// A point in the picture, 0..1 from its upper left corner.
std::array<float, 2> projected(const Matrix& matrix, const Vec3& point_mm);

/// The same picture as shaders/bar.frag draws, without a graphics card.
picture::Image drawn_bar(const BarMesh& mesh, const BarSize& size, const BarView& view, const BarSkin& skin,
                         int width_px, int height_px);

}  // namespace foreslice::studio
