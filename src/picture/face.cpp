#include "picture/face.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <utility>

#include "design/hand.h"
#include "design/tint.h"
#include "design/validation.h"
#include "foundation/content_key.h"
#include "foundation/error.h"
#include "picture/hand_wander.h"
#include "picture/keys.h"
#include "picture/layers.h"
#include "picture/light.h"
#include "picture/origin_band.h"
#include "picture/recent.h"
#include "picture/section_coverage.h"
#include "picture/so_far.h"
#include "picture/waves.h"

namespace foreslice::picture {
namespace {

constexpr std::size_t mebibyte = std::size_t{1} << 20U;

// Above this many pixels the raster of origins would need some 400 MB.
constexpr double most_pixels_in_a_raster = 3e6;
// A line of powder that batter soaked into counts as this dose: a choice, no source.
constexpr double powder_g_per_kg_oils = 250;

constexpr int samples_across_in_bands = 3;
constexpr int samples_across_as_poured = 4;

void check_request(const design::Design& design, const FaceRequest& request) {
    const int bars = design::bar_count(design);
    if (request.bar < 1 || request.bar > bars)
        throw InputError("", "bar", "there is no bar " + std::to_string(request.bar) + " in this loaf",
                         "1 to " + std::to_string(bars));
    if (request.z_mm && !(*request.z_mm >= 0 && *request.z_mm <= design.mould.length_mm))
        throw InputError("", "z", plain_number(*request.z_mm) + " mm is not in this loaf",
                         "0 to " + plain_number(design.mould.length_mm));
    if (!(request.px_per_mm >= least_px_per_mm && request.px_per_mm <= most_px_per_mm))
        throw InputError("", "px-per-mm",
                         "a scale of " + plain_number(request.px_per_mm) + " px per mm cannot be drawn",
                         plain_number(least_px_per_mm) + " to " + plain_number(most_px_per_mm));
    const auto box = design::box_of(design);
    const double pixels = box.width_mm * box.height_mm * request.px_per_mm * request.px_per_mm;
    if (pixels > most_pixels)
        throw InputError(
            "", "px-per-mm",
            "a face of " + std::to_string(pixels_over(box.width_mm, request.px_per_mm)) + " x " +
                std::to_string(pixels_over(box.height_mm, request.px_per_mm)) + " px is too large",
            "up to " + plain_number(most_pixels / 1e6) + " million pixels, here up to " +
                plain_number(std::floor(10 * request.px_per_mm * std::sqrt(most_pixels / pixels)) / 10) +
                " px per mm");
}

double face_z_mm(const design::Design& design, const FaceRequest& request) {
    return request.z_mm.value_or(design::bar_face_z_mm(design, request.bar));
}

std::size_t bytes_of(const flow::OriginRaster& origins) {
    return sizeof(float) * (origins.x_mm.size() + origins.y_mm.size() + origins.log_stretch.size()) +
           sizeof(std::uint32_t) * origins.first.size();
}

/// The portion that a deposit of a section counts for: its own, or the one that a line is sifted over.
std::vector<int> portions_of_deposits(const design::Design& design) {
    std::vector<int> portions;
    for (int turn = 0; turn < 2; ++turn)
        for (const auto& pour : design.pours) portions.push_back(portion_index(design, pour.portion));
    return portions;
}

bool anything_drawn(const design::Design& design, double path_share) {
    return !strokes_so_far(design::flow_strokes_of(design), path_share).empty();
}

void require_colourants(const design::Design& design, const colour::ColourantLibrary& library) {
    const auto require = [&](const design::Portion& portion, const design::ColourantDose& dose) {
        const bool counts = dose.g_per_kg_oils != 0 || dose.stated;
        if (counts && library.find(dose.colourant) == nullptr)
            throw InputError("", "portion " + foreslice::quoted(portion.id),
                             "the colourant " + foreslice::quoted(dose.colourant) + " is not in the library",
                             "");
    };
    for (const auto& portion : design.portions) {
        for (const auto& dose : portion.doses) require(portion, dose);
        require(portion, portion.white);
    }
}

}  // namespace

struct FaceMaker::Store {
    WorkerPool& pool;
    std::shared_ptr<const colour::ColourantLibrary> library;
    flow::FlowEngine engine;
    Recent<flow::FlowMap> maps{12};  // counted, not weighed: the engine keeps the pieces anyway
    Recent<Section> sections{16};
    Recent<flow::OriginRaster> origins{384 * mebibyte};
    Recent<Coverage> coverages{192 * mebibyte};
    Recent<std::vector<colour::PortionColour>> colours{16};

