// The skin: the layer round a round wire that the grid does not resolve, and how it ends at the top.
#include <algorithm>
#include <array>
#include <cmath>

#include "flow/dense_kernels.h"
#include "flow/leg_flow.h"

namespace foreslice::flow {

namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double skin_cells = 2;  // the width over which the wire's kernel smears its condition
constexpr std::size_t ring_places = SkinBatch::ring_places;

// Coefficients of the periodic cubic B-spline through equally spaced values, with three repeated at the end
// and the first shifted so that places k .. k + 3 belong to the interval k. The filter's tail is below 1e-12
// after 22 terms.
std::vector<float> periodic_spline(const std::array<double, ring_places>& values) {
    const double pole = std::sqrt(3.0) - 2;
    std::vector<float> out(ring_places + 3);
    for (std::size_t k = 0; k < ring_places + 3; ++k) {
        const std::size_t centre = (k + ring_places - 1) % ring_places;
        double sum = values[centre], power = 1;
        for (std::size_t n = 1; n <= 22; ++n) {
            power *= pole;
            sum += power *
                   (values[(centre + n) % ring_places] + values[(centre + ring_places - n) % ring_places]);
        }
        out[k] = static_cast<float>(sum * -6 * pole / (1 - pole * pole));
    }
    return out;
}

}  // namespace

// Width of the layer round the wire that the grid does not resolve (the wire's condition is smeared over it).
// Neighbouring wires of a comb share what lies between them.
double LegFlow::skin_mm(Vec2 centre) const {
    double room = gap_to_walls(box_, centre, tool_);
    if (tool_.cores().size() > 1)
        room = std::min(room, tool_.cores()[1].a.x - tool_.cores()[0].a.x - 2 * radius_mm_);
    return std::min(skin_cells * cell_mm_, 0.5 * room);
}

// Every ray where the whole circle is in the batter at both records; else only those that stay clear of the
// top by a few of the tables' places, since what stands there reaches a little to either side.
double LegFlow::ring_reach(const Between& near, double skin) const {
    constexpr double every = 2, none = -2, clear = 0.3;
    double reach = every;
    for (const Record* record : near.record) {
        if (record->ring_value.empty()) return none;
        const double to_top = box_.height_mm - (start_ + record->travel_mm * direction_).y;
        if (to_top < radius_mm_ + skin) reach = std::min(reach, to_top / (radius_mm_ + skin) - clear);
    }
    return reach;
}

// The group's places are relative to the wire's centre.
void LegFlow::skin_velocities(const Moment& now, Group& group) const {
    const Between& near = now.near;
    const auto& first = *near.record[0];
    const auto& second = *near.record[1];
    const Vec2 rate = near.share[0] * first.rate + near.share[1] * second.rate;
    std::array<float, SkinBatch::ring_places + 3> value, slope;
    const auto share0 = static_cast<float>(near.share[0]), share1 = static_cast<float>(near.share[1]);
    for (std::size_t k = 0; k < value.size(); ++k) {
        value[k] = share0 * first.ring_value[k] + share1 * second.ring_value[k];
        slope[k] = share0 * first.ring_slope[k] + share1 * second.ring_slope[k];
    }
    SkinBatch batch;
    batch.count = group.count;
    batch.x = group.x.data();
    batch.y = group.y.data();
    batch.u = group.u.data();
    batch.v = group.v.data();
    batch.value = value.data();
    batch.slope = slope.data();
    batch.radius = static_cast<float>(radius_mm_);
    batch.skin = static_cast<float>(now.skin_mm);
    batch.direction_x = static_cast<float>(rate.x);
    batch.direction_y = static_cast<float>(rate.y);
    dense_kernels().skin_velocities(batch);
}

// Where the top is nearer than the skin's edge, the skin ends at the top.
LegFlow::Skin LegFlow::skin_along(Vec2 wire, Vec2 radial, double skin) const {
    constexpr double least = 1e-3;
    if (radial.y <= 0) return {skin, 0};
    const double to_top = (box_.height_mm - wire.y) / radial.y, room = to_top - radius_mm_;
    if (room >= skin) return {skin, 0};
    return {std::max(room, least), room > least ? -to_top * radial.x / radial.y : 0};
}

// Not where the wire's surface is in the air.
bool LegFlow::skin_holds(Vec2 wire, const ToolShape::Nearest& body) const {
    return wire.y + radius_mm_ < box_.height_mm ||
           wire.y + radius_mm_ * body.from_core.y / std::sqrt(body.square) < box_.height_mm;
}

LegFlow::Edge LegFlow::edge_from_field(const Record& record, std::size_t body, Vec2 radial,
                                       double skin) const {
    const Vec2 tangent{-radial.y, radial.x};
    const Vec2 wire = start_ + record.travel_mm * direction_ + tool_.cores()[body].a;
    const auto [width, width_turn] = skin_along(wire, radial, skin);
    const double b = radius_mm_ + width;
    const auto psi = record.field.jet(wire + b * radial);
    const Vec2 gradient{psi.x + record.rate.y, psi.y - record.rate.x};
    const Vec2 turn = width_turn * radial + b * tangent;
    const Vec2 bent{psi.xx * turn.x + psi.xy * turn.y, psi.xy * turn.x + psi.yy * turn.y};
    const double rise = dot(radial, gradient);
    return {psi.value - record.on_cores[body] - b * (record.rate.x * radial.y - record.rate.y * radial.x),
            dot(turn, gradient), width * rise,
            width_turn * rise + width * (dot(tangent, gradient) + dot(radial, bent))};
}

