// Pours side by side between dividers.
#include <algorithm>
#include <cmath>

#include "foundation/random.h"
#include "picture/filling.h"
#include "picture/section_stages.h"
#include "picture/settling.h"

namespace foreslice::picture {
namespace {

constexpr double along_mm = 60;  // correlation of a hand's wander along the loaf and up a divider
constexpr double up_mm = 14;
constexpr int leans = 40;

// What a sheet drags up when it is pulled. Choices by eye, no source: a fringe about as wide as the sheet is
// thick (common practice, no source), and six thicknesses of lift.
constexpr double reach_per_sheet = 1.6, least_reach_mm = 0.8, lift_per_sheet = 6, below_per_sheet = 5;

double area_between(const Surface& low, const Surface& high, double left_mm, double right_mm) {
    constexpr int parts = 400;
    double sum = 0;
    for (int p = 0; p < parts; ++p) {
        const double x = left_mm + (p + 0.5) / parts * (right_mm - left_mm);
        sum += (high.at(x) - low.at(x)) / parts;
    }
    return sum * (right_mm - left_mm);
}

}  // namespace

// From wall to wall. Widths that are all given are stretched the little that they miss the mould's by.
std::vector<double> Filling::room_edges_mm(const Together& now) const {
    double given = 0, open_area = 0;
    for (std::size_t i = now.first; i < now.end; ++i) {
        if (const auto width = design_.pours[i].beside.width_mm)
            given += *width;
        else
            open_area += areas_mm2_[i];
    }
    const double whole = surface_.width_mm();
    std::vector<double> edges{0};
    for (std::size_t i = now.first; i < now.end; ++i) {
        const auto width = design_.pours[i].beside.width_mm;
        const double own = width ? *width * (open_area > 0 ? 1 : whole / given)
                                 : (whole - given) * areas_mm2_[i] / open_area;
        edges.push_back(std::min(whole, edges.back() + own));
    }
    edges.back() = whole;
    return edges;
}

// The surface while the dividers stand. Its steps take up a column, so levels are set right against the areas
// that the rooms really hold.
Surface Filling::filled_rooms(const Together& now, const std::vector<double>& edges_mm) const {
    const std::size_t rooms = edges_mm.size() - 1;
    std::vector<double> level(rooms, surface_.level_mm());
    Shape heights = surface_.heights_mm();
    for (int round = 0; round < 6; ++round) {
        for (std::size_t i = 0; i < heights.size(); ++i) {
            const auto above = std::upper_bound(edges_mm.begin() + 1, edges_mm.end() - 1, surface_.x_of(i));
            const auto room = static_cast<std::size_t>(above - edges_mm.begin()) - 1;
            heights[i] = std::max(surface_.heights_mm()[i], level[room]);
        }
        const Surface filled(surface_.width_mm(), heights);
        for (std::size_t k = 0; k < rooms; ++k)
            level[k] +=
                (areas_mm2_[now.first + k] - area_between(surface_, filled, edges_mm[k], edges_mm[k + 1])) /
                (edges_mm[k + 1] - edges_mm[k]);
    }
    return {surface_.width_mm(), std::move(heights)};
}

// How far an edge strays from upright, at even heights up to `top_mm`; on average not at all between the two
// heights where there is batter on both sides.
std::vector<double> Filling::leaning_mm(const Together& now, std::size_t edge, double from_mm, double to_mm,
                                        double top_mm) const {
    std::vector<double> lean;
    double sum = 0;
    int inside = 0;
    for (int i = 0; i <= leans; ++i) {
        const double y = top_mm * i / leans;
        lean.push_back(0.5 * first_of(now).unevenness_mm *
                       smooth_field(seed_of(now.first) + 200 + edge, y, z_mm_, up_mm, along_mm));
        if (y < from_mm || y > to_mm) continue;
        sum += lean.back();
        ++inside;
    }
    for (double& aside : lean) aside -= inside > 0 ? sum / inside : 0;
    return lean;
}

void Filling::pour_side_by_side(const Together& now) {
    const auto edges = room_edges_mm(now);
    const Surface raw = filled_rooms(now, edges);
    const double level = raw.level_mm(), step = 2 * raw.column_mm();
    std::vector<Bit> bits;
    for (std::size_t i = now.first; i < now.end; ++i) bits.push_back(bit_of(i));
    std::vector<std::vector<double>> leans_mm;
    std::vector<DragLine> lines;
    for (std::size_t k = 1; k + 1 < edges.size(); ++k) {
        const double foot = surface_.at(edges[k]);
        leans_mm.push_back(leaning_mm(
            now, k, foot, std::min(raw.at(edges[k] - step), raw.at(edges[k] + step)), raw.highest_mm()));
        const double sheet = design_.pours[now.first + k - 1].beside.divider_mm;
        if (sheet <= 0) continue;
        const double side = seeded_uniform(seed_of(now.first) + 200 + k, 5) < 0 ? -1 : 1;
        lines.push_back({edges[k] + side * 0.6 * sheet, reach_per_sheet * sheet + least_reach_mm,
                         -lift_per_sheet * sheet, std::max(0.0, foot - below_per_sheet * sheet), level});
    }
    add(std::make_shared<InRooms>(surface_, std::move(bits),
                                  std::vector<double>(edges.begin() + 1, edges.end() - 1),
                                  std::move(leans_mm), raw.highest_mm()));
    Surface rest = at_rest(now, raw, raw.area_mm2());
    const auto dragged =
        lines.empty() ? nullptr : std::make_shared<Dragged>(flow::Box{raw.width_mm(), level}, lines);
    add(std::make_shared<InBox>(raw, rest, dragged));
    surface_ = std::move(rest);
}

}  // namespace foreslice::picture
