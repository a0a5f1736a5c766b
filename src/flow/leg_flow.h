// The flow along one straight leg of the wire's path: solved at record positions, interpolated between them
// in the wire's own frame, and traced forwards or backwards. Creeping flow is odd in the wire's velocity, a
// yield-stress batter's too, and the box is symmetric about its middle: so a leg that was solved is also
// known as its mirror image and as the same way drawn backwards.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <memory>
#include <vector>

#include "flow/creeping_flow.h"
#include "flow/dense_kernels.h"
#include "flow/spline_field.h"
#include "foundation/progress.h"

namespace foreslice::flow {

class LegFlow;

/// Called before the flow is solved at a place along a leg, with the leg as far as it is known: says which
/// batter lies where then.
using BeforeSolve = std::function<void(const LegFlow& so_far, double travel_mm, SplitState& state)>;

/// How far batter is traced in one go: `exact` keeps nine points of ten to 0.01 mm, `quick` to 0.07 mm.
enum class Steps { exact, quick };

class LegFlow {
  public:
    /// From `start` to `end` (mm, must differ), at `speed` > 0. Solves every record position, each
    /// warm-started from the one before; `state` is the warm start of the first and left for the next leg.
    LegFlow(const CreepingFlow& flow, const Box& box, Vec2 start, Vec2 end, const ToolShape& tool,
            double speed_mm_per_s, double position_spacing_mm, const SplitControl& control, SplitState& state,
            Progress& progress, const BeforeSolve& before_solve = {});

    /// The same solved flow seen in the mirror (x becomes width - x) or with the wire drawn backwards, or
    /// both; shares what was solved. Only for one round wire.
    LegFlow seen(bool in_mirror, bool backwards) const;

    double length_mm() const { return length_mm_; }
    Vec2 start_mm() const { return mirrored(backwards_ ? start_ + length_mm_ * direction_ : start_); }
    Vec2 direction() const {
        const double sign = backwards_ ? -1 : 1;
        return {(in_mirror_ ? -sign : sign) * direction_.x, sign * direction_.y};
    }
    const ToolShape& tool() const { return tool_; }
    /// Least distance (mm) of a point from the cores of the tool on their way along the leg.
    double distance_mm(Vec2 point_mm) const;
    double radius_mm() const { return radius_mm_; }  ///< of the tool
    bool still() const { return still_; }            ///< the wire never touches the batter here
    const SolveReport& report() const { return report_; }

    /// Velocity per unit of wire travel (dimensionless) when the wire has gone `travel_mm` along the leg.
    Vec2 velocity(double travel_mm, Vec2 point_mm) const;
    /// Moves batter from where it is when the wire has reached `from_mm` of its travel to where it is (or
    /// was) at `to_mm`; beyond the last place known the flow there moves on with the tool. Up to
    /// FieldBatch::most points, which share their steps; points near one another are quickest.
    void trace(Vec2* points_mm, int count, double from_mm, double to_mm, Steps steps = Steps::exact) const;
    Vec2 trace(Vec2 point_mm, double from_mm, double to_mm) const {
        trace(&point_mm, 1, from_mm, to_mm);
        return point_mm;
    }