void LegFlow::tabulate_ring(Record& record) const {
    const Vec2 centre = start_ + record.travel_mm * direction_;
    const double skin = skin_mm(centre);
    if (record.field.zero() || skin < 0.1 * cell_mm_) return;
    std::array<double, ring_places> value{}, slope{};
    for (std::size_t k = 0; k < ring_places; ++k) {
        const double angle = 2 * pi * static_cast<double>(k) / ring_places;
        // Above the top anything smooth will do.
        const double rise = std::min(std::sin(angle), (box_.height_mm - centre.y) / (radius_mm_ + skin));
        const Edge edge = edge_from_field(record, 0, {std::cos(angle), std::max(rise, -1.0)}, skin);
        value[k] = edge.value;
        slope[k] = edge.slope;
    }
    record.ring_value = periodic_spline(value);
    record.ring_slope = periodic_spline(slope);
}

// Once the wire has come through the top, batter outside the place where both meet lies beside the skin, not
// beyond it: were the skin to hold all the way to that place, the batter would tear along the ray through it.
LegFlow::Hold LegFlow::hold_at_top(Vec2 wire, Vec2 radial) const {
    const double out = wire.y + radius_mm_ - box_.height_mm;
    if (out <= 0) return {};
    const double wide = std::min(cell_mm_, 0.5 * out);
    const double share = (box_.height_mm - wire.y - radius_mm_ * radial.y) / wide;
    if (share >= 1) return {};
    if (share <= 0) return {0, 0};
    return {share * share * (3 - 2 * share), 6 * share * (1 - share) / wide * -radius_mm_ * radial.x};
}

// As if the fields moved rigidly with the wire here too, which is near enough for a difference.
double LegFlow::psi_on_grid(const Moment& now, Vec2 from_middle) const {
    double psi = 0;
    for (int k = 0; k < 2; ++k) {
        const Record& record = *now.near.record[k];
        if (now.near.share[k] != 0)
            psi +=
                now.near.share[k] * record.field.value(start_ + record.travel_mm * direction_ + from_middle);
    }
    return psi;
}

// Of a layer that the top cuts short.
void LegFlow::cut_skin_velocities(const Moment& now, Group& group, Vec2* out) const {
    Group grid;
    std::array<Hold, FieldBatch::most> holds;
    const auto body_at = [](Vec2 from_wire) {
        return ToolShape::Nearest{0, from_wire, dot(from_wire, from_wire)};
    };
    for (std::size_t k = 0; k < static_cast<std::size_t>(group.count); ++k) {
        const Vec2 from_wire{group.x[k], group.y[k]};
        const Hold hold = hold_at_top(now.centre_mm, (1 / length(from_wire)) * from_wire);
        if (hold.share == 1) {
            out[group.member[k]] = velocity_in_skin(in_skin(now, body_at(from_wire)));
            continue;
        }
        holds[static_cast<std::size_t>(grid.count)] = hold;
        grid.add(group.member[k], now.centre_mm + from_wire);
    }
    if (grid.count == 0) return;
    grid_velocities(now, grid);
    for (std::size_t k = 0; k < static_cast<std::size_t>(grid.count); ++k) {
        const Vec2 from_wire = Vec2{grid.x[k], grid.y[k]} - now.centre_mm;
        const Vec2 on_grid{static_cast<double>(grid.u[k]), static_cast<double>(grid.v[k])};
        out[grid.member[k]] = loosened(now, body_at(from_wire), from_wire, holds[k], on_grid);
    }
}

LegFlow::InSkin LegFlow::in_skin(const Moment& now, const ToolShape::Nearest& body) const {
    InSkin at;
    at.r = std::sqrt(body.square);
    at.radial = (1 / at.r) * body.from_core;
    for (int k = 0; k < 2; ++k) {
        const double share = now.near.share[k];
        if (share == 0) continue;
        const Record& record = *now.near.record[k];
        const Edge part = edge_from_field(record, body.core, at.radial, now.skin_mm);
        at.edge.value += share * part.value;
        at.edge.value_turn += share * part.value_turn;
        at.edge.slope += share * part.slope;
        at.edge.slope_turn += share * part.slope_turn;
        at.rate += share * record.rate;
        at.on_core += share * record.on_cores[body.core];
    }
    at.skin = skin_along(now.centre_mm + tool_.cores()[body.core].a, at.radial, now.skin_mm);
    at.share = std::min((at.r - radius_mm_) / at.skin.width_mm, 1.0);
    return at;
}

// As the kernel skin_velocities, straight from the fields: for a layer that the top cuts short, and for tools
// of several wires.
Vec2 LegFlow::velocity_in_skin(const InSkin& at) {
    const double t = at.share, h1 = t * t * (3 - 2 * t), h2 = t * t * (t - 1);
    const double across =
        (at.edge.value * 6 * t * (1 - t) + at.edge.slope * t * (3 * t - 2)) / at.skin.width_mm;
    const double outward =
        (at.edge.value_turn * h1 + at.edge.slope_turn * h2 - t * at.skin.turn_mm * across) / at.r;
    return at.rate + outward * at.radial - across * Vec2{-at.radial.y, at.radial.x};
}

double LegFlow::psi_in_skin(const InSkin& at) {
    const double t = at.share;
    return at.on_core + at.r * (at.rate.x * at.radial.y - at.rate.y * at.radial.x) +
           at.edge.value * t * t * (3 - 2 * t) + at.edge.slope * t * t * (t - 1);
}

// The velocity of a mean of both stream functions.
Vec2 LegFlow::loosened(const Moment& now, const ToolShape::Nearest& body, Vec2 from_middle, const Hold& hold,
                       Vec2 on_grid) const {
    const InSkin at = in_skin(now, body);
    const double excess = psi_in_skin(at) - psi_on_grid(now, from_middle);
    return hold.share * velocity_in_skin(at) + (1 - hold.share) * on_grid +
           (hold.turn * excess / at.r) * at.radial;
}

}  // namespace foreslice::flow