    Store(WorkerPool& workers, std::shared_ptr<const colour::ColourantLibrary> colourants)
        : pool(workers), library(std::move(colourants)), engine(workers) {}

    /// A group of strokes as the hand made them at one place along the loaf.
    std::shared_ptr<const flow::FlowMap> map(const design::Design& design, design::StrokeGroup group,
                                             double z_mm, const flow::Resolution& resolution,
                                             Progress& progress) {
        const auto box = design::box_after(design, group.pours);
        group.strokes = design::trailing_strokes(std::move(group.strokes), design::wire_lag_mm(design, z_mm));
        const bool coupled = design::portions_differ(design);
        std::uint64_t key = flow_key(design, group, resolution);
        if (coupled) key = joined(key, coupled_key(design, group, z_mm, resolution));
        auto meant = maps.get(key, [&] {
            const auto made =
                coupled
                    ? engine.map(box, materials_before(design, group, z_mm, resolution, progress),
                                 group.strokes, resolution, progress)
                    : engine.map(box, design::shared_rheology(design), group.strokes, resolution, progress);
            return std::pair{made, std::size_t{1}};
        });
        return wandered(std::move(meant), box, design.seed, design.hand.wander_mm, z_mm);
    }

    /// What lies where just before a group of strokes, told apart by how thick it is.
    flow::Materials materials_before(const design::Design& design, const design::StrokeGroup& group,
                                     double z_mm, const flow::Resolution& resolution, Progress& progress) {
        flow::Materials materials;
        for (const auto& portion : design.portions)
            materials.rheologies.push_back(design::rheology_of(portion, design));
        materials.at = portions_at(design, group.pours, z_mm, resolution, progress);
        materials.key = coupled_key(design, group, z_mm, resolution);
        return materials;
    }

    /// Of the strokes that are drawn when everything is poured.
    std::shared_ptr<const flow::FlowMap> map(const design::Design& design, double z_mm,
                                             const flow::Resolution& resolution, Progress& progress,
                                             double path_share = 1) {
        return map(design, {design.pours.size(), strokes_so_far(design::flow_strokes_of(design), path_share)},
                   z_mm, resolution, progress);
    }

    std::shared_ptr<const Section> section(const design::Design& design, double z_mm,
                                           const flow::Resolution& resolution, Progress& progress) {
        return sections.get(section_key(design, z_mm, resolution), [&] {
            return std::pair{section_after(design, design.pours.size(), z_mm, resolution, progress),
                             std::size_t{1}};
        });
    }
    std::shared_ptr<const Section> section_after(const design::Design& design, std::size_t pours, double z_mm,
                                                 const flow::Resolution& resolution, Progress& progress) {
        EarlyMaps early;
        for (const auto& group : design::stroke_groups(design))
            if (group.pours < pours) early.push_back(map(design, group, z_mm, resolution, progress));
        return std::make_shared<const Section>(picture::section_after(design, pours, z_mm, early, progress));
    }

    static std::uint64_t key_of_raster(const design::Design& design, double z_mm, double px_per_mm,
                                       const flow::Resolution& resolution, double path_share = 1) {
        return ContentKey().add(flow_key(design, z_mm, resolution)).add(px_per_mm).add(path_share).value();
    }

    std::shared_ptr<const flow::OriginRaster> origin_raster(const design::Design& design, double z_mm,
                                                            double px_per_mm,
                                                            const flow::Resolution& resolution,
                                                            const flow::FlowMap& map, Progress& progress,
                                                            double path_share = 1) {
        return origins.get(key_of_raster(design, z_mm, px_per_mm, resolution, path_share), [&] {
            auto made = std::make_shared<const flow::OriginRaster>(
                engine.origins(map, design::box_of(design), px_per_mm, progress));
            const std::size_t bytes = bytes_of(*made);
            return std::pair{std::shared_ptr<const flow::OriginRaster>(std::move(made)), bytes};
        });
    }

