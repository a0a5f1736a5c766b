#include "flow/leg_flow.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include "flow/dense_kernels.h"

namespace foreslice::flow {

namespace {

constexpr double pi = 3.14159265358979323846;
// The constant by which psi on the wire differs from its rigid part: mean over a circle round the middle of
// the part of the disc that is in the batter.
double mean_on_wire(const SplineField& field, const Box& box, Vec2 centre, double radius, Vec2 direction) {
    constexpr int places = 12;
    const double low = centre.y - radius, high = std::min(centre.y + radius, box.height_mm);
    const Vec2 middle{0, 0.5 * (low + high) - centre.y};
    double sum = 0;
    for (int k = 0; k < places; ++k) {
        const double angle = 2 * pi * k / places;
        const Vec2 offset = middle + 0.25 * (high - low) * Vec2{std::cos(angle), std::sin(angle)};
        sum += field.value(centre + offset) - (direction.x * offset.y - direction.y * offset.x);
    }
    return sum / places;
}

}  // namespace

double gap_to_walls(const Box& box, Vec2 centre, const ToolShape& tool) {
    const double radius = tool.radius_mm();
    return std::max(0.0, std::min({centre.x - (tool.left_mm() - radius),
                                   box.width_mm - centre.x - (tool.right_mm() - radius),
                                   centre.y - (tool.below_mm() - radius)}) -
                             radius);
}

double gap_to_sides(const Box& box, Vec2 centre, const ToolShape& tool) {
    const double from_top = box.height_mm - centre.y;
    const double gap_to_top = from_top > 0 ? from_top - tool.above_mm() : -from_top - tool.below_mm();
    return std::min(gap_to_walls(box, centre, tool), std::max(0.0, gap_to_top));
}

double closest_records_mm(const Grid& grid, double spacing) {
    return std::max(grid.h(), 0.25 * spacing);
}

std::vector<double> record_positions(const Box& box, Vec2 start, Vec2 end, const ToolShape& tool,
                                     double spacing, double closest) {
    const double total = length(end - start);
    const Vec2 direction = (1 / total) * (end - start);
    constexpr double share_of_gap = 0.35;
    std::vector<double> positions{0.0};
    while (positions.back() < total) {
        const double here = positions.back();
        const auto allowed = [&](double s) {
            const Vec2 centre = start + s * direction;
            const double from_top = box.height_mm - centre.y;
            const bool in_top =
                from_top < tool.above_mm() && -from_top < tool.below_mm();  // the wetted part changes quickly
            const double gap = in_top ? 0 : gap_to_sides(box, centre, tool);
            return std::clamp(share_of_gap * gap, in_top ? closest / 3 : closest, std::max(spacing, closest));
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

LegFlow::LegFlow(const CreepingFlow& flow, const Box& box, Vec2 start, Vec2 end, const ToolShape& tool,
                 double speed, double spacing, const SplitControl& control, SplitState& state,
                 Progress& progress, const BeforeSolve& before_solve)
    : box_(box),
      grid_(flow.grid()),
      start_(start),
      length_mm_(length(end - start)),
      radius_mm_(tool.radius_mm()),
      cell_mm_(flow.grid().h()),
      tool_(tool) {
    direction_ = (1 / length_mm_) * (end - start);
    Vec2 last_centre = start;
    const double closest = closest_records_mm(flow.grid(), spacing);
    for (const double travel : record_positions(box, start, end, tool, spacing, closest)) {
        progress.check();
        const Wire wire{start + travel * direction_, tool, speed * direction_};
        const Vec2 moved = wire.centre_mm - last_centre;
        const int dx = static_cast<int>(std::lround(moved.x / flow.grid().hx));
        const int dy = static_cast<int>(std::lround(moved.y / flow.grid().hy));
        state.shift(flow.grid(), dx, dy);
        last_centre += Vec2{dx * flow.grid().hx, dy * flow.grid().hy};
        if (before_solve) before_solve(*this, travel, state);
        const PositionFlow solved = flow.solve(wire, control, state);
        Record record;
        record.travel_mm = travel;
        if (solved.in_batter) {
            record.field = SplineField(flow.grid(), solved.psi, 1 / speed);
            record.level_rate = level_rise_mm_per_s(flow.grid(), wire) / speed;
            record.rate = (1 / speed) * velocity_in_stream_mm_per_s(flow.grid(), wire);
            for (const auto& core : tool.cores())
                record.on_cores.push_back(
                    mean_on_wire(record.field, box, wire.centre_mm + core.a, radius_mm_, record.rate));
        }
        if (tool_.one_wire()) tabulate_ring(record);
        records_->push_back(std::move(record));
        still_ = still_ && !solved.in_batter;
        ++report_.positions;
        report_.most_iterations = std::max(report_.most_iterations, solved.iterations);
        report_.worst_residual = std::max(report_.worst_residual, solved.residual);
        report_.converged = report_.converged && solved.converged;
    }
}

double LegFlow::distance_mm(Vec2 point) const {
    double nearest = 1e30;
    for (const Vec2 offset : tool_.samples()) {
        const Vec2 from_start = mirrored(point) - offset - start_;
        const double along = std::clamp(dot(from_start, direction_), 0.0, length_mm_);
        nearest = std::min(nearest, length(from_start - along * direction_));
    }
    return nearest;
}

LegFlow LegFlow::seen(bool in_mirror, bool backwards) const {
    LegFlow other = *this;
    other.in_mirror_ = in_mirror_ != in_mirror;
    other.backwards_ = backwards_ != backwards;
    return other;
}

Vec2 LegFlow::velocity(double travel, Vec2 point) const {
    Vec2 out;
    std::size_t after = 1;
    const Vec2 solved_at = mirrored(point);
    velocities(moment_at(solved_travel(travel), after), &solved_at, 1, &out);
    const double sign = backwards_ ? -1 : 1;
    return {(in_mirror_ ? -sign : sign) * out.x, sign * out.y};
}

LegFlow::Between LegFlow::between(double travel, std::size_t& after) const {
    if (records().size() == 1) return {{&records()[0], &records()[0]}, {1, 0}};
    const std::size_t last = records().size() - 1;
    after = std::clamp<std::size_t>(after, 1, last);
    while (after > 1 && travel < records()[after - 1].travel_mm) --after;
    while (after < last && travel >= records()[after].travel_mm) ++after;
    const double a = records()[after - 1].travel_mm, b = records()[after].travel_mm;
    const double share = std::clamp((travel - a) / (b - a), 0.0, 1.0);
    return {{&records()[after - 1], &records()[after]}, {1 - share, share}};
}

LegFlow::Moment LegFlow::moment_at(double travel, std::size_t& after) const {
    Moment now{travel, start_ + travel * direction_, between(travel, after), 0, 0, 0, 0, 0};
    const Between& near = now.near;
    const bool wet = !near.record[0]->field.zero() && !near.record[1]->field.zero();
    now.skin_mm = skin_mm(now.centre_mm);
    const double edge = radius_mm_ + now.skin_mm;
    now.inner_mm2 = wet ? radius_mm_ * radius_mm_ : 0;
    now.outer_mm2 = wet && tool_.round() && now.skin_mm > 0.1 * cell_mm_ ? edge * edge : 0;
    now.level_rate =
        (near.share[0] * near.record[0]->level_rate + near.share[1] * near.record[1]->level_rate) /
        box_.height_mm;
    now.ring_reach = now.outer_mm2 > 0 ? ring_reach(near, now.skin_mm) : 0;
    return now;
}

// A recorded field is moved along with the wire: rigidly near the wire, fading to nothing at the sides of the
// box, so that psi stays zero there and the interpolated flow is still exactly divergence-free.
void LegFlow::grid_velocities(const Moment& now, Group& group) const {
    const Vec2 centre = now.centre_mm;
    const Between& near = now.near;
    FieldBatch batch;
    batch.count = group.count;
    batch.x = group.x.data();
    batch.y = group.y.data();
    batch.u = group.u.data();
    batch.v = group.v.data();
    batch.width = static_cast<float>(box_.width_mm);
    batch.height = static_cast<float>(box_.height_mm);
    batch.nx = grid_.nx;
    batch.ny = grid_.ny;
    batch.stride = grid_.nx + 3;
    batch.per_hx = static_cast<float>(1 / grid_.hx);
    batch.per_hy = static_cast<float>(1 / grid_.hy);
    Vec2 furthest;  // that a field is moved
    for (int k = 0; k < 2; ++k) {
        if (near.record[k]->field.zero()) continue;
        const double behind = now.travel_mm - near.record[k]->travel_mm;
        furthest = {std::max(furthest.x, std::abs(behind * direction_.x)),
                    std::max(furthest.y, std::abs(behind * direction_.y))};
        batch.field[k] = near.record[k]->field.coefficients();
        batch.share[k] = static_cast<float>(near.share[k]);
        batch.shift_x[k] = static_cast<float>(behind * direction_.x);
        batch.shift_y[k] = static_cast<float>(behind * direction_.y);
    }
    // The move must not fade faster than places can follow, or they would pass one another.
    const auto zone = [](double clear, double move) {
        return static_cast<float>(1 / std::max({0.5 * clear, 3 * move, 1e-3}));
    };
    batch.inverse_low_x = zone(centre.x - tool_.left_mm(), furthest.x);
    batch.inverse_high_x = zone(box_.width_mm - centre.x - tool_.right_mm(), furthest.x);
    batch.inverse_low_y = zone(centre.y - tool_.below_mm(), furthest.y);
    batch.inverse_high_y = zone(box_.height_mm - centre.y - tool_.above_mm(), furthest.y);
    dense_kernels().field_velocities(batch);
}

void LegFlow::velocities(const Moment& now, const Vec2* points, int count, Vec2* out) const {
    if (!tool_.one_wire()) {
        tool_velocities(now, points, count, out);
        return;
    }
    Group grid, ring, cut;
    for (int k = 0; k < count; ++k) {
        const Vec2 from_wire = points[k] - now.centre_mm;
        const double distance2 = dot(from_wire, from_wire);
        if (distance2 < now.inner_mm2)
            out[k] = direction_;
        else if (distance2 < now.outer_mm2 && skin_holds(now.centre_mm, {0, from_wire, distance2}))
            (now.ring_reach >= 1 || from_wire.y <= now.ring_reach * std::sqrt(distance2) ? ring : cut)
                .add(k, from_wire);
        else
            grid.add(k, points[k]);
    }
    if (grid.count > 0) grid_velocities(now, grid);
    if (ring.count > 0) skin_velocities(now, ring);
    grid.spread(out);
    ring.spread(out);
    if (cut.count > 0) cut_skin_velocities(now, cut, out);
    // Heights are shares of the level (wire.h).
    if (now.level_rate == 0) return;
    for (int k = 0; k < count; ++k) {
        const Vec2 from_wire = points[k] - now.centre_mm;
        if (dot(from_wire, from_wire) >= now.inner_mm2) out[k].y -= now.level_rate * points[k].y;
    }
}

// Far from the wire the flow changes over the distance to it; while the wire is close to a side, everywhere
// sooner.
double LegFlow::step_mm(Vec2 centre, const Vec2* points, int count, Steps steps) const {
    double nearest2 = 1e30;
    for (int k = 0; k < count; ++k) nearest2 = std::min(nearest2, tool_.nearest(points[k] - centre).square);
    const double radius = tool_.round() ? radius_mm_ : std::max(radius_mm_, 1.0);
    const double distance = std::sqrt(nearest2) - 0.5 * radius, gap = gap_to_sides(box_, centre, tool_);
    if (steps == Steps::quick)
        return std::min({std::max(radius, 0.8 * distance), 0.8 * radius + 0.7 * gap, 12.0});
    const double usual = std::min({std::max(0.6 * radius, 0.4 * distance), 0.4 * radius + 0.5 * gap, 7.0});
    const double from_top = box_.height_mm - centre.y;
    const double off = std::max(from_top - tool_.above_mm(), -from_top - tool_.below_mm());
    return off > usual ? usual : std::min(usual, std::max(off, step_at_top_mm(centre, points, count)));
}

// Where the tool comes through the top, the places where both meet run apart, or together, far quicker than
// it moves: what lies at the top there is taken in small steps.
double LegFlow::step_at_top_mm(Vec2 centre, const Vec2* points, int count) const {
    constexpr double least_of_radius = 0.05, of_distance = 0.5;
    double nearest2 = 1e30;
    for (int k = 0; k < count; ++k) {
        const double left = centre.x - tool_.left_mm() - points[k].x,
                     right = points[k].x - centre.x - tool_.right_mm();
        const double aside = std::max({0.0, left, right}), below = box_.height_mm - points[k].y;
        nearest2 = std::min(nearest2, aside * aside + below * below);
    }
    return std::max(least_of_radius * radius_mm_, of_distance * std::sqrt(nearest2));
}

// The flow's rate of change jumps at records, so a step does not cross one that is near, or as good as: it
// ends at the furthest that it reaches, or goes an even part of the way to the next.
double LegFlow::end_of_step(double travel, double to, double step, std::size_t after) const {
    const bool back = to < travel;
    const auto size = static_cast<std::ptrdiff_t>(records().size());
    const auto ahead = [&](double place) { return back ? travel - place : place - travel; };
    const auto stop = [&](std::ptrdiff_t record) {
        if (record < 0 || record >= size) return to;
        const double place = records()[static_cast<std::size_t>(record)].travel_mm;
        return ahead(place) < ahead(to) ? place : to;
    };
    const int onward = back ? -1 : 1;
    auto next = static_cast<std::ptrdiff_t>(after) - (back ? 1 : 0);
    if (ahead(stop(next)) <= 0) next += onward;
    const double nearest = stop(next), distance = ahead(nearest);
    if (distance > 1.125 * step) return travel + (nearest - travel) / std::ceil(distance / step);
    double end = nearest;
    for (; end != to && ahead(stop(next)) <= step; next += onward) end = stop(next);
    return end;
}

void LegFlow::trace(Vec2* points, int count, double from, double to, Steps steps) const {
    if (still_) return;
    for (int k = 0; k < count; ++k) points[k] = mirrored(points[k]);
    trace_solved(points, count, solved_travel(from), solved_travel(to), steps);
    for (int k = 0; k < count; ++k) points[k] = mirrored(points[k]);
}

// Ralston's third-order Runge-Kutta (1962, Math. Comp. 16, 431).
void LegFlow::trace_solved(Vec2* points, int count, double from, double to, Steps steps) const {
    using Rates = std::array<Vec2, FieldBatch::most>;
    Rates k1, k2, k3, at;
    double travel = from;
    std::size_t after = to < from ? records().size() - 1 : 1;
    Moment now = moment_at(travel, after);
    while (travel != to) {
        const double end = end_of_step(travel, to, step_mm(now.centre_mm, points, count, steps), after);
        const double ds = end - travel;
        const auto advanced = [&](double share, const Rates& rate) {
            for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k)
                at[k] = points[k] + share * ds * rate[k];
        };
        velocities(now, points, count, k1.data());
        advanced(0.5, k1);
        velocities(moment_at(travel + 0.5 * ds, after), at.data(), count, k2.data());
        advanced(0.75, k2);
        velocities(moment_at(travel + 0.75 * ds, after), at.data(), count, k3.data());
        const Moment next = moment_at(end, after);
        for (int k = 0; k < count; ++k) {
            const auto n = static_cast<std::size_t>(k);
            const bool outside = !tool_.holds(points[k] - now.centre_mm);
            points[k] += (ds / 9) * (2.0 * k1[n] + 3.0 * k2[n] + 4.0 * k3[n]);
            if (outside) points[k] = tool_.kept_out(points[k], next.centre_mm);
            points[k].x = std::clamp(points[k].x, 0.0, box_.width_mm);
            points[k].y = std::clamp(points[k].y, 0.0, box_.height_mm);
        }
        travel = end;
        now = next;
    }
}

}  // namespace foreslice::flow
