#include "picture/from_above.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "foundation/error.h"
#include "picture/bar_top.h"
#include "picture/face_store.h"
#include "picture/origin_band.h"
#include "picture/shares.h"
#include "picture/top.h"
#include "picture/top_view.h"

namespace foreslice::picture {
namespace {

constexpr double section_step_mm = 4, row_step_mm = 0.5, column_step_mm = 0.4;
constexpr double skin_mm = 0.1;  // below the surface: what is meant to be seen there

/// Which material lies at the poured surface, before the top was worked: [section * columns + column].
struct AtRest {
    std::size_t sections = 0, columns = 0;
    double section_mm = 1, column_mm = 1;
    std::vector<int> material;

    int at(double x_mm, double z_mm) const {
        const auto section = std::min(sections - 1, static_cast<std::size_t>(std::lround(z_mm / section_mm)));
        const double column = std::clamp(x_mm / column_mm, 0.0, static_cast<double>(columns - 1));
        return material[section * columns + static_cast<std::size_t>(std::lround(column))];
    }
};

AtRest surface_at_rest(FaceMaker& maker, const design::Design& design, const flow::Resolution& resolution,
                       Progress& progress) {
    AtRest out;
    const auto intervals =
        static_cast<std::size_t>(std::max(1.0, std::ceil(design.mould.length_mm / section_step_mm)));
    out.sections = intervals + 1;
    out.section_mm = design.mould.length_mm / static_cast<double>(intervals);
    out.columns = static_cast<std::size_t>(std::ceil(design.mould.width_mm / column_step_mm)) + 1;
    out.column_mm = design.mould.width_mm / static_cast<double>(out.columns - 1);
    out.material.resize(out.sections * out.columns);
    const double y_mm = design::box_of(design).height_mm - skin_mm;
    std::vector<PortionsAt> seen;
    for (std::size_t k = 0; k < out.sections; ++k) {
        seen.push_back(maker.seen(design, static_cast<double>(k) * out.section_mm, resolution, progress));
        progress.check();
    }
    progress.begin_stage("looking at the top", static_cast<std::int64_t>(out.sections));
    maker.pool().parallel_for(out.sections, [&](std::size_t k) {
        const FinishedTop top(design, static_cast<double>(k) * out.section_mm);
        std::vector<Vec2> points_mm;
        for (std::size_t i = 0; i < out.columns; ++i)
            points_mm.push_back(top.forth({static_cast<double>(i) * out.column_mm, y_mm}));
        const auto met = seen[k](std::move(points_mm));
        std::copy(met.begin(), met.end(),
                  out.material.begin() + static_cast<std::ptrdiff_t>(k * out.columns));
        progress.advance();
    });
    return out;
}

TopView whole_top(FaceMaker& maker, const design::Design& design, const AtRest& rest, Progress& progress) {
    TopView view;
    const auto rows = static_cast<std::size_t>(std::ceil(design.mould.length_mm / row_step_mm)) + 1;
    view.columns = rest.columns;
    view.rows = rows;
    view.column_mm = rest.column_mm;
    view.row_mm = design.mould.length_mm / static_cast<double>(rows - 1);
    view.height_mm.resize(view.columns * view.rows);
    view.material.resize(view.height_mm.size());
    const auto heaps = portions_of_heaps(design);
    progress.begin_stage("shaping the top", static_cast<std::int64_t>(rows));
    maker.pool().parallel_for(rows, [&](std::size_t row) {
        const double z_mm = static_cast<double>(row) * view.row_mm;
        const FinishedTop top(design, z_mm);
        for (std::size_t i = 0; i < view.columns; ++i) {
            const double x_mm = static_cast<double>(i) * view.column_mm;
            const Vec2 at{x_mm, top.surface_mm(x_mm) - 1e-6};
            const auto heap = top.heap_at(at);
            view.height_mm[row * view.columns + i] = static_cast<float>(top.surface_mm(x_mm));
            view.material[row * view.columns + i] =
                static_cast<std::uint8_t>(std::max(0, heap ? heaps[*heap] : rest.at(top.back(at).x, z_mm)));
        }
        progress.advance();
    });
    view.flakes = flakes_over(design, 0, design.mould.length_mm, 0);
    view.seeds = seeds_over(design, 0, design.mould.length_mm, 0);
    return view;
}

}  // namespace

Image loaf_from_above(FaceMaker& maker, const design::Design& design, double px_per_mm,
                      const flow::Resolution& resolution, Progress& progress) {
    if (!(px_per_mm >= least_above_px_per_mm && px_per_mm <= most_above_px_per_mm))
        throw InputError("", "--px-per-mm", plain_number(px_per_mm) + " pixels per mm",
                         plain_number(least_above_px_per_mm) + " to " + plain_number(most_above_px_per_mm));
    FaceRequest request;
    request.px_per_mm = 1;
    request.resolution = resolution;
    Face face = maker.make(design, request, progress);  // for its colours; refuses what cannot be made
    const AtRest rest = surface_at_rest(maker, design, resolution, progress);
    face.top = std::make_shared<const TopView>(whole_top(maker, design, rest, progress));
    face.glitter = glitter_colours(design, maker.colour_library());
    face.bits = inclusion_colours(design, face.colours);
    Image image(pixels_over(design.mould.length_mm, px_per_mm), pixels_over(design.mould.width_mm, px_per_mm),
                colour::EncodedSrgb{});
    progress.begin_stage("lighting the top", image.width_px);
    draw_top_from_above(image, design, face, px_per_mm, maker.pool(), progress);
    return image;
}

}  // namespace foreslice::picture