    std::shared_ptr<const Coverage> drawn(const design::Design& design, const FaceRequest& request,
                                          double z_mm, const flow::FlowMap& map, Progress& progress) {
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
                                          *origin_raster(design, z_mm, scale, request.resolution, map,
                                                         progress, request.path_share),
                                          progress);
            };
            if (needs_section(design))
                return weighed(cover(*section(design, z_mm, request.resolution, progress)));
            return weighed(cover(LayerStack(design, z_mm)));
        });
    }

    Coverage covered(const LayerStack& stack, int kinds, const flow::FlowMap& map, double px_per_mm,
                     Progress& progress) {
        return carried_coverage(stack, kinds, map, px_per_mm, samples_across_in_bands, pool, progress);
    }
    Coverage covered(const LayerStack& stack, int kinds, const flow::OriginRaster& raster,
                     Progress& progress) {
        return carried_coverage(stack, kinds, raster, pool, progress);
    }
    Coverage covered(const Section& section, int kinds, const flow::FlowMap& map, double px_per_mm,
                     Progress& progress) {
        return section_coverage(section, kinds, map, px_per_mm, samples_across_in_bands, pool, progress);
    }
    Coverage covered(const Section& section, int kinds, const flow::OriginRaster& raster,
                     Progress& progress) {
        return section_coverage(section, kinds, raster, pool, progress);
    }

    std::shared_ptr<const Coverage> poured(const design::Design& design, const FaceRequest& request,
                                           double z_mm, Progress& progress) {
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
            return weighed(
                poured_coverage(LayerStack(design, z_mm), kinds, request.px_per_mm, pool, progress));
        });
    }

    /// The portion at a point when so many pours are in, before what is drawn then.
    PortionAt portions_at(const design::Design& design, std::size_t pours, double z_mm,
                          const flow::Resolution& resolution, Progress& progress) {
        if (needs_section(design))
            return [laid = pours == design.pours.size()
                               ? section(design, z_mm, resolution, progress)
                               : section_after(design, pours, z_mm, resolution, progress),
                    under = portions_of_deposits(design)](Vec2 point_mm) {
                return under[static_cast<std::size_t>(laid->at(point_mm).deposit)];
            };
        return [laid = std::make_shared<const LayerStack>(design, z_mm)](Vec2 point_mm) {
            return laid->portion_at(point_mm);
        };
    }

    std::function<Whence(Vec2)> whence_before_strokes(const design::Design& design, double z_mm,
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

    static std::pair<std::shared_ptr<const Coverage>, std::size_t> weighed(Coverage coverage) {
        const std::size_t bytes = coverage.bytes();
        return {std::make_shared<const Coverage>(std::move(coverage)), bytes};
    }
};

FaceMaker::FaceMaker(WorkerPool& pool, std::shared_ptr<const colour::ColourantLibrary> library)
    : store_(std::make_unique<Store>(pool, std::move(library))) {}

FaceMaker::~FaceMaker() = default;

const colour::ColourantLibrary& FaceMaker::library() const {
    return *store_->library;
}

void FaceMaker::use_library(std::shared_ptr<const colour::ColourantLibrary> library) {
    store_->library = std::move(library);
}

std::shared_ptr<const flow::FlowMap> FaceMaker::flow_map(const design::Design& design,
                                                         const flow::Resolution& resolution,
                                                         Progress& progress) {
    design::validate(design);
    return store_->map(design, 0, resolution, progress);
}

std::shared_ptr<const flow::FlowMap> FaceMaker::flow_map(const design::Design& design,
                                                         const FaceRequest& request, Progress& progress) {
    design::validate(design);
    check_request(design, request);
    return store_->map(design, face_z_mm(design, request), request.resolution, progress);
}

std::shared_ptr<const flow::OriginRaster> FaceMaker::origins(const design::Design& design,
                                                             const FaceRequest& request, Progress& progress) {
    design::validate(design);
    check_request(design, request);
    if (design::flow_strokes_of(design).empty()) return nullptr;
    const double z_mm = face_z_mm(design, request);
    const auto map = store_->map(design, z_mm, request.resolution, progress);
    return store_->origin_raster(design, z_mm, request.px_per_mm, request.resolution, *map, progress);
}

PortionsAt FaceMaker::seen(const design::Design& design, double z_mm, const flow::Resolution& resolution,
                           Progress& progress) {
    auto portion_at = store_->portions_at(design, design.pours.size(), z_mm, resolution, progress);
    std::shared_ptr<const flow::FlowMap> map;
    if (!design::flow_strokes_of(design).empty()) map = store_->map(design, z_mm, resolution, progress);
    return [portion_at = std::move(portion_at), map = std::move(map)](std::vector<Vec2> points_mm) {
        if (map) map->to_origins_mm(points_mm.data(), points_mm.size());
        std::vector<int> portions(points_mm.size());
        std::transform(points_mm.begin(), points_mm.end(), portions.begin(), portion_at);
        return portions;
    };
}

