#include "picture/face.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "design/tint.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "picture/bar_top.h"
#include "picture/face_store.h"
#include "picture/keys.h"
#include "picture/memory_need.h"
#include "picture/origin_band.h"
#include "picture/so_far.h"
#include "picture/topped.h"

namespace foreslice::picture {
namespace {

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
    const double pixels = face_pixels(design, request.px_per_mm);
    const std::string face = "a face of " + std::to_string(pixels_over(box.width_mm, request.px_per_mm)) +
                             " x " + std::to_string(pixels_over(box.height_mm, request.px_per_mm)) + " px";
    if (pixels > most_pixels)
        throw InputError(
            "", "px-per-mm", face + " is too large",
            "up to " + plain_number(most_pixels / 1e6) + " million pixels, here up to " +
                plain_number(std::floor(10 * request.px_per_mm * std::sqrt(most_pixels / pixels)) / 10) +
                " px per mm");
    check_memory(face_bytes_per_px * pixels, request.px_per_mm, face);
}

double face_z_mm(const design::Design& design, const FaceRequest& request) {
    return request.z_mm.value_or(design::bar_face_z_mm(design, request.bar));
}

bool anything_drawn(const design::Design& design, double path_share) {
    return !strokes_so_far(design::flow_strokes_of(design), path_share).empty();
}

// The top is worked, and things are laid in last, when the tool is out.
bool finished(const FaceRequest& request) {
    return request.stage == Stage::drawn && request.path_share >= 1;
}

// The work on the top keeps areas, so that shares of the whole face are those below it and the heaps.
void add_heaps(FaceMeasures& measures, const design::Design& design) {
    const auto areas_mm2 = design::spooned_areas_mm2(design);
    const auto box = design::box_of(design);
    const double below_mm2 = box.width_mm * box.height_mm;
    double all_mm2 = below_mm2;
    for (const double area : areas_mm2) all_mm2 += area;
    for (auto& portion : measures.portions) portion.face_percent *= below_mm2 / all_mm2;
    const auto portions = portions_of_heaps(design);
    for (std::size_t i = 0; i < areas_mm2.size(); ++i)
        measures.portions[static_cast<std::size_t>(portions[i])].face_percent += 100 * areas_mm2[i] / all_mm2;
}

}  // namespace

FaceMaker::FaceMaker(WorkerPool& pool, std::shared_ptr<const colour::ColourantLibrary> library)
    : store_(std::make_unique<Store>(pool, std::move(library))) {}

FaceMaker::~FaceMaker() = default;

const colour::ColourantLibrary& FaceMaker::colour_library() const {
    return *store_->colour_library;
}

void FaceMaker::use_library(std::shared_ptr<const colour::ColourantLibrary> library) {
    store_->colour_library = std::move(library);
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
    const auto top = store_->top(design, z_mm);
    if (top) map = topped(std::move(map), top);
    return [portion_at = std::move(portion_at), map = std::move(map), top,
            heaps = portions_of_heaps(design)](std::vector<Vec2> points_mm) {
        const std::vector<Vec2> asked = top ? points_mm : std::vector<Vec2>();
        if (map) map->to_origins_mm(points_mm.data(), points_mm.size());
        std::vector<int> portions(points_mm.size());
        std::transform(points_mm.begin(), points_mm.end(), portions.begin(), portion_at);
        for (std::size_t i = 0; i < asked.size(); ++i) {
            if (const auto heap = top->heap_at(asked[i])) portions[i] = heaps[*heap];
            if (asked[i].y > top->surface_mm(asked[i].x)) portions[i] = -1;
        }
        return portions;
    };
}

