#include "picture/top.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "batter/pouring.h"
#include "foundation/random.h"
#include "picture/settling.h"
#include "picture/surface.h"
#include "picture/top_shapes.h"

namespace foreslice::picture {
namespace {

constexpr double felt_per_spacing = 0.45;  // how deep a tool's mark is felt
constexpr double bearing = 2 + std::numbers::pi;

// What gravity leaves of a surface. Long slopes are settled on the pours' coarser columns.
Profile at_rest(const Profile& shape, double yield_length_mm) {
    std::vector<double> coarse(Surface::columns_over(shape.width_mm()));
    const double step_mm = shape.width_mm() / static_cast<double>(coarse.size() - 1);
    for (std::size_t i = 0; i < coarse.size(); ++i) coarse[i] = shape.at(static_cast<double>(i) * step_mm);
    const Surface before(shape.width_mm(), std::move(coarse));
    const Surface rest = settled(before, yield_length_mm);
    // What the columns miss is finer than half a millimetre; it goes down with what it stands on.
    const double was = before.highest_mm() - before.level_mm(), is = rest.highest_mm() - rest.level_mm();
    const double kept = was > 0 ? std::clamp(is / was, 0.0, 1.0) : 0;
    std::vector<double> heights = shape.heights_mm();
    for (std::size_t i = 0; i < heights.size(); ++i) {
        const double x = shape.x_of(i);
        heights[i] = rest.at(x) + kept * (heights[i] - before.at(x));
    }
    return {shape.width_mm(), std::move(heights)};
}

// How thick a heap lies once it has slumped on a surface: its area is kept.
Profile slumped(const Profile& below, const Profile& heap, double yield_length_mm) {
    const double area_mm2 = heap.integral_mm2(heap.width_mm());
    const Profile rest = at_rest(below + heap, yield_length_mm);
    std::vector<double> heights = rest.heights_mm();
    for (std::size_t i = 0; i < heights.size(); ++i)
        heights[i] = std::max(0.0, heights[i] - below.heights_mm()[i]);
    const double held_mm2 = Profile(heap.width_mm(), heights).integral_mm2(heap.width_mm());
    if (held_mm2 <= 0) return heap;
    for (double& height : heights) height *= area_mm2 / held_mm2;
    return {heap.width_mm(), std::move(heights)};
}

Profile scaled(const Profile& profile, double factor) {
    std::vector<double> heights = profile.heights_mm();
    for (double& height : heights) height *= factor;
    return {profile.width_mm(), std::move(heights)};
}

}  // namespace

FinishedTop::FinishedTop(const design::Design& design, double z_mm)
    : rest_mm_(design::box_of(design).height_mm),
      yield_length_mm_(
          batter::yield_length_mm(design::top_yield_stress_pa(design), design.batter.density_kg_per_m3)),
      felt_from_mm_(rest_mm_),
      heaps_from_mm_(rest_mm_),
      surface_(Profile::flat(design.mould.width_mm, rest_mm_)) {
    const auto areas_mm2 = design::spooned_areas_mm2(design);
    for (std::size_t i = 0; i < areas_mm2.size(); ++i)
        if (areas_mm2[i] > 0) spoon(design, i, areas_mm2[i], z_mm);
    for (std::size_t i = 0; i < design.top.strokes.size(); ++i) work(design, i, z_mm);
    felt_from_mm_ = std::max(0.0, std::min(felt_from_mm_, surface_.lowest_mm()));
    find_lowest_of_heaps();
}

// Borders are carried on by all that comes after; between columns they may lie a little lower still.
void FinishedTop::find_lowest_of_heaps() {
    constexpr double between_columns_mm = 0.3;
    heaps_from_mm_ = surface_.highest_mm();
    for (std::size_t i = 0; i < heaps_.size(); ++i) {
        const Profile& border = heaps_[i].dent.after();
        for (std::size_t column = 0; column < border.heights_mm().size(); ++column) {
            Vec2 at{border.x_of(column), border.heights_mm()[column]};
            for (std::size_t later = i + 1; later < heaps_.size(); ++later) at = heaps_[later].dent.forth(at);
            for (const TopStep& step : strokes_) at = step.forth(at);
            heaps_from_mm_ = std::min(heaps_from_mm_, at.y - between_columns_mm);
        }
    }
}

void FinishedTop::feel(const TopStep& step) {
    felt_from_mm_ = std::min(felt_from_mm_, step.before().lowest_mm() - step.felt_mm());
}

void FinishedTop::spoon(const design::Design& design, std::size_t index, double area_mm2, double z_mm) {
    const design::Spooned& spooned = design.top.spooned[index];
    const std::uint64_t seed = mixed_bits(mixed_bits(design.seed ^ 0x5b00) + index);
    const Profile heap =
        slumped(surface_, heap_mm(spooned, design.mould.width_mm, area_mm2, seed, z_mm), yield_length_mm_);
    const double carried_mm = bearing * yield_length_mm_, highest_mm = heap.highest_mm();
    const double sunk = highest_mm > carried_mm ? 1 - carried_mm / highest_mm : 0;
    TopStep dent(surface_, scaled(heap, -sunk), 0.5 * spooned.width_mm);
    surface_ = dent.after() + heap;
    feel(dent);
    heaps_.push_back({index, std::move(dent)});
}

void FinishedTop::work(const design::Design& design, std::size_t index, double z_mm) {
    const design::TopStroke& stroke = design.top.strokes[index];
    const std::uint64_t seed = mixed_bits(mixed_bits(design.seed ^ 0x70b1) + index);
    const Profile rise = worked_mm(stroke, design.mould.width_mm, seed, z_mm).about_mean(1);
    const Profile rest = at_rest(surface_ + rise, yield_length_mm_);
    TopStep step(surface_, rest + scaled(surface_, -1), felt_per_spacing * stroke.spacing_mm);
    surface_ = step.after();
    feel(step);
    strokes_.push_back(std::move(step));
}

std::optional<std::size_t> FinishedTop::heap_at(Vec2 point_mm) const {
    if (heaps_.empty()) return std::nullopt;
    for (auto step = strokes_.rbegin(); step != strokes_.rend(); ++step) point_mm = step->back(point_mm);
    for (auto heap = heaps_.rbegin(); heap != heaps_.rend(); ++heap) {
        if (point_mm.y >= heap->dent.after().at(point_mm.x)) return heap->spooned;
        point_mm = heap->dent.back(point_mm);
    }
    return std::nullopt;
}

Vec2 FinishedTop::back(Vec2 point_mm) const {
    if (point_mm.y <= felt_from_mm_) return point_mm;
    for (auto step = strokes_.rbegin(); step != strokes_.rend(); ++step) {
        point_mm.y = std::min(point_mm.y, step->after().at(point_mm.x));
        point_mm = step->back(point_mm);
    }
    for (auto heap = heaps_.rbegin(); heap != heaps_.rend(); ++heap) {
        point_mm.y = std::min(point_mm.y, heap->dent.after().at(point_mm.x));
        point_mm = heap->dent.back(point_mm);
    }
    return {point_mm.x, std::min(point_mm.y, rest_mm_)};
}

Vec2 FinishedTop::forth(Vec2 point_mm) const {
    for (const Heap& heap : heaps_) point_mm = heap.dent.forth(point_mm);
    for (const TopStep& step : strokes_) point_mm = step.forth(point_mm);
    return point_mm;
}

}  // namespace foreslice::picture
