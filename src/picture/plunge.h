// Batter that a falling stream puts below the surface.
#pragma once

#include <optional>
#include <vector>

#include "foundation/vec2.h"
#include "picture/deposit.h"
#include "picture/section.h"

namespace foreslice::picture {

/// Columns of new batter in a box, from the surface down. What was there makes room row by row: each row
/// keeps its place in the order of rows and moves up by the area put in below it over the width, and moves
/// together sideways. An exact map: d(row)/dy = 1 - w/W, dx'/dx = W/(W - w), so areas are kept to round-off,
/// the walls and the floor stay and the top rises evenly.
struct Plume {
    double x_mm = 0;  ///< of its axis
    double area_mm2 = 0;
    std::vector<double> wander_mm = {};  ///< of its axis at even heights from the tip to the surface
};

class Inserted final : public SectionStage {
  public:
    /// `before_mm`: level before. The plumes reach down to `tip_mm`; at 0 they spread on the floor. Together
    /// they must be narrower than the box in every row: see most_plume_area_mm2().
    Inserted(double width_mm, double before_mm, double tip_mm, std::vector<Plume> plumes, Deposit deposit);
    std::optional<Bit> back(Vec2& point_mm) const override;
    /// Points spread evenly over the new batter.
    static std::vector<Vec2> region(double width_mm, double before_mm, double tip_mm,
                                    const std::vector<Plume>& plumes);
    /// Greatest width of one of the plumes.
    double widest_mm() const;

  private:
    struct Edges {
        double left_mm, right_mm;
    };
    void shape(const std::vector<Plume>& plumes);
    void keep_apart(std::vector<Edges>& row) const;
    double width_in_row(std::size_t row) const;

    double width_mm_, tip_mm_, top_mm_, step_mm_ = 0;
    std::size_t count_;
    std::vector<std::vector<Edges>> rows_;  ///< from the tip to the top
    std::vector<double> area_mm2_;          ///< below each row
    Deposit deposit_;
};

/// How much batter plumes may hold between a tip and the level before, so that there is room beside them. The
/// level rises by what they hold.
double most_plume_area_mm2(double width_mm, double before_mm, double tip_mm);

}  // namespace foreslice::picture
