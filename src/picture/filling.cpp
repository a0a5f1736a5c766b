#include "picture/filling.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "batter/pouring.h"
#include "foundation/random.h"
#include "picture/section_stages.h"
#include "picture/settling.h"
#include "picture/waves.h"

namespace foreslice::picture {
namespace {

constexpr double along_mm = 60;          // correlation of a hand's wander along the loaf
constexpr double region_step_mm = 0.25;  // of the points that set the parts of marbled batter

std::vector<Vec2> region_between(const Surface& below, const Surface& top) {
    std::vector<Vec2> points;
    for (double x = 0.5 * region_step_mm; x < below.width_mm(); x += region_step_mm)
        for (double y = below.at(x) + 0.5 * region_step_mm; y < top.at(x); y += region_step_mm)
            points.push_back({x, y});
    return points;
}

}  // namespace

Filling::Filling(const design::Design& design, double z_mm)
    : design_(design),
      z_mm_(z_mm),
      areas_mm2_(design::pour_areas_mm2(design)),
      surface_(Surface::flat(design.mould.width_mm, 0)) {
    for (const auto& pour : design.pours)
        if (pour.sifted_over) lines_to_come_mm_ += pour.sifted_over->thickness_mm;
}

void Filling::pour(std::size_t first, std::size_t end) {
    Together now{first, end, 0, end == design_.pours.size()};
    for (std::size_t i = first; i < end; ++i) now.area_mm2 += areas_mm2_[i];
    poured_mm2_ += now.area_mm2;
    switch (first_of(now).manner) {
        case design::PourManner::laid:
            lay(now, wave(now));
            break;
        case design::PourManner::free_fall:
            pour_freely(now);
            break;
        case design::PourManner::down_the_wall:
            pour_down_wall(now);
            break;
        case design::PourManner::tilted:
            lay_tilted(now);
            break;
        case design::PourManner::hills:
            lay_hills(now);
            break;
        case design::PourManner::side_by_side:
            pour_side_by_side(now);
            break;
    }
    for (std::size_t i = first; i < end; ++i) sift(i);
}

void Filling::draw(std::shared_ptr<const flow::FlowMap> map) {
    add(std::make_shared<InBox>(surface_, surface_, std::make_shared<Drawn>(std::move(map))));
}

Section Filling::done() {
    return {surface_.width_mm(), design::box_of(design_).height_mm, std::move(stages_)};
}

double Filling::ceiling_mm() const {
    return design::box_of(design_).height_mm - lines_to_come_mm_;
}

std::uint64_t Filling::seed_of(std::size_t pour) const {
    return mixed_bits(mixed_bits(design_.seed) + pour);
}

Bit Filling::bit_of(std::size_t pour) const {
    return {portion_material(design_, design_.pours[pour].portion), static_cast<int>(pour)};
}

Deposit Filling::deposit_of(const Together& now, const std::vector<Vec2>& region) const {
    if (now.end == now.first + 1) return Deposit(bit_of(now.first));
    std::vector<Bit> bits;
    std::vector<double> parts;
    for (std::size_t i = now.first; i < now.end; ++i) {
        bits.push_back(bit_of(i));
        parts.push_back(areas_mm2_[i]);
    }
    return {std::move(bits), std::make_shared<const Lamellae>(seed_of(now.first) + 17, first_of(now).folds,
                                                              z_mm_, parts, region)};
}

Deposit Filling::deposit_over(const Together& now, const Surface& top) const {
    if (now.end == now.first + 1) return Deposit(bit_of(now.first));
    return deposit_of(now, region_between(surface_, top));
}

Filling::Shape Filling::wave(const Together& now) const {
    Shape wave = wave_mm(design_, now.first, surface_.heights_mm().size(), z_mm_);
    const double tapped = first_of(now).tapped_percent;
    if (tapped > 0)
        for (double& height : wave) height *= 1 - tapped / 100;
    return wave;
}

// What a shape comes to: gravity, the hand's unevenness, tapping; level when the mould is full.
Surface Filling::at_rest(const Together& now, const Surface& shape, double area_mm2) const {
    const double ceiling = ceiling_mm();
    if (now.last) return Surface::flat(surface_.width_mm(), ceiling);
    const auto& pour = first_of(now);
    const double yield_mm = batter::yield_length_mm(design::holding_yield_stress_pa(design_, pour),
                                                    design_.batter.density_kg_per_m3);
    Shape heights = flattened(settled(shape, yield_mm), 1 - pour.tapped_percent / 100).heights_mm();
    const Shape uneven = wave(now);
    for (std::size_t i = 0; i < heights.size(); ++i) heights[i] += uneven[i];
    return fitted({surface_.width_mm(), std::move(heights)}, area_mm2, ceiling);
}

void Filling::lay(const Together& now, const Shape& wave_mm) {
    Surface next = now.last ? Surface::flat(surface_.width_mm(), ceiling_mm())
                            : laid_on(surface_, poured_mm2_, wave_mm, ceiling_mm());
    add(std::make_shared<OnTop>(surface_, deposit_over(now, next)));
    surface_ = std::move(next);
}

void Filling::lay_hills(const Together& now) {
    const auto& hills = first_of(now).hills;
    const double width = surface_.width_mm();
    Shape heights;
    for (std::size_t i = 0; i < surface_.heights_mm().size(); ++i) {
        const double x = surface_.x_of(i);
        double height =
            hills.amplitude_mm * std::cos(2 * std::numbers::pi * (x - hills.crest_mm) / hills.wavelength_mm);
        if (hills.heights_mm.size() > 1) {
            const double place = x / width * static_cast<double>(hills.heights_mm.size() - 1);
            const std::size_t left = std::min(static_cast<std::size_t>(place), hills.heights_mm.size() - 2);
            const double t = place - static_cast<double>(left), eased = t * t * (3 - 2 * t);
            height = hills.heights_mm[left] + eased * (hills.heights_mm[left + 1] - hills.heights_mm[left]);
        }
        heights.push_back(height);
    }
    // The hills stand on the layer's mean level, deep enough that none of them reaches the floor of the sum.
    const double level = std::max(1.0, poured_mm2_ / width);
    const double mean = Surface(width, heights).level_mm();
    for (double& height : heights) height = std::max(0.0, level + height - mean);
    Shape shape = at_rest(now, {width, std::move(heights)}, poured_mm2_).heights_mm();
    for (double& height : shape) height -= level;
    lay(now, shape);
}

// Level in the lab while the mould stands tilted; when the next pour wants another tilt it is set level, and
// the batter keeps what its yield stress holds.
void Filling::lay_tilted(const Together& now) {
    if (now.last) return lay(now, wave(now));
    const auto& pour = first_of(now);
    Shape slope = wave(now);
    for (std::size_t i = 0; i < slope.size(); ++i)
        slope[i] -=
            (surface_.x_of(i) - 0.5 * surface_.width_mm()) * std::tan(pour.tilt_deg * std::numbers::pi / 180);
    lay(now, slope);
    const auto& next = design_.pours[now.end];
    if (next.manner == design::PourManner::tilted && next.tilt_deg == pour.tilt_deg &&
        design::end_of_group(design_, now.end) < design_.pours.size())
        return;
    Surface level = at_rest(now, surface_, poured_mm2_);
    add(std::make_shared<InBox>(surface_, level, nullptr));
    surface_ = std::move(level);
}

// Batter heaped on the surface, then at rest: it pushes what is below it down and aside.
void Filling::heap(const Together& now, const Shape& heap_mm) {
    const double heaped = Surface(surface_.width_mm(), heap_mm).area_mm2();
    Shape heights = surface_.heights_mm();
    for (std::size_t i = 0; i < heights.size(); ++i) heights[i] += heap_mm[i] * now.area_mm2 / heaped;
    const Surface raw(surface_.width_mm(), std::move(heights));
    add(std::make_shared<OnTop>(surface_, deposit_over(now, raw)));
    Surface rest = at_rest(now, raw, raw.area_mm2());
    add(std::make_shared<InBox>(raw, rest, nullptr));
    surface_ = std::move(rest);
}

void Filling::pour_down_wall(const Together& now) {
    const auto& wall = first_of(now).wall;
    const double width = surface_.width_mm();
    const double wander = 1 + 0.1 * smooth_field(seed_of(now.first) + 3, z_mm_, along_mm);
    const double foot = std::clamp(wall.foot_mm * wander, 2 * surface_.column_mm(), width);
    Shape heap_mm;
    for (std::size_t i = 0; i < surface_.heights_mm().size(); ++i) {
        const double x = surface_.x_of(i), away = wall.side == design::Side::left ? x : width - x;
        const double share = std::max(0.0, 1 - away / foot);
        heap_mm.push_back(share * share * (3 - 2 * share));
    }
    heap(now, heap_mm);
}

void Filling::pour_freely(const Together& now) {
    const auto& pour = first_of(now);
    const double width = surface_.width_mm();
    std::vector<double> places = pour.fall.at_mm;
    if (places.empty()) places.push_back(0.5 * width);
    for (std::size_t k = 0; k < places.size(); ++k) {
        const double aside = pour.unevenness_mm * smooth_field(seed_of(now.first) + 40 + k, z_mm_, along_mm);
        places[k] = std::clamp(places[k] + aside, 0.0, width);
    }
    const batter::Rheology rheology = design::rheology_of(pour, design_);
    const auto stream = batter::plunge_of(rheology, design_.batter.density_kg_per_m3, pour.fall.height_mm,
                                          pour.fall.rate_ml_per_s);
    const double before = surface_.level_mm();
    if (stream.depth_mm > 0 && before > 2 * stream.stream_radius_mm)
        return plunge(now, std::min(stream.depth_mm, before), places);
    const double yield_mm =
        batter::yield_length_mm(rheology.yield_stress_pa, design_.batter.density_kg_per_m3);
    if (before <= 0 || yield_mm <= 0) return lay(now, wave(now));
    const auto mound = batter::mound_at_rest(rheology.yield_stress_pa, design_.batter.density_kg_per_m3,
                                             0.5 * now.area_mm2 / static_cast<double>(places.size()));
    const double reach = std::clamp(mound.reach_mm, 2 * surface_.column_mm(), width);
    Shape heap_mm(surface_.heights_mm().size(), 1e-9);
    for (const double place : places)
        for (std::size_t i = 0; i < heap_mm.size(); ++i)
            heap_mm[i] += std::sqrt(std::max(0.0, 1 - std::abs(surface_.x_of(i) - place) / reach));
    heap(now, heap_mm);
}

std::vector<Plume> Filling::plumes_at(const Together& now, double area_mm2,
                                      const std::vector<double>& places_mm) const {
    std::vector<Plume> plumes;
    for (std::size_t k = 0; k < places_mm.size(); ++k) {
        Plume plume{places_mm[k], area_mm2 / static_cast<double>(places_mm.size()), {}};
        for (int i = 0; i <= 24; ++i)
            plume.wander_mm.push_back(first_of(now).unevenness_mm * smooth_field(seed_of(now.first) + 80 + k,
                                                                                 3.0 * i, z_mm_, 12,
                                                                                 along_mm));
        plumes.push_back(std::move(plume));
    }
    return plumes;
}

// The plumes go in as columns; then the stream's drag bends what is beside them. What has no room is laid on
// top.
void Filling::plunge(const Together& now, double depth_mm, const std::vector<double>& places_mm) {
    const double width = surface_.width_mm(), before = surface_.level_mm();
    const double tip = std::max(0.0, before - depth_mm);
    const double area = std::min(now.area_mm2, most_plume_area_mm2(width, before, tip));
    const auto plumes = plumes_at(now, area, places_mm);
    const bool marbled = now.end > now.first + 1;
    const auto region = marbled ? Inserted::region(width, before, tip, plumes) : std::vector<Vec2>{};
    auto inserted = std::make_shared<Inserted>(width, before, tip, plumes, deposit_of(now, region));
    const flow::Box box{width, before + area / width};
    std::vector<DragLine> lines;
    const double length = box.height_mm - tip;
    for (const Plume& plume : plumes) {
        const double mean = plume.area_mm2 / length;
        const double reach = std::clamp(1.0 * mean, 4.0, 0.3 * width);
        lines.push_back(
            {plume.x_mm, reach, 0.26 * (before - tip), std::max(0.0, tip - 0.8 * reach), box.height_mm});
    }
    const double left_over = now.area_mm2 - area;
    const bool all_in = left_over < 1e-9 * now.area_mm2;
    const double poured = poured_mm2_ - left_over;
    Surface after = all_in ? at_rest(now, Surface::flat(width, box.height_mm), poured)
                           : Surface::flat(width, box.height_mm);
    add(std::make_shared<InBox>(surface_, after,
                                std::make_shared<InTurn>(inserted, std::make_shared<Dragged>(box, lines))));
    surface_ = std::move(after);
    if (!all_in) lay(now, wave(now));
}

void Filling::sift(std::size_t pour) {
    const auto& line = design_.pours[pour].sifted_over;
    if (!line) return;
    const int material = line_material(design_, line->colourant);
    add(std::make_shared<OnTop>(surface_,
                                Deposit({material, static_cast<int>(design_.pours.size() + pour)})));
    Shape heights = surface_.heights_mm();
    for (double& height : heights) height += line->thickness_mm;
    surface_ = Surface(surface_.width_mm(), std::move(heights));
    poured_mm2_ += design::line_area_mm2(design_, design_.pours[pour]);
    lines_to_come_mm_ -= line->thickness_mm;
}

}  // namespace foreslice::picture
