#include "flow/leg_flow.h"

#include <algorithm>
#include <cmath>

namespace foreslice::flow {

namespace {

constexpr double skin_cells = 2;

// Clear distance from the wire's surface to the nearest side of the box; 0 while it passes through the top.
double gap_to_sides(const Box& box, Vec2 centre, double radius) {
    const double sides = std::min({centre.x, box.width_mm - centre.x, centre.y});
    const double gap = std::min(sides, std::abs(box.height_mm - centre.y));
    return std::max(0.0, gap - radius);
}

// The constant by which psi on the wire differs from its rigid part: mean over a circle well inside the disc.
double mean_on_wire(const SplineField& field, Vec2 centre, double radius, Vec2 direction) {
    constexpr int places = 8;
    double sum = 0;
    for (int k = 0; k < places; ++k) {
        const double angle = 2 * 3.14159265358979323846 * k / places;
        const Vec2 offset = 0.5 * radius * Vec2{std::cos(angle), std::sin(angle)};
        sum += field.value(centre + offset) - (direction.x * offset.y - direction.y * offset.x);
    }
    return sum / places;
}

}  // namespace

std::vector<double> record_positions(const Box& box, Vec2 start, Vec2 end, double radius, double spacing,
                                     double closest) {
    const double total = length(end - start);
    const Vec2 direction = (1 / total) * (end - start);
    constexpr double share_of_gap = 0.35;
    std::vector<double> positions{0.0};
    while (positions.back() < total) {
        const double here = positions.back();
        const auto allowed = [&](double s) {
            const double gap = gap_to_sides(box, start + s * direction, radius);
            return std::clamp(share_of_gap * gap, closest, std::max(spacing, closest));
        };
        const double step = std::min(allowed(here), allowed(std::min(total, here + allowed(here))));
        positions.push_back(here + step);
    }
    positions.back() = total;
    if (positions.size() > 2) {  // no sliver at the end
        const std::size_t n = positions.size();
        positions[n - 2] = 0.5 * (positions[n - 3] + total);
    }
    return positions;
}

// Moves a recorded field along with the wire: the neighbourhood of the wire rigidly, fading to nothing at the
// sides of the box, so that psi stays zero there.
struct LegFlow::Warp {
    double wire = 0, shift = 0, low_end = 0, high_start = 0, extent = 0;

    Warp(double wire_at, double shift_by, double radius, double full)
        : wire(wire_at), shift(shift_by), extent(full) {
        if (wire <= radius || wire >= full - radius)
            shift = 0;  // in or above the top: records are close there
        low_end = 0.5 * (wire - radius);
        high_start = full - 0.5 * (full - wire - radius);
    }