  private:
    struct Record {
        double travel_mm = 0;
        SplineField field;
        double level_rate = 0;         ///< rise of the level per unit of wire travel
        Vec2 rate;                     ///< the tool's velocity in the stream function per unit of wire travel
        std::vector<double> on_cores;  ///< psi on each body less its rigid part, mm^2/s per unit speed
        /// On the circle where the grid takes over from the skin: periodic B-spline coefficients over the
        /// angle of psi less the rigid part, and of its outward slope times the skin. They say nothing where
        /// the circle rises above the top.
        std::vector<float> ring_value, ring_slope;
    };
    /// The skin along a ray from a wire's centre: its width, and how that changes as the ray turns where the
    /// top cuts it short.
    struct Skin {
        double width_mm = 0, turn_mm = 0;
    };
    /// Psi less the rigid part at the skin's outer edge, its slope outwards times the width, and how both
    /// change as the ray turns.
    struct Edge {
        double value = 0, value_turn = 0, slope = 0, slope_turn = 0;
    };
    /// A point in the skin: what holds along its ray, between the two records.
    struct InSkin {
        double r = 0;  ///< from the core
        Vec2 radial, rate;
        Edge edge;
        double on_core = 0;
        Skin skin;
        double share = 0;  ///< of the skin's width, from the wire
    };
    /// The two records round a place on the path and their shares.
    struct Between {
        const Record* record[2];
        double share[2];
    };
    /// What is the same for all points while the tool is at one place on its way.
    struct Moment {
        double travel_mm;
        Vec2 centre_mm;
        Between near;
        double skin_mm;
        double inner_mm2;   ///< squared distance of the tool's surface from its cores; 0 where it is not wet
        double outer_mm2;   ///< of the skin's edge; 0 without a skin
        double level_rate;  ///< rise per unit of travel and of height
        double ring_reach;  ///< rays that rise less than so much a length have a skin from the ring's tables
    };
    /// How firmly the skin holds along a ray: 1, but less where wire and top meet; and its slope over the
    /// angle.
    struct Hold {
        double share = 1, turn = 0;
    };
    /// Those of some points that are treated alike, side by side as the kernels want them.
    struct Group {
        int count = 0;
        std::array<int, FieldBatch::most> member;
        std::array<float, FieldBatch::most> x, y, u, v;
        void add(int index, Vec2 place) {
            const auto k = static_cast<std::size_t>(count++);
            member[k] = index;
            x[k] = static_cast<float>(place.x);
            y[k] = static_cast<float>(place.y);
        }
        void spread(Vec2* out) const {
            for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k)
                out[member[k]] = {static_cast<double>(u[k]), static_cast<double>(v[k])};
        }
    };
    /// `after`: the record found last, from which it is looked for.
    Between between(double travel_mm, std::size_t& after) const;
    Moment moment_at(double travel_mm, std::size_t& after) const;
    double skin_mm(Vec2 centre_mm) const;
    void tabulate_ring(Record& record) const;
    Skin skin_along(Vec2 wire_mm, Vec2 radial, double skin_mm) const;
    bool skin_holds(Vec2 wire_mm, const ToolShape::Nearest& body) const;
    Edge edge_from_field(const Record& record, std::size_t body, Vec2 radial, double skin_mm) const;
    double ring_reach(const Between& near, double skin_mm) const;
    Hold hold_at_top(Vec2 wire_mm, Vec2 radial) const;
    double psi_on_grid(const Moment& now, Vec2 from_middle) const;
    InSkin in_skin(const Moment& now, const ToolShape::Nearest& body) const;
    static Vec2 velocity_in_skin(const InSkin& at);
    static double psi_in_skin(const InSkin& at);
    Vec2 loosened(const Moment& now, const ToolShape::Nearest& body, Vec2 from_middle, const Hold& hold,
                  Vec2 on_grid) const;
    void cut_skin_velocities(const Moment& now, Group& group, Vec2* out) const;
    void grid_velocities(const Moment& now, Group& group) const;
    void skin_velocities(const Moment& now, Group& group) const;
    void velocities(const Moment& now, const Vec2* points_mm, int count, Vec2* out) const;
    void trace_solved(Vec2* points_mm, int count, double from_mm, double to_mm, Steps steps) const;
    double step_mm(Vec2 centre_mm, const Vec2* points_mm, int count, Steps steps) const;
    double step_at_top_mm(Vec2 centre, const Vec2* points, int count) const;
    double end_of_step(double travel_mm, double to_mm, double step_mm, std::size_t after) const;
    /// The same for a tool that is not one wire (leg_flow_tools.cpp).
    void tool_velocities(const Moment& now, const Vec2* points_mm, int count, Vec2* out) const;

    const std::vector<Record>& records() const { return *records_; }
    Vec2 mirrored(Vec2 point_mm) const {
        return in_mirror_ ? Vec2{box_.width_mm - point_mm.x, point_mm.y} : point_mm;
    }
    double solved_travel(double travel_mm) const { return backwards_ ? length_mm_ - travel_mm : travel_mm; }

    Box box_;
    Grid grid_;
    Vec2 start_, direction_;  // as solved
    bool in_mirror_ = false, backwards_ = false;
    double length_mm_ = 0, radius_mm_ = 0, cell_mm_ = 0;
    bool still_ = true;
    ToolShape tool_;
    std::shared_ptr<std::vector<Record>> records_ = std::make_shared<std::vector<Record>>();
    SolveReport report_;
};

/// How close together records may get: nothing changes within less than a cell.
double closest_records_mm(const Grid& grid, double spacing_mm);

/// Record positions along a leg: at most `spacing_mm` apart, closer where the wire is close to a wall, the
/// floor or the top. The first is 0, the last the leg's length.
std::vector<double> record_positions(const Box& box, Vec2 start, Vec2 end, const ToolShape& tool,
                                     double spacing_mm, double closest_mm);

/// Clear distance from the tool's surface to the nearest side of the box; 0 while it passes through the top.
double gap_to_sides(const Box& box, Vec2 centre_mm, const ToolShape& tool);
double gap_to_walls(const Box& box, Vec2 centre_mm, const ToolShape& tool);

}  // namespace foreslice::flow