std::function<Whence(Vec2)> FaceMaker::whence(const design::Design& design, const FaceRequest& request,
                                              Progress& progress) {
    design::validate(design);
    check_request(design, request);
    const double z_mm = face_z_mm(design, request);
    auto before = store_->whence_before_strokes(design, z_mm, request.resolution, progress);
    if (request.stage == Stage::poured || !anything_drawn(design, request.path_share)) return before;
    return [before = std::move(before),
            map = store_->map(design, z_mm, request.resolution, progress, request.path_share)](
               Vec2 point_mm) { return before(map->origin_mm(point_mm)); };
}

WorkerPool& FaceMaker::pool() const {
    return store_->pool;
}

std::vector<std::shared_ptr<const flow::FlowMap>> FaceMaker::flow_maps(const design::Design& design,
                                                                       const flow::Resolution& resolution,
                                                                       Progress& progress) {
    design::validate(design);
    std::vector<std::shared_ptr<const flow::FlowMap>> maps;
    for (const auto& group : design::stroke_groups(design))
        maps.push_back(store_->map(design, group, 0, resolution, progress));
    return maps;
}

std::shared_ptr<const Section> FaceMaker::section(const design::Design& design, int bar,
                                                  const flow::Resolution& resolution, Progress& progress) {
    design::validate(design);
    return store_->section(design, design::bar_face_z_mm(design, bar), resolution, progress);
}

Face FaceMaker::make(const design::Design& design, const FaceRequest& request, Progress& progress) {
    design::validate(design);
    design::validate(design, library());
    check_request(design, request);
    Face face;
    const double z_mm = face_z_mm(design, request);
    for (const auto& group : design::stroke_groups(design))
        if (group.pours < design.pours.size())
            face.solve = worst_of(face.solve,
                                  store_->map(design, group, z_mm, request.resolution, progress)->report());
    if (request.stage == Stage::poured || !anything_drawn(design, request.path_share)) {
        face.coverage = store_->poured(design, request, z_mm, progress);
    } else {
        const auto map = store_->map(design, z_mm, request.resolution, progress, request.path_share);
        face.solve = worst_of(face.solve, map->report());
        face.coverage = store_->drawn(design, request, z_mm, *map, progress);
    }
    const std::uint64_t colours = colours_key(design, library());
    face.colours = *store_->colours.get(colours, [&] {
        auto made =
            std::make_shared<const std::vector<colour::PortionColour>>(material_colours(design, library()));
        return std::pair{std::shared_ptr<const std::vector<colour::PortionColour>>(std::move(made)),
                         std::size_t{1}};
    });
    face.doses = dose_notes(design, library());
    face.lines = line_notes(design, library());
    face.image = painted(*face.coverage, face.colours, store_->pool);
    return face;
}

FaceMeasures FaceMaker::measure(const design::Design& design, const FaceRequest& request,
                                Progress& progress) {
    design::validate(design);
    design::validate(design, library());
    check_request(design, request);
    const auto box = design::box_of(design);
    const double scale =
        std::min(measuring_px_per_mm, std::sqrt(most_pixels_in_a_raster / (box.width_mm * box.height_mm)));
    const int portions = static_cast<int>(design.portions.size());
    const double z_mm = face_z_mm(design, request);
    const PortionAt portion_at =
        store_->portions_at(design, design.pours.size(), z_mm, request.resolution, progress);
    const bool drawn = request.stage == Stage::drawn && !design::flow_strokes_of(design).empty();
    WorkerPool& pool = store_->pool;
    const PortionLattice poured =
        poured_lattice(box, scale, drawn ? 1 : points_a_pixel, portions, portion_at, pool);
    double all_percent = 0;
    for (const auto& portion : design.portions) all_percent += portion.share_percent;
    std::vector<double> percents;
    for (const auto& portion : design.portions) percents.push_back(100 * portion.share_percent / all_percent);
    std::vector<colour::Lab> labs;
    for (const auto& colour : portion_colours(design, library())) labs.push_back(colour.lab);
    if (!drawn) return measured(poured, poured, percents, labs, pool);
    const auto map = store_->map(design, z_mm, request.resolution, progress);
    const auto raster = store_->origin_raster(design, z_mm, scale, request.resolution, *map, progress);
    progress.check();
    return measured(drawn_lattice(*raster, box, portions, portion_at, pool), poured, percents, labs, pool);
}

