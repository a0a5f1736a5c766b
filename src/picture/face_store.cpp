#include "picture/face_store.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "design/hand.h"
#include "foundation/content_key.h"
#include "picture/hand_wander.h"
#include "picture/keys.h"
#include "picture/layers.h"
#include "picture/origin_band.h"
#include "picture/section_coverage.h"
#include "picture/so_far.h"
#include "picture/topped.h"
#include "picture/waves.h"

namespace foreslice::picture {
namespace {

constexpr int samples_across_in_bands = 3;
constexpr int samples_across_as_poured = 4;
constexpr double most_view_step_mm = 0.25;  // between nodes of the top as it is seen

std::size_t bytes_of(const flow::OriginRaster& origins) {
    return sizeof(float) * (origins.x_mm.size() + origins.y_mm.size() + origins.log_stretch.size()) +
           sizeof(std::uint32_t) * origins.first.size();
}

/// The portion that a deposit of a section counts for: its own, or the one that a line is sifted over.
std::vector<int> portions_of_deposits(const design::Design& design) {
    std::vector<int> portions;
    for (int turn = 0; turn < 2; ++turn)
        for (const auto& pour : design.pours) portions.push_back(portion_material(design, pour.portion));
    return portions;
}

}  // namespace

bool reshaped(const design::Design& design) {
    return !design.top.spooned.empty() || !design.top.strokes.empty();
}

std::vector<int> portions_of_heaps(const design::Design& design) {
    std::vector<int> portions;
    for (const auto& spooned : design.top.spooned)
        portions.push_back(portion_material(design, spooned.portion));
    return portions;
}

std::shared_ptr<const flow::FlowMap> FaceMaker::Store::map(const design::Design& design,
                                                           design::StrokeGroup group, double z_mm,
                                                           const flow::Resolution& resolution,
                                                           Progress& progress) {
    const auto box = design::box_after(design, group.pours);
    group.strokes = design::trailing_strokes(std::move(group.strokes), design::wire_lag_mm(design, z_mm));
    const bool coupled = design::portions_differ(design);
    std::uint64_t key = flow_key(design, group, resolution);
    if (coupled) key = joined(key, coupled_key(design, group, z_mm, resolution));
    auto meant = maps.get(key, [&] {
        const auto made =
            coupled ? engine.map(box, materials_before(design, group, z_mm, resolution, progress),
                                 group.strokes, resolution, progress)
                    : engine.map(box, design::shared_rheology(design), group.strokes, resolution, progress);
        return std::pair{made, std::size_t{1}};
    });
    return wandered(std::move(meant), box, design.seed, design.hand.wander_mm, z_mm);
}

std::shared_ptr<const flow::FlowMap> FaceMaker::Store::map(const design::Design& design, double z_mm,
                                                           const flow::Resolution& resolution,
                                                           Progress& progress, double path_share) {
    return map(design, {design.pours.size(), strokes_so_far(design::flow_strokes_of(design), path_share)},
               z_mm, resolution, progress);
}

flow::Materials FaceMaker::Store::materials_before(const design::Design& design,
                                                   const design::StrokeGroup& group, double z_mm,
                                                   const flow::Resolution& resolution, Progress& progress) {
    flow::Materials materials;
    for (const auto& portion : design.portions)
        materials.rheologies.push_back(design::rheology_of(portion, design));
    materials.at = portions_at(design, group.pours, z_mm, resolution, progress);
    materials.key = coupled_key(design, group, z_mm, resolution);
    return materials;
}

std::shared_ptr<const Section> FaceMaker::Store::section(const design::Design& design, double z_mm,
                                                         const flow::Resolution& resolution,
                                                         Progress& progress) {
    return sections.get(section_key(design, z_mm, resolution), [&] {
        return std::pair{section_after(design, design.pours.size(), z_mm, resolution, progress),
                         std::size_t{1}};
    });
}

std::shared_ptr<const Section> FaceMaker::Store::section_after(const design::Design& design,
                                                               std::size_t pours, double z_mm,
                                                               const flow::Resolution& resolution,
                                                               Progress& progress) {
    EarlyMaps early;
    for (const auto& group : design::stroke_groups(design))
        if (group.pours < pours) early.push_back(map(design, group, z_mm, resolution, progress));
    return std::make_shared<const Section>(picture::section_after(design, pours, z_mm, early, progress));
}

std::uint64_t FaceMaker::Store::key_of_raster(const design::Design& design, double z_mm, double px_per_mm,
                                              const flow::Resolution& resolution, double path_share) {
    return ContentKey().add(flow_key(design, z_mm, resolution)).add(px_per_mm).add(path_share).value();
}

std::shared_ptr<const flow::OriginRaster> FaceMaker::Store::origin_raster(
    const design::Design& design, double z_mm, double px_per_mm, const flow::Resolution& resolution,
    const flow::FlowMap& map, Progress& progress, double path_share) {
    return origins.get(key_of_raster(design, z_mm, px_per_mm, resolution, path_share), [&] {
        auto made = std::make_shared<const flow::OriginRaster>(
            engine.origins(map, design::box_of(design), px_per_mm, progress));
        const std::size_t bytes = bytes_of(*made);
        return std::pair{std::shared_ptr<const flow::OriginRaster>(std::move(made)), bytes};
    });
}

std::shared_ptr<const FinishedTop> FaceMaker::Store::top(const design::Design& design, double z_mm) {
    if (!reshaped(design)) return nullptr;
    return tops.get(top_key(design, z_mm), [&] {
        return std::pair{std::make_shared<const FinishedTop>(design, z_mm), std::size_t{1}};
    });
}

std::shared_ptr<const TopSlices> FaceMaker::Store::slices_of(const design::Design& design, double z_mm) {
    const auto key = ContentKey()
                         .add(top_key(design, z_mm))
                         .add(std::clamp(design.mould.length_mm - z_mm, 2.0, design.cut.bar_thickness_mm))
                         .value();
    return slices.get(key, [&] {
        auto made = std::make_shared<const TopSlices>(slices_of_top(design, z_mm, pool));
        return std::pair{std::shared_ptr<const TopSlices>(std::move(made)), std::size_t{1}};
    });
}

double FaceMaker::Store::high_mm(const design::Design& design, double z_mm) {
    constexpr double room_mm = 7;
    const auto behind = slices_of(design, z_mm);
    const double thick_mm = behind->row_mm * static_cast<double>(behind->tops.size() - 1);
    double high = behind->tops.front().surface().highest_mm();
    for (std::size_t row = 1; row < behind->tops.size(); ++row)
        high = std::max(high, behind->tops[row].surface().highest_mm() - room_mm +
                                  rise_per_depth(thick_mm) * behind->row_mm * static_cast<double>(row));
    return high;
}

std::shared_ptr<const Coverage> FaceMaker::Store::worked(const design::Design& design,
                                                         const FaceRequest& request, double z_mm,
                                                         std::shared_ptr<const flow::FlowMap> map,
                                                         Progress& progress) {
    const auto flow = map ? flow_key(design, z_mm, request.resolution) : 0;
    const auto key = joined(joined(flow, section_key(design, z_mm, request.resolution)),
                            ContentKey().add(top_key(design, z_mm)).add(request.px_per_mm).value());
    return coverages.get(key, [&] {
        const auto finished = top(design, z_mm);
        const auto whole = topped(std::move(map), finished);
        const auto lattice = lattice_with_top(*finished, request.px_per_mm, high_mm(design, z_mm));
        const int samples = samples_across_in_bands;
        const int kinds = static_cast<int>(materials_of(design).size());
        Coverage below =
            needs_section(design)
                ? section_coverage(*section(design, z_mm, request.resolution, progress), kinds, *whole,
                                   lattice, samples, pool, progress)
                : carried_coverage(LayerStack(design, z_mm), kinds, *whole, lattice, samples, pool, progress);
        return weighed(with_top(std::move(below), *finished, portions_of_heaps(design), lattice, pool));
    });
}

std::shared_ptr<const TopView> FaceMaker::Store::view(const design::Design& design,
                                                      const FaceRequest& request, double z_mm,
                                                      Progress& progress) {
    const double step_mm = std::min(most_view_step_mm, 1 / request.px_per_mm);
    const auto key = joined(
        joined(
            joined(flow_key(design, z_mm, request.resolution), section_key(design, z_mm, request.resolution)),
            joined(top_key(design, z_mm), inclusions_key(design))),
        ContentKey().add(step_mm).add(design.cut.bar_thickness_mm).add(design.mould.length_mm).value());
    return views.get(key, [&] {
        const auto at = surface_material(design, z_mm, request.resolution, progress);
        auto made = std::make_shared<const TopView>(view_of_top(
            design, z_mm, step_mm, *slices_of(design, z_mm), at, portions_of_heaps(design), pool));
        return std::pair{std::shared_ptr<const TopView>(std::move(made)), std::size_t{1}};
    });
}

std::function<int(double)> FaceMaker::Store::surface_material(const design::Design& design, double z_mm,
                                                              const flow::Resolution& resolution,
                                                              Progress& progress) {
    constexpr double skin_mm = 0.1;
    const double y = design::box_of(design).height_mm - skin_mm;
    auto portion_at = portions_at(design, design.pours.size(), z_mm, resolution, progress);
    if (design::flow_strokes_of(design).empty())
        return [portion_at, y](double x_mm) { return portion_at({x_mm, y}); };
    return [portion_at, y, last = map(design, z_mm, resolution, progress)](double x_mm) {
        return portion_at(last->origin_mm({x_mm, y}));
    };
}

std::shared_ptr<const std::vector<PlacedBit>> FaceMaker::Store::placed_bits(const design::Design& design,
                                                                            const FaceRequest& request,
                                                                            double z_mm, Progress& progress) {
    const bool drawn = request.stage == Stage::drawn;
    const bool done = drawn && request.path_share >= 1;
    const bool flows = drawn && !strokes_so_far(design::flow_strokes_of(design), request.path_share).empty();
    const auto key = joined(joined(flows ? joined(flow_key(design, z_mm, request.resolution),
                                                  ContentKey().add(request.path_share).value())
                                         : 0,
                                   section_key(design, z_mm, request.resolution)),
                            joined(done ? top_key(design, z_mm) : 1, inclusions_key(design)));
    return bits.get(key, [&] {
        BitGround ground{
            design::box_of(design), pours_at(design, z_mm, request.resolution, progress),
            flows ? map(design, z_mm, request.resolution, progress, request.path_share) : nullptr,
            done ? top(design, z_mm) : nullptr, z_mm};
        auto made = std::make_shared<const std::vector<PlacedBit>>(bits_on_face(design, ground, done));
        return std::pair{std::shared_ptr<const std::vector<PlacedBit>>(std::move(made)), std::size_t{1}};
    });
}

std::function<int(Vec2)> FaceMaker::Store::pours_at(const design::Design& design, double z_mm,
                                                    const flow::Resolution& resolution, Progress& progress) {
    const int pours = static_cast<int>(design.pours.size());
    if (needs_section(design))
        return [laid = section(design, z_mm, resolution, progress), pours](Vec2 point_mm) {
            return laid->at(point_mm).deposit % pours;
        };
    return [laid = std::make_shared<const LayerStack>(design, z_mm)](Vec2 point_mm) {
        return laid->pour_of_layer(laid->layer_at(point_mm));
    };
}

std::shared_ptr<const Coverage> FaceMaker::Store::drawn(const design::Design& design,
                                                        const FaceRequest& request, double z_mm,
                                                        const flow::FlowMap& map, Progress& progress) {
    const auto raster_key =
        key_of_raster(design, z_mm, request.px_per_mm, request.resolution, request.path_share);
    const auto key = joined(raster_key, section_key(design, z_mm, request.resolution));
    return coverages.get(key, [&] {
        const auto box = design::box_of(design);
        const double scale = request.px_per_mm;
        const bool in_bands = box.width_mm * box.height_mm * scale * scale > most_pixels_in_a_raster;
        const int kinds = static_cast<int>(materials_of(design).size());
        const auto cover = [&](const auto& laid) {
            return in_bands ? covered(laid, kinds, map, scale, progress)
                            : covered(laid, kinds,
                                      *origin_raster(design, z_mm, scale, request.resolution, map, progress,
                                                     request.path_share),
                                      progress);
        };
        if (needs_section(design))
            return weighed(cover(*section(design, z_mm, request.resolution, progress)));
        return weighed(cover(LayerStack(design, z_mm)));
    });
}

Coverage FaceMaker::Store::covered(const LayerStack& stack, int kinds, const flow::FlowMap& map,
                                   double px_per_mm, Progress& progress) {
    return carried_coverage(stack, kinds, map, px_per_mm, samples_across_in_bands, pool, progress);
}

Coverage FaceMaker::Store::covered(const LayerStack& stack, int kinds, const flow::OriginRaster& raster,
                                   Progress& progress) {
    return carried_coverage(stack, kinds, raster, pool, progress);
}

Coverage FaceMaker::Store::covered(const Section& section, int kinds, const flow::FlowMap& map,
                                   double px_per_mm, Progress& progress) {
    return section_coverage(section, kinds, map, px_per_mm, samples_across_in_bands, pool, progress);
}

Coverage FaceMaker::Store::covered(const Section& section, int kinds, const flow::OriginRaster& raster,
                                   Progress& progress) {
    return section_coverage(section, kinds, raster, pool, progress);
}

std::shared_ptr<const Coverage> FaceMaker::Store::poured(const design::Design& design,
                                                         const FaceRequest& request, double z_mm,
                                                         Progress& progress) {
    const auto key = ContentKey()
                         .add("poured")
                         .add(section_key(design, z_mm, request.resolution))
                         .add(request.px_per_mm)
                         .value();
    return coverages.get(key, [&] {
        const int kinds = static_cast<int>(materials_of(design).size());
        if (needs_section(design))
            return weighed(section_coverage(*section(design, z_mm, request.resolution, progress), kinds,
                                            request.px_per_mm, samples_across_as_poured, pool, progress));
        return weighed(poured_coverage(LayerStack(design, z_mm), kinds, request.px_per_mm, pool, progress));
    });
}

PortionAt FaceMaker::Store::portions_at(const design::Design& design, std::size_t pours, double z_mm,
                                        const flow::Resolution& resolution, Progress& progress) {
    if (needs_section(design))
        return
            [laid = pours == design.pours.size() ? section(design, z_mm, resolution, progress)
                                                 : section_after(design, pours, z_mm, resolution, progress),
             under = portions_of_deposits(design)](Vec2 point_mm) {
                return under[static_cast<std::size_t>(laid->at(point_mm).deposit)];
            };
    return [laid = std::make_shared<const LayerStack>(design, z_mm)](Vec2 point_mm) {
        return laid->portion_at(point_mm);
    };
}

std::function<Whence(Vec2)> FaceMaker::Store::whence_before_strokes(const design::Design& design, double z_mm,
                                                                    const flow::Resolution& resolution,
                                                                    Progress& progress) {
    if (needs_section(design))
        return [laid = section(design, z_mm, resolution, progress),
                pours = static_cast<int>(design.pours.size())](Vec2 point_mm) {
            const Section::Origin origin = laid->origin(point_mm);
            return Whence{origin.bit.material, origin.bit.deposit % pours, origin.point_mm};
        };
    return [laid = std::make_shared<const LayerStack>(design, z_mm)](Vec2 point_mm) {
        const int layer = laid->layer_at(point_mm);
        return Whence{laid->portion_of_layer(layer), laid->pour_of_layer(layer), point_mm};
    };
}

std::pair<std::shared_ptr<const Coverage>, std::size_t> FaceMaker::Store::weighed(Coverage coverage) {
    const std::size_t bytes = coverage.bytes();
    return {std::make_shared<const Coverage>(std::move(coverage)), bytes};
}

}  // namespace foreslice::picture
