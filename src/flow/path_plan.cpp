#include "flow/path_plan.h"

#include <cmath>
#include <string>

#include "foundation/error.h"

namespace foreslice::flow {
namespace {

constexpr double straighten_mm = 0.1;
constexpr double shortest_run_mm = 40;
constexpr int most_wires = 40;

void require(bool good, const std::string& place, const std::string& problem, const std::string& allowed) {
    if (!good) throw InputError("", place, problem, allowed);
}

bool within(double value, double low, double high) {
    return std::isfinite(value) && value >= low && value <= high;
}

void check_box(const Box& box) {
    require(within(box.width_mm, 5, 2000), "mould width", plain_number(box.width_mm) + " mm", "5 to 2000 mm");
    require(within(box.height_mm, 5, 2000), "fill height", plain_number(box.height_mm) + " mm",
            "5 to 2000 mm");
}

// The tool's surface must keep a quarter radius from walls and floor: the force on it grows without bound.
void check_clear(const Box& box, Vec2 p, const ToolShape& tool, const std::string& place) {
    require(std::isfinite(p.x) && std::isfinite(p.y), place, "the point is not a number",
            "finite coordinates in mm");
    const double radius = tool.radius_mm();
    const double gap =
        std::min({p.x - (tool.left_mm() - radius), box.width_mm - p.x - (tool.right_mm() - radius),
                  p.y - (tool.below_mm() - radius)}) -
        radius;
    const std::string what = tool.one_wire() ? "the wire" : "the tool";
    require(gap >= 0.25 * radius - 1e-9, place,
            what + " at (" + plain_number(p.x) + ", " + plain_number(p.y) + ") mm comes within " +
                plain_number(gap) + " mm of a wall or the floor",
            "at least a quarter of its radius, " + plain_number(0.25 * radius) + " mm");
    require(p.y <= 10 * box.height_mm + 1000, place, "the point lies far above the mould",
            "up to 1 m above the batter");
}

void check_tool(const Box& box, const Stroke& stroke, const std::string& place) {
    const Tool& tool = stroke.tool;
    if (tool.kind == Tool::Kind::strip) {
        require(within(tool.thickness_mm, 0.5, box.width_mm / 2), place + " strip thickness",
                plain_number(tool.thickness_mm) + " mm", "0.5 mm to half the mould's width");
        require(within(tool.width_mm, tool.thickness_mm, box.width_mm), place + " strip width",
                plain_number(tool.width_mm) + " mm", "the strip's thickness to the mould's width");
        require(within(tool.angle_deg, -90, 90), place + " strip angle",
                plain_number(tool.angle_deg) + " degrees", "-90 to 90 degrees from the horizontal");
        return;
    }
    require(within(stroke.wire_diameter_mm, 0.5, box.width_mm / 2), place + " wire diameter",
            plain_number(stroke.wire_diameter_mm) + " mm", "0.5 mm to half the mould's width");
    if (tool.kind == Tool::Kind::wire) return;
    require(tool.wires >= 1 && tool.wires <= most_wires, place + " comb",
            std::to_string(tool.wires) + " wires", "1 to " + std::to_string(most_wires));
    require(tool.wires == 1 || within(tool.spacing_mm, 1.5 * stroke.wire_diameter_mm, box.width_mm),
            place + " comb spacing", plain_number(tool.spacing_mm) + " mm",
            "1.5 diameters of its wires, " + plain_number(1.5 * stroke.wire_diameter_mm) +
                " mm, to the mould's width");
}

double distance_to_line(Vec2 p, Vec2 a, Vec2 b) {
    const Vec2 along = b - a, to = p - a;
    const double t = std::clamp(dot(to, along) / std::max(dot(along, along), 1e-300), 0.0, 1.0);
    return length(to - t * along);
}

// Douglas & Peucker 1973, iterative so that long drawings cannot exhaust the stack.
std::vector<Vec2> straightened(const std::vector<Vec2>& points) {
    std::vector<bool> keep(points.size(), false);
    keep.front() = keep.back() = true;
    std::vector<std::pair<std::size_t, std::size_t>> open;
    std::size_t piece =
        0;  // turns of more than a right angle stay: a way back along the same line is no detour
    for (std::size_t k = 1; k < points.size(); ++k) {
        const bool turns =
            k + 1 < points.size() && dot(points[k] - points[k - 1], points[k + 1] - points[k]) < 0;
        if (!turns && k + 1 < points.size()) continue;
        keep[k] = true;
        open.emplace_back(piece, k);
        piece = k;
    }
    while (!open.empty()) {
        const auto [first, last] = open.back();
        open.pop_back();
        double farthest = straighten_mm;
        std::size_t at = first;
        for (std::size_t k = first + 1; k < last; ++k) {
            const double distance = distance_to_line(points[k], points[first], points[last]);
            if (distance > farthest) {
                farthest = distance;
                at = k;
            }
        }
        if (at == first) continue;
        keep[at] = true;
        open.emplace_back(first, at);
        open.emplace_back(at, last);
    }
    std::vector<Vec2> out;
    for (std::size_t k = 0; k < points.size(); ++k)
        if (keep[k] && (out.empty() || length(points[k] - out.back()) > 1e-6)) out.push_back(points[k]);
    return out;
}

void add_stroke(const Box& box, const Stroke& stroke, const std::string& place, std::vector<RunPlan>& runs) {
    check_tool(box, stroke, place);
    const ToolShape tool(stroke);
    require(within(stroke.speed_mm_per_s, 0.1, 10000), place + " speed",
            plain_number(stroke.speed_mm_per_s) + " mm/s", "0.1 to 10000 mm/s");
    require(stroke.path_mm.size() >= 2, place, "the path has fewer than two points", "two or more");
    for (const Vec2 p : stroke.path_mm) check_clear(box, p, tool, place);
    const auto points = straightened(stroke.path_mm);
    require(points.size() >= 2, place, "the wire does not move", "a path longer than 0.1 mm");
    RunPlan run{tool.radius_mm(), stroke.speed_mm_per_s, {}, tool};
    for (std::size_t k = 1; k < points.size(); ++k) {
        run.legs.push_back({points[k - 1], points[k]});
        if (run.length_mm() >= shortest_run_mm || k + 1 == points.size()) {
            runs.push_back(run);
            run.legs.clear();
        }
    }
}

}  // namespace

double RunPlan::length_mm() const {
    double sum = 0;
    for (const Leg& leg : legs) sum += length(leg.end_mm - leg.start_mm);
    return sum;
}

std::vector<RunPlan> plan_runs(const Box& box, const std::vector<Stroke>& strokes) {
    check_box(box);
    std::vector<RunPlan> runs;
    for (std::size_t k = 0; k < strokes.size(); ++k)
        add_stroke(box, strokes[k], "stroke " + std::to_string(k + 1), runs);
    double total = 0;
    for (const RunPlan& run : runs) total += run.length_mm();
    require(total <= max_path_mm, "strokes", "the wire's whole path is " + plain_number(total / 1000) + " m",
            "up to " + plain_number(max_path_mm / 1000) + " m");
    return runs;
}

void check_rheology(const batter::Rheology& r) {
    require(within(r.consistency_pa_sn, 1e-6, 1e6), "consistency",
            plain_number(r.consistency_pa_sn) + " Pa s^n", "0.000001 to 1000000 Pa s^n");
    require(within(r.flow_index, 0.1, 1.5), "flow index", plain_number(r.flow_index), "0.1 to 1.5");
    require(within(r.yield_stress_pa, 0, 1e5), "yield stress", plain_number(r.yield_stress_pa) + " Pa",
            "0 to 100000 Pa");
}

void check_resolution(const Resolution& r) {
    require(r.cells_across >= 16 && r.cells_across <= 512, "cells across", std::to_string(r.cells_across),
            "16 to 512");
    require(within(r.position_spacing_mm, 0.1, 50), "position spacing",
            plain_number(r.position_spacing_mm) + " mm", "0.1 to 50 mm");
    require(within(r.map_tolerance_mm, 1e-5, 5), "map tolerance", plain_number(r.map_tolerance_mm) + " mm",
            "0.00001 to 5 mm");
}

}  // namespace foreslice::flow