std::function<Whence(Vec2)> FaceMaker::whence(const design::Design& design, const FaceRequest& request,
                                              Progress& progress) {
    design::validate(design);
    check_request(design, request);
    const double z_mm = face_z_mm(design, request);
    auto before = store_->whence_before_strokes(design, z_mm, request.resolution, progress);
    std::shared_ptr<const flow::FlowMap> map;
    if (request.stage == Stage::drawn && anything_drawn(design, request.path_share))
        map = store_->map(design, z_mm, request.resolution, progress, request.path_share);
    const auto top = finished(request) ? store_->top(design, z_mm) : nullptr;
    if (top) map = topped(std::move(map), top);
    if (!map) return before;
    return [before = std::move(before), map = std::move(map), top, heaps = portions_of_heaps(design),
            last = static_cast<int>(design.pours.size()) - 1](Vec2 point_mm) {
        if (top)
            if (const auto heap = top->heap_at(point_mm)) return Whence{heaps[*heap], last, point_mm};
        return before(map->origin_mm(point_mm));
    };
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
    design::validate(design, colour_library());
    check_request(design, request);
    Face face;
    const double z_mm = face_z_mm(design, request);
    for (const auto& group : design::stroke_groups(design))
        if (group.pours < design.pours.size())
            face.solve = worst_of(face.solve,
                                  store_->map(design, group, z_mm, request.resolution, progress)->report());
    std::shared_ptr<const flow::FlowMap> map;
    if (request.stage == Stage::drawn && anything_drawn(design, request.path_share)) {
        map = store_->map(design, z_mm, request.resolution, progress, request.path_share);
        face.solve = worst_of(face.solve, map->report());
    }
    if (finished(request) && reshaped(design))
        face.coverage = store_->worked(design, request, z_mm, map, progress);
    else
        face.coverage = map ? store_->drawn(design, request, z_mm, *map, progress)
                            : store_->poured(design, request, z_mm, progress);
    const std::uint64_t colours = colours_key(design, colour_library());
    face.colours = *store_->colours.get(colours, [&] {
        auto made = std::make_shared<const std::vector<colour::PortionColour>>(
            material_colours(design, colour_library()));
        return std::pair{std::shared_ptr<const std::vector<colour::PortionColour>>(std::move(made)),
                         std::size_t{1}};
    });
    face.doses = dose_notes(design, colour_library());
    face.lines = line_notes(design, colour_library());
    face.image = painted(*face.coverage, face.colours, store_->pool);
    add_extras(face, design, request, z_mm, progress);
    return face;
}

void FaceMaker::add_extras(Face& face, const design::Design& design, const FaceRequest& request, double z_mm,
                           Progress& progress) {
    const bool drawn = finished(request);
    if (!design.inclusions.none()) {
        face.bits = inclusion_colours(design, face.colours);
        face.inclusions_percent = draw_bits(face.image, *store_->placed_bits(design, request, z_mm, progress),
                                            design, face.bits, request.px_per_mm);
    }
    if (!drawn || !design::shows_top(design)) return;
    face.glitter = glitter_colours(design, colour_library());
    for (const auto& glitter : design.top.glitter)
        face.glitter_names.push_back(colour_library().find(glitter.colourant)->name);
    for (const auto& portion : design.portions)
        face.sparkle.push_back(design::top_sparkle_of(portion, design, colour_library()));
    face.top = store_->view(design, request, z_mm, progress);
    draw_on_edge(face.image, face, request.px_per_mm);
}

FaceMeasures FaceMaker::measure(const design::Design& design, const FaceRequest& request,
                                Progress& progress) {
    design::validate(design);
    design::validate(design, colour_library());
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
    for (const auto& colour : portion_colours(design, colour_library())) labs.push_back(colour.lab);
    FaceMeasures found;
    if (drawn) {
        const auto map = store_->map(design, z_mm, request.resolution, progress);
        const auto raster = store_->origin_raster(design, z_mm, scale, request.resolution, *map, progress);
        progress.check();
        found =
            measured(drawn_lattice(*raster, box, portions, portion_at, pool), poured, percents, labs, pool);
    } else {
        found = measured(poured, poured, percents, labs, pool);
    }
    if (finished(request)) add_heaps(found, design);
    if (!design.inclusions.none()) {
        FaceRequest coarse = request;
        coarse.px_per_mm = scale;
        found.inclusions_percent = make(design, coarse, progress).inclusions_percent;
    }
    return found;
}

}  // namespace foreslice::picture