std::vector<colour::PortionColour> portion_colours(const design::Design& design,
                                                   const colour::ColourantLibrary& library) {
    require_colourants(design, library);
    std::vector<colour::PortionColour> colours;
    for (const auto& portion : design.portions)
        colours.push_back(design::colour_of(portion, design, library));
    return colours;
}

std::vector<colour::PortionColour> material_colours(const design::Design& design,
                                                    const colour::ColourantLibrary& library) {
    auto colours = portion_colours(design, library);
    for (const Material& material : materials_of(design)) {
        if (material.kind != Material::Kind::line) continue;
        if (library.find(material.name) == nullptr)
            throw InputError("", "sifted line",
                             "the colourant " + foreslice::quoted(material.name) + " is not in the library",
                             "");
        design::Portion powder;
        powder.doses.emplace_back();
        powder.doses.back().colourant = material.name;
        powder.doses.back().g_per_kg_oils = powder_g_per_kg_oils;
        colours.push_back(design::colour_of(powder, design, library));
    }
    return colours;
}

std::vector<LineNote> line_notes(const design::Design& design, const colour::ColourantLibrary& library) {
    std::vector<LineNote> notes;
    for (const Material& material : materials_of(design)) {
        if (material.kind != Material::Kind::line) continue;
        const colour::Colourant* colourant = library.find(material.name);
        LineNote note{colourant ? colourant->name : material.name, 1e9, 0};
        for (const auto& pour : design.pours)
            if (pour.sifted_over && pour.sifted_over->colourant == material.name) {
                note.least_mm = std::min(note.least_mm, pour.sifted_over->thickness_mm);
                note.most_mm = std::max(note.most_mm, pour.sifted_over->thickness_mm);
            }
        notes.push_back(note);
    }
    return notes;
}

flow::SolveReport worst_of(const flow::SolveReport& a, const flow::SolveReport& b) {
    return {a.positions + b.positions, std::max(a.most_iterations, b.most_iterations),
            std::max(a.worst_residual, b.worst_residual), a.converged && b.converged};
}

std::vector<std::vector<DoseNote>> dose_notes(const design::Design& design,
                                              const colour::ColourantLibrary& library) {
    require_colourants(design, library);
    std::vector<std::vector<DoseNote>> notes;
    for (const auto& portion : design.portions) {
        notes.emplace_back();
        for (const auto& dose : design::doses_of(portion, design, library))
            notes.back().push_back({dose.colourant->name, dose.g_per_kg_oils,
                                    colour::teaspoons_per_pound(*dose.colourant, dose.g_per_kg_oils)});
    }
    return notes;
}

namespace {

struct Paint {
    std::array<float, 3> light;  ///< linear, per code of share: already divided by 255
    colour::EncodedSrgb alone;   ///< of a pixel that shows nothing else
};

void paint_pixel(const std::uint8_t* share, const std::vector<Paint>& paints, std::uint8_t* rgba) {
    std::array<float, 3> light{};
    for (std::size_t portion = 0; portion < paints.size(); ++portion) {
        if (share[portion] == 0) continue;
        if (share[portion] == 255) {
            rgba[0] = paints[portion].alone.r;
            rgba[1] = paints[portion].alone.g;
            rgba[2] = paints[portion].alone.b;
            return;
        }
        for (std::size_t c = 0; c < 3; ++c)
            light[c] += static_cast<float>(share[portion]) * paints[portion].light[c];
    }
    for (std::size_t c = 0; c < 3; ++c) rgba[c] = code_of(light[c]);
}

}  // namespace

Image painted(const Coverage& coverage, const std::vector<colour::PortionColour>& colours, WorkerPool& pool) {
    std::vector<Paint> paints;
    for (const auto& colour : colours) {
        const auto& l = colour.linear;
        paints.push_back(
            {{static_cast<float>(l.r / 255), static_cast<float>(l.g / 255), static_cast<float>(l.b / 255)},
             colour::encoded(l)});
    }
    Image image(coverage.width_px, coverage.height_px, {});
    const auto width = static_cast<std::size_t>(coverage.width_px);
    const auto portions = static_cast<std::size_t>(coverage.portions);
    pool.parallel_for(static_cast<std::size_t>(coverage.height_px), [&](std::size_t row) {
        for (std::size_t at = row * width; at < (row + 1) * width; ++at)
            paint_pixel(&coverage.share[at * portions], paints, &image.rgba[4 * at]);
    });
    return image;
}

}  // namespace foreslice::picture
