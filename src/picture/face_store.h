// The stages of a face with what is kept of each. Not a public header.
#pragma once

#include <functional>
#include <memory>
#include <utility>
#include <vector>

#include "picture/face.h"
#include "picture/inclusions.h"
#include "picture/recent.h"
#include "picture/top.h"

namespace foreslice::picture {

// Above this many pixels the raster of origins would need some 400 MB.
inline constexpr double most_pixels_in_a_raster = 3e6;

/// Whether the top is anything but level.
bool reshaped(const design::Design& design);
/// Of each heap that is spooned on, the index of its portion.
std::vector<int> portions_of_heaps(const design::Design& design);

struct FaceMaker::Store {
    static constexpr std::size_t mebibyte = std::size_t{1} << 20U;

    WorkerPool& pool;
    std::shared_ptr<const colour::ColourantLibrary> colour_library;
    flow::FlowEngine engine;
    Recent<flow::FlowMap> maps{12};  // counted, not weighed: the engine keeps the pieces anyway
    Recent<Section> sections{16};
    Recent<flow::OriginRaster> origins{384 * mebibyte};
    Recent<Coverage> coverages{192 * mebibyte};
    Recent<std::vector<colour::PortionColour>> colours{16};
    Recent<FinishedTop> tops{64};
    Recent<TopSlices> slices{6};
    Recent<TopView> views{12};
    Recent<std::vector<PlacedBit>> bits{32};

    Store(WorkerPool& workers, std::shared_ptr<const colour::ColourantLibrary> colourants)
        : pool(workers), colour_library(std::move(colourants)), engine(workers) {}

    /// A group of strokes as the hand made them at one place along the loaf.
    std::shared_ptr<const flow::FlowMap> map(const design::Design& design, design::StrokeGroup group,
                                             double z_mm, const flow::Resolution& resolution,
                                             Progress& progress);

    /// What lies where just before a group of strokes, told apart by how thick it is.
    flow::Materials materials_before(const design::Design& design, const design::StrokeGroup& group,
                                     double z_mm, const flow::Resolution& resolution, Progress& progress);

    /// Of the strokes that are drawn when everything is poured.
    std::shared_ptr<const flow::FlowMap> map(const design::Design& design, double z_mm,
                                             const flow::Resolution& resolution, Progress& progress,
                                             double path_share = 1);

    std::shared_ptr<const Section> section(const design::Design& design, double z_mm,
                                           const flow::Resolution& resolution, Progress& progress);

    std::shared_ptr<const Section> section_after(const design::Design& design, std::size_t pours, double z_mm,
                                                 const flow::Resolution& resolution, Progress& progress);

    static std::uint64_t key_of_raster(const design::Design& design, double z_mm, double px_per_mm,
                                       const flow::Resolution& resolution, double path_share = 1);

    std::shared_ptr<const flow::OriginRaster> origin_raster(const design::Design& design, double z_mm,
                                                            double px_per_mm,
                                                            const flow::Resolution& resolution,
                                                            const flow::FlowMap& map, Progress& progress,
                                                            double path_share = 1);

    /// Null where the top is level.
    std::shared_ptr<const FinishedTop> top(const design::Design& design, double z_mm);

    /// From a bar's face to its back.
    std::shared_ptr<const TopSlices> slices_of(const design::Design& design, double z_mm);

    /// How high a face's picture must reach so that the bar's top behind it has room in the bar's margin.
    double high_mm(const design::Design& design, double z_mm);

    /// `map`: null when no stroke is drawn at the end.
    std::shared_ptr<const Coverage> worked(const design::Design& design, const FaceRequest& request,
                                           double z_mm, std::shared_ptr<const flow::FlowMap> map,
                                           Progress& progress);

    std::shared_ptr<const TopView> view(const design::Design& design, const FaceRequest& request, double z_mm,
                                        Progress& progress);

    /// The portion just below the poured surface once it is drawn through.
    std::function<int(double)> surface_material(const design::Design& design, double z_mm,
                                                const flow::Resolution& resolution, Progress& progress);

    std::shared_ptr<const std::vector<PlacedBit>> placed_bits(const design::Design& design,
                                                              const FaceRequest& request, double z_mm,
                                                              Progress& progress);

    /// The pour at a point before the last group of strokes.
    std::function<int(Vec2)> pours_at(const design::Design& design, double z_mm,
                                      const flow::Resolution& resolution, Progress& progress);

    std::shared_ptr<const Coverage> drawn(const design::Design& design, const FaceRequest& request,
                                          double z_mm, const flow::FlowMap& map, Progress& progress);

    Coverage covered(const LayerStack& stack, int kinds, const flow::FlowMap& map, double px_per_mm,
                     Progress& progress);

    Coverage covered(const LayerStack& stack, int kinds, const flow::OriginRaster& raster,
                     Progress& progress);

    Coverage covered(const Section& section, int kinds, const flow::FlowMap& map, double px_per_mm,
                     Progress& progress);

    Coverage covered(const Section& section, int kinds, const flow::OriginRaster& raster, Progress& progress);

    std::shared_ptr<const Coverage> poured(const design::Design& design, const FaceRequest& request,
                                           double z_mm, Progress& progress);

    /// The portion at a point when so many pours are in, before what is drawn then.
    PortionAt portions_at(const design::Design& design, std::size_t pours, double z_mm,
                          const flow::Resolution& resolution, Progress& progress);

    std::function<Whence(Vec2)> whence_before_strokes(const design::Design& design, double z_mm,
                                                      const flow::Resolution& resolution, Progress& progress);

    static std::pair<std::shared_ptr<const Coverage>, std::size_t> weighed(Coverage coverage);
};

}  // namespace foreslice::picture
