#include "flow/tabulated_map.h"

#include <algorithm>
#include <utility>

#include "flow/material_field.h"
#include "foundation/error.h"

namespace foreslice::flow {
namespace {

class SolvedInstant final : public Instant {
  public:
    SolvedInstant(const CreepingFlow& flow, const Wire& wire, std::vector<std::uint8_t> batters)
        : wire_(wire) {
        SplitControl control;
        control.tolerance = 1e-4;  // one position only: worth solving closely
        control.most_iterations = 1000;
        SplitState cold;
        cold.batters = std::move(batters);
        const PositionFlow solved = flow.solve(wire, control, cold);
        force_ = solved.force_n_per_m;
        in_batter_ = solved.in_batter;
        if (in_batter_) field_ = SplineField(flow.grid(), solved.psi, 1.0);
    }
    Vec2 wire_centre_mm() const override { return wire_.centre_mm; }
    Vec2 wire_velocity_mm_per_s() const override { return wire_.velocity_mm_per_s; }
    bool wire_in_batter() const override { return in_batter_; }
    Vec2 velocity_mm_per_s(Vec2 point) const override {
        const double radius = wire_.tool.radius_mm();
        if (in_batter_ && wire_.tool.nearest(point - wire_.centre_mm).square < radius * radius)
            return wire_.velocity_mm_per_s;
        const Vec2 gradient = field_.gradient(point);
        return {gradient.y, -gradient.x};
    }
    double stream_function_mm2_per_s(Vec2 point) const override { return field_.value(point); }
    Vec2 force_on_wire_n_per_m() const override { return force_; }

  private:
    Wire wire_;
    SplineField field_;
    Vec2 force_;
    bool in_batter_ = false;
};

class TabulatedFlowMap final : public FlowMap {
  public:
    TabulatedFlowMap(const Box& box, CreepingFlow flow, std::vector<RunPlan> plans,
                     std::vector<SolvedRun> runs, std::shared_ptr<const Materials> materials)
        : box_(box),
          flow_(std::move(flow)),
          plans_(std::move(plans)),
          runs_(std::move(runs)),
          materials_(std::move(materials)) {
        for (const auto& run : runs_) merge(report_, run.report);
        for (const auto& plan : plans_) path_length_ += plan.length_mm();
    }

    Vec2 origin_mm(Vec2 point) const override {
        to_origins_mm(&point, 1);
        return point;
    }
    void to_origins_mm(Vec2* points, std::size_t count) const override {
        for (std::size_t k = 0; k < count; ++k)
            points[k] = {std::clamp(points[k].x, 0.0, box_.width_mm),
                         std::clamp(points[k].y, 0.0, box_.height_mm)};
        for (auto run = runs_.rbegin(); run != runs_.rend(); ++run) run->map->before(points, count);
    }
    double path_length_mm() const override { return path_length_; }
    const SolveReport& report() const override { return report_; }

    std::unique_ptr<Instant> at_fraction(double fraction) const override {
        if (!(fraction >= 0 && fraction <= 1))
            throw InputError("", "path fraction", plain_number(fraction), "0 to 1");
        if (plans_.empty())
            throw InputError("", "path fraction", "the design has no strokes", "a design with a wire");
        double travel = fraction * path_length_;
        Place place;
        for (place.run = 0; place.run < plans_.size(); ++place.run)
            for (place.leg = 0; place.leg < plans_[place.run].legs.size(); ++place.leg) {
                const Leg& leg = plans_[place.run].legs[place.leg];
                const double leg_length = length(leg.end_mm - leg.start_mm);
                place.travel_mm = std::clamp(travel, 0.0, leg_length);
                if (travel <= leg_length) return instant(place);
                travel -= leg_length;
            }
        place.run = plans_.size() - 1;  // a round-off beyond the end
        place.leg = plans_[place.run].legs.size() - 1;
        return instant(place);
    }

  private:
    /// Where the tool is.
    struct Place {
        std::size_t run = 0, leg = 0;
        double travel_mm = 0;
    };

    std::unique_ptr<Instant> instant(const Place& place) const {
        const RunPlan& plan = plans_[place.run];
        const Leg& leg = plan.legs[place.leg];
        const Vec2 direction = (1 / length(leg.end_mm - leg.start_mm)) * (leg.end_mm - leg.start_mm);
        const Wire wire{leg.start_mm + place.travel_mm * direction, plan.tool,
                        plan.speed_mm_per_s * direction};
        return std::make_unique<SolvedInstant>(flow_, wire, batters_at(place));
    }
    std::vector<std::uint8_t> batters_at(const Place& place) const {
        if (!materials_) return {};
        WorkerPool alone(1);
        MaterialField field(flow_.grid(), box_, *materials_);
        for (std::size_t run = 0; run < place.run; ++run) field.add(runs_[run].map);
        field.settle(alone);
        const std::vector<LegFlow>& legs = runs_[place.run].map->run().legs;
        return field.cells(legs.data(), legs.data() + place.leg, legs[place.leg], place.travel_mm, alone);
    }

    Box box_;
    CreepingFlow flow_;
    std::vector<RunPlan> plans_;
    std::vector<SolvedRun> runs_;
    std::shared_ptr<const Materials> materials_;
    SolveReport report_;
    double path_length_ = 0;
};

}  // namespace

std::shared_ptr<const FlowMap> tabulated_map(const Box& box, CreepingFlow flow, std::vector<RunPlan> plans,
                                             std::vector<SolvedRun> runs,
                                             std::shared_ptr<const Materials> materials) {
    return std::make_shared<TabulatedFlowMap>(box, std::move(flow), std::move(plans), std::move(runs),
                                              std::move(materials));
}

}  // namespace foreslice::flow