    // Coordinate in the record's frame and its derivative.
    void apply(double x, double& moved, double& slope) const {
        moved = x;
        slope = 1;
        if (shift == 0) return;
        double t = 1, rate = 0;
        if (x < low_end) {
            t = std::max(0.0, x / low_end);
            rate = 1 / low_end;
        } else if (x > high_start) {
            t = std::max(0.0, (extent - x) / (extent - high_start));
            rate = -1 / (extent - high_start);
        }
        const double fade = t * t * (3 - 2 * t);
        moved = x - shift * fade;
        slope = 1 - shift * 6 * t * (1 - t) * rate;
    }
};

LegFlow::LegFlow(const CreepingFlow& flow, const Box& box, Vec2 start, Vec2 end, double radius, double speed,
                 double spacing, const SplitControl& control, SplitState& state, Progress& progress)
    : box_(box),
      start_(start),
      length_mm_(length(end - start)),
      radius_mm_(radius),
      cell_mm_(flow.grid().h()) {
    direction_ = (1 / length_mm_) * (end - start);
    Vec2 last_centre = start;
    for (const double travel : record_positions(box, start, end, radius, spacing, 0.7 * flow.grid().h())) {
        progress.check();
        const Wire wire{start + travel * direction_, radius, speed * direction_};
        const Vec2 moved = wire.centre_mm - last_centre;
        const int dx = static_cast<int>(std::lround(moved.x / flow.grid().hx));
        const int dy = static_cast<int>(std::lround(moved.y / flow.grid().hy));
        state.shift(flow.grid(), dx, dy);
        last_centre += Vec2{dx * flow.grid().hx, dy * flow.grid().hy};
        const PositionFlow solved = flow.solve(wire, control, state);
        Record record{travel, {}, 0};
        if (solved.in_batter) {
            record.field = SplineField(flow.grid(), solved.psi, 1 / speed);
            record.on_wire = mean_on_wire(record.field, wire.centre_mm, radius, direction_);
        }
        records_.push_back(std::move(record));
        still_ = still_ && !solved.in_batter;
        ++report_.positions;
        report_.most_iterations = std::max(report_.most_iterations, solved.iterations);
        report_.worst_residual = std::max(report_.worst_residual, solved.residual);
        report_.converged = report_.converged && solved.converged;
    }
}

LegFlow::Between LegFlow::between(double travel) const {
    const auto after = std::upper_bound(records_.begin() + 1, records_.end() - 1, travel,
                                        [](double s, const Record& r) { return s < r.travel_mm; });
    const Record& b = *after;
    const Record& a = *(after - 1);
    const double share = std::clamp((travel - a.travel_mm) / (b.travel_mm - a.travel_mm), 0.0, 1.0);
    return {{&a, &b}, {1 - share, share}};
}

// Width of the layer round the wire that the grid does not resolve (the wire's condition is smeared over a
// cell); none while the wire passes through the top.
double LegFlow::skin_mm(Vec2 centre) const {
    return std::min(skin_cells * cell_mm_, 0.5 * gap_to_sides(box_, centre, radius_mm_));
}

Vec2 LegFlow::velocity(double travel, Vec2 point) const {
    const Vec2 centre = start_ + travel * direction_;
    const Vec2 from_wire = point - centre;
    const double distance2 = dot(from_wire, from_wire);
    if (distance2 < radius_mm_ * radius_mm_) return direction_;
    const double reach = radius_mm_ + skin_cells * cell_mm_;
    if (distance2 < reach * reach) {
        const double skin = skin_mm(centre);
        if (skin > 0.1 * cell_mm_ && distance2 < (radius_mm_ + skin) * (radius_mm_ + skin))
            return velocity_in_skin(travel, from_wire, skin);
    }
    const Between near = between(travel);
    Vec2 sum;
    for (int k = 0; k < 2; ++k) {
        if (near.share[k] == 0 || near.record[k]->field.zero()) continue;
        const double behind = travel - near.record[k]->travel_mm;
        const Warp across(centre.x, behind * direction_.x, radius_mm_, box_.width_mm);
        const Warp up(centre.y, behind * direction_.y, radius_mm_, box_.height_mm);
        Vec2 moved, slope;
        across.apply(point.x, moved.x, slope.x);
        up.apply(point.y, moved.y, slope.y);
        const Vec2 gradient = near.record[k]->field.gradient(moved);
        sum += near.share[k] * Vec2{gradient.y * slope.y, -gradient.x * slope.x};
    }
    return sum;
}

// Between the wire's surface (r = a) and the circle r = b where the grid takes over, psi less the rigid
// motion is, along each ray, the cubic that is zero with zero slope on the wire and meets the grid's value
// and slope at b. So the wire's surface is a streamline and no batter ever enters the wire, whatever the
// grid.
Vec2 LegFlow::velocity_in_skin(double travel, Vec2 from_wire, double skin) const {
    const double r = length(from_wire), b = radius_mm_ + skin;
    const Vec2 radial = (1 / r) * from_wire, tangent{-radial.y, radial.x};
    const Between near = between(travel);
    SplineField::Jet psi;
    for (int k = 0; k < 2; ++k) {
        const double w = near.share[k];
        const Vec2 record_centre = start_ + near.record[k]->travel_mm * direction_;
        const auto jet = near.record[k]->field.jet(record_centre + b * radial);
        psi.value += w * (jet.value - near.record[k]->on_wire);
        psi.x += w * jet.x;
        psi.y += w * jet.y;
        psi.xx += w * jet.xx;
        psi.xy += w * jet.xy;
        psi.yy += w * jet.yy;
    }
    psi.value -= b * (direction_.x * radial.y - direction_.y * radial.x);
    psi.x += direction_.y;
    psi.y -= direction_.x;
    const Vec2 gradient{psi.x, psi.y};
    const Vec2 bent{psi.xx * tangent.x + psi.xy * tangent.y, psi.xy * tangent.x + psi.yy * tangent.y};
    const double value = psi.value, slope = skin * dot(radial, gradient);
    const double value_turn = b * dot(tangent, gradient);
    const double slope_turn = skin * (dot(tangent, gradient) + b * dot(radial, bent));
    const double t = (r - radius_mm_) / skin;
    const double h1 = t * t * (3 - 2 * t), h2 = t * t * (t - 1);
    const double h1_rate = 6 * t * (1 - t) / skin, h2_rate = t * (3 * t - 2) / skin;
    const double outward = (value_turn * h1 + slope_turn * h2) / r;
    const double around = -(value * h1_rate + slope * h2_rate);
    return direction_ + outward * radial + around * tangent;
}

Vec2 LegFlow::trace(Vec2 point, double from, double to) const {
    if (still_) return point;
    const double sign = to < from ? -1 : 1;
    double travel = from;
    while ((to - travel) * sign > 0) {
        const double distance = length(point - (start_ + travel * direction_));
        const double step = std::min(
            {std::max(radius_mm_ / 6, 0.3 * (distance - 0.5 * radius_mm_)), 6.0, std::abs(to - travel)});
        const double ds = sign * step;
        const double end = step == std::abs(to - travel) ? to : travel + ds;
        const Vec2 k1 = velocity(travel, point);
        const Vec2 k2 = velocity(travel + 0.5 * ds, point + 0.5 * ds * k1);
        const Vec2 k3 = velocity(travel + 0.5 * ds, point + 0.5 * ds * k2);
        const Vec2 k4 = velocity(end, point + ds * k3);
        point += (ds / 6) * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
        point.x = std::clamp(point.x, 0.0, box_.width_mm);
        point.y = std::max(point.y, 0.0);
        travel = end;
    }
    return point;
}

}  // namespace foreslice::flow
