// One working of the loaf's top: the surface of a section changes, and what lies below gives way. Exact: with
// w the rise of the surface (mean zero), A its integral from the left wall and Y the depth below the surface
// before, the generating function x Y + A(x) d(Y) gives
//   y = Y + w(x) d(Y),   X = x + A(x) d'(Y),
// which keeps areas whatever w is, carries the surface onto the new one, walls onto walls, and moves nothing
// below the depth at which d ends (canonical transformations, Goldstein, Classical Mechanics, chapter 9, from
// memory). d(Y) = (1 + Y / depth)^3. One to one as long as no furrow is deeper than a third of the depth.
#pragma once

#include <cstddef>
#include <vector>

#include "foundation/vec2.h"

namespace foreslice::picture {

/// Heights at even columns from wall to wall, straight between them.
class Profile {
  public:
    /// At least two heights.
    Profile(double width_mm, std::vector<double> heights_mm);
    static Profile flat(double width_mm, double height_mm);
    /// Columns of a profile of a top this wide: finer than a fork's ridges.
    static std::size_t columns_over(double width_mm);

    double at(double x_mm) const;
    double integral_mm2(double x_mm) const;  ///< from the left wall
    double mean_mm() const { return integral_.back() / width_mm_; }
    double width_mm() const { return width_mm_; }
    double lowest_mm() const;
    double highest_mm() const;
    double x_of(std::size_t column) const { return static_cast<double>(column) / per_mm_; }
    const std::vector<double>& heights_mm() const { return heights_; }
    /// Less its mean, times a factor.
    Profile about_mean(double factor) const;
    friend Profile operator+(const Profile& a, const Profile& b);

  private:
    double width_mm_, per_mm_;
    std::vector<double> heights_, integral_;
};

class TopStep {
  public:
    /// `rise` is taken from its mean and, when furrows would be too deep for the map, made flatter as a
    /// whole. `felt_mm`: how deep batter gives way, made deeper when furrows need it, never beyond the floor.
    TopStep(const Profile& before, const Profile& rise, double felt_mm);

    const Profile& before() const { return before_; }
    const Profile& after() const { return after_; }
    double felt_mm() const { return depth_mm_; }
    /// Where the batter at a point not above after() lay. Points outside are clamped.
    Vec2 back(Vec2 point_mm) const;
    /// The inverse, for points not above before().
    Vec2 forth(Vec2 point_mm) const;

  private:
    Profile before_, rise_, after_;
    double depth_mm_;
};

}  // namespace foreslice::picture
