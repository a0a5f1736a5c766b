// The cross-section of what is drawn through the batter: round wires in a row, or a flat strip. It moves as
// one and does not turn.
#pragma once

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "flow/flow.h"
#include "foundation/vec2.h"

namespace foreslice::flow {

/// All points within `radius_mm` of a few core lines, whose ends are offsets from the tool's middle. A round
/// wire is a core without length; a flat strip is one core with length, its edges rounded.
class ToolShape {
  public:
    struct Core {
        Vec2 a, b;
        friend bool operator==(const Core&, const Core&) = default;
    };

    ToolShape(double radius_mm = 3) : radius_mm_(radius_mm) {}  // NOLINT: a bare radius is a round wire
    explicit ToolShape(const Stroke& stroke);

    double radius_mm() const { return radius_mm_; }  ///< of the wires; half the thickness of a strip
    const std::vector<Core>& cores() const { return cores_; }
    bool one_wire() const { return cores_.size() == 1 && round(); }
    bool round() const { return round_; }  ///< no core has a length
    /// Greatest size of one body, mm: a wire's diameter, a strip's width.
    double size_mm() const;
    /// How far the tool reaches from its middle to the left, right, below and above.
    double left_mm() const { return left_ + radius_mm_; }
    double right_mm() const { return right_ + radius_mm_; }
    double below_mm() const { return below_ + radius_mm_; }
    double above_mm() const { return above_ + radius_mm_; }

    /// The core nearest to a point (offset from the tool's middle) and the vector from it to the point.
    struct Nearest {
        std::size_t core = 0;
        Vec2 from_core;
        double square = 0;  ///< of its length
    };
    Nearest nearest(Vec2 from_middle) const {
        if (centred_) return {0, from_middle, dot(from_middle, from_middle)};
        Nearest out{0, from_middle - on_core(cores_[0], from_middle), 0};
        out.square = dot(out.from_core, out.from_core);
        for (std::size_t k = 1; k < cores_.size(); ++k) {
            const Vec2 other = from_middle - on_core(cores_[k], from_middle);
            if (const double square = dot(other, other); square < out.square) out = {k, other, square};
        }
        return out;
    }
    bool holds(Vec2 from_middle) const { return nearest(from_middle).square < radius_mm_ * radius_mm_; }
    /// A point that is outside stays; one inside goes to the nearest place on the surface.
    Vec2 kept_out(Vec2 point_mm, Vec2 middle_mm) const {
        return holds(point_mm - middle_mm) ? on_surface(point_mm, middle_mm) : point_mm;
    }
    /// The parts of a level line that lie in the tool, left to right, as offsets from its middle; the line
    /// lies `height_mm` above the middle. Wires do not overlap.
    std::vector<std::pair<double, double>> cut_at(double height_mm) const;

    /// Area of the part of the tool below a level line `height_mm` above its middle.
    double area_below_mm2(double height_mm) const;

    /// Offsets all along the cores, at most a millimetre apart.
    const std::vector<Vec2>& samples() const { return samples_; }

    friend bool operator==(const ToolShape&, const ToolShape&) = default;

  private:
    Vec2 on_surface(Vec2 point_mm, Vec2 middle_mm) const;
    static Vec2 on_core(const Core& core, Vec2 p) {
        const Vec2 along = core.b - core.a;
        const double square = dot(along, along);
        if (square == 0) return core.a;
        return core.a + std::clamp(dot(p - core.a, along) / square, 0.0, 1.0) * along;
    }

    double radius_mm_ = 3;
    bool round_ = true;
    bool centred_ = true;  // one core, a point, in the middle: a wire
    std::vector<Core> cores_ = std::vector<Core>(1);
    std::vector<Vec2> samples_ = std::vector<Vec2>(1);
    double left_ = 0, right_ = 0, below_ = 0, above_ = 0;  // of the cores
};

}  // namespace foreslice::flow
