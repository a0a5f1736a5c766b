#include "picture/keys.h"

#include "design/hand.h"
#include "design/tint.h"
#include "foundation/content_key.h"
#include "picture/section.h"

namespace foreslice::picture {
namespace {

void add(ContentKey& key, const batter::Rheology& r) {
    key.add(r.consistency_pa_sn).add(r.flow_index).add(r.yield_stress_pa);
}

std::uint64_t flow_key(const flow::Box& box, const batter::Rheology& rheology,
                       const std::vector<flow::Stroke>& strokes, const flow::Resolution& resolution) {
    ContentKey key;
    key.add(box.width_mm).add(box.height_mm);
    add(key, rheology);
    key.add(resolution.cells_across).add(resolution.position_spacing_mm).add(resolution.map_tolerance_mm);
    for (const auto& stroke : strokes) {
        key.add(stroke.wire_diameter_mm).add(stroke.speed_mm_per_s).add(stroke.path_mm.size());
        if (!(stroke.tool == flow::Tool{}))
            key.add(static_cast<int>(stroke.tool.kind))
                .add(stroke.tool.wires)
                .add(stroke.tool.spacing_mm)
                .add(stroke.tool.width_mm)
                .add(stroke.tool.thickness_mm)
                .add(stroke.tool.angle_deg);
        for (Vec2 point : stroke.path_mm) key.add(point.x).add(point.y);
    }
    return key.value();
}

// What the hand makes of the strokes at one place along the loaf: nothing when it is steady.
void add_hand(ContentKey& key, const design::Design& design, double z_mm) {
    key.add(design::wire_lag_mm(design, z_mm));
    if (design.hand.wander_mm != 0) key.add(design.hand.wander_mm).add(design.seed).add(z_mm);
}

void add_list(ContentKey& key, const std::vector<double>& values) {
    key.add(values.size());
    for (const double value : values) key.add(value);
}

void add_pour(ContentKey& key, const design::Pour& pour) {
    key.add(pour.unevenness_mm).add(static_cast<int>(pour.manner)).add(pour.with_previous).add(pour.folds);
    key.add(pour.fall.height_mm).add(pour.fall.rate_ml_per_s);
    add_list(key, pour.fall.at_mm);
    key.add(static_cast<int>(pour.wall.side)).add(pour.wall.foot_mm).add(pour.tilt_deg);
    key.add(pour.hills.amplitude_mm).add(pour.hills.wavelength_mm).add(pour.hills.crest_mm);
    add_list(key, pour.hills.heights_mm);
    key.add(pour.beside.width_mm.value_or(-1)).add(pour.beside.divider_mm);
    key.add(pour.firmed_yield_stress_pa.value_or(-1)).add(pour.tapped_percent);
    if (pour.sifted_over) key.add(pour.sifted_over->colourant).add(pour.sifted_over->thickness_mm);
}

void add(ContentKey& key, const design::ColourantDose& dose, double batter_kg_per_kg_oils) {
    key.add(dose.colourant).add(dose.g_per_kg_oils);
    if (!dose.stated) return;
    const auto dispersion = dose.dispersion.value_or(colour::Dispersion{});
    key.add(std::string(key_of(dose.stated->unit))).add(dose.stated->amount).add(batter_kg_per_kg_oils);
    key.add(std::string(name_of(dispersion.carrier)))
        .add(dispersion.parts_of_carrier)
        .add(dispersion.drops_per_ml);
}

}  // namespace

std::uint64_t joined(std::uint64_t a, std::uint64_t b) {
    return ContentKey().add(a).add(b).value();
}

std::uint64_t flow_key(const design::Design& design, const design::StrokeGroup& group,
                       const flow::Resolution& resolution) {
    return flow_key(design::box_after(design, group.pours), design::shared_rheology(design), group.strokes,
                    resolution);
}

std::uint64_t coupled_key(const design::Design& design, const design::StrokeGroup& group, double z_mm,
                          const flow::Resolution& resolution) {
    ContentKey key;
    key.add(section_key(design, z_mm, resolution)).add(group.pours);
    for (const auto& portion : design.portions) add(key, design::rheology_of(portion, design));
    return key.value();
}

std::uint64_t flow_key(const design::Design& design, double z_mm, const flow::Resolution& resolution) {
    const double lag_mm = design::wire_lag_mm(design, z_mm);
    const auto strokes = design::trailing_strokes(design::flow_strokes_of(design), lag_mm);
    ContentKey key;
    const design::StrokeGroup group{design.pours.size(), strokes};
    key.add(flow_key(design, group, resolution));
    add_hand(key, design, z_mm);
    if (design::portions_differ(design)) key.add(coupled_key(design, group, z_mm, resolution));
    return key.value();
}

std::uint64_t section_key(const design::Design& design, double z_mm, const flow::Resolution& resolution) {
    ContentKey key;
    const auto box = design::box_of(design);
    key.add(box.width_mm).add(box.height_mm).add(design.seed).add(z_mm).add(design.portions.size());
    const auto areas_mm2 = design::pour_areas_mm2(design);
    for (std::size_t pour = 0; pour < design.pours.size(); ++pour) {
        const design::Portion* portion = design::find_portion(design, design.pours[pour].portion);
        key.add(static_cast<std::int64_t>(portion - design.portions.data())).add(areas_mm2[pour]);
        add_pour(key, design.pours[pour]);
    }
    if (needs_section(design)) {
        add(key, design::shared_rheology(design));
        key.add(design.batter.density_kg_per_m3);
        if (design::portions_differ(design))
            for (const auto& portion : design.portions) add(key, design::rheology_of(portion, design));
    }
    for (const auto& group : design::stroke_groups(design))
        if (group.pours < design.pours.size()) {
            key.add(group.pours).add(flow_key(design, group, resolution));
            add_hand(key, design, z_mm);
        }
    return key.value();
}

std::uint64_t top_key(const design::Design& design, double z_mm) {
    ContentKey key;
    const auto box = design::box_of(design);
    key.add("top").add(box.width_mm).add(box.height_mm).add(design.seed).add(z_mm);
    key.add(design::top_yield_stress_pa(design)).add(design.batter.density_kg_per_m3);
    const auto areas_mm2 = design::spooned_areas_mm2(design);
    for (std::size_t i = 0; i < areas_mm2.size(); ++i) {
        const design::Spooned& spooned = design.top.spooned[i];
        const design::Portion* portion = design::find_portion(design, spooned.portion);
        key.add(static_cast<std::int64_t>(portion - design.portions.data())).add(areas_mm2[i]);
        key.add(spooned.at_mm.value_or(-1)).add(spooned.width_mm).add(spooned.lump_mm);
    }
    for (const auto& stroke : design.top.strokes)
        key.add(static_cast<int>(stroke.tool))
            .add(static_cast<int>(stroke.motion))
            .add(stroke.height_mm)
            .add(stroke.spacing_mm)
            .add(stroke.lean)
            .add(stroke.crest_mm.value_or(-1));
    key.add(design.top.glitter.size());
    for (const auto& glitter : design.top.glitter) key.add(glitter.cover_percent).add(glitter.size_mm);
    return key.value();
}

std::uint64_t inclusions_key(const design::Design& design) {
    ContentKey key;
    key.add(design.seed).add(design.inclusions.scattered.size());
    for (const auto& bits : design.inclusions.scattered) {
        key.add(bits.portion).add(bits.pour.value_or(-1)).add(bits.on_top).add(static_cast<int>(bits.shape));
        key.add(bits.per_cm2).add(bits.percent.value_or(-1)).add(bits.least_mm).add(bits.most_mm);
        key.add(bits.roundness);
    }
    for (const auto& embed : design.inclusions.embeds) {
        key.add(static_cast<int>(embed.shape)).add(static_cast<int>(embed.laid));
        key.add(embed.at_mm.x).add(embed.at_mm.y).add(embed.width_mm).add(embed.height_mm);
        key.add(embed.angle_deg).add(embed.points_mm.size());
        for (const Vec2 point : embed.points_mm) key.add(point.x).add(point.y);
    }
    return key.value();
}

std::uint64_t colours_key(const design::Design& design, const colour::ColourantLibrary& library) {
    ContentKey key;
    key.add(library.key()).add(design.cut.bar_thickness_mm);
    const colour::BarState state = design::bar_state_of(design);
    key.add(state.superfat_percent).add(state.lye_percent).add(state.gelled).add(state.age_days);
    key.add(state.vanillin_g_per_kg_oils).add(state.oils.size());
    for (const auto& oil : state.oils) key.add(oil.oil).add(oil.percent);
    const double batter = design::batter_kg_per_kg_oils(design);
    for (const auto& portion : design.portions) {
        key.add(portion.doses.size());
        for (const auto& dose : portion.doses) add(key, dose, batter);
        add(key, portion.white, batter);
    }
    for (const auto& pour : design.pours)
        if (pour.sifted_over) key.add("line").add(pour.sifted_over->colourant);
    return key.value();
}

}  // namespace foreslice::picture
