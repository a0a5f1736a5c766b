#include "picture/lengthwise.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "picture/origin_band.h"
#include "picture/shares.h"
#include "picture/top.h"

namespace foreslice::picture {
namespace {

constexpr double column_step_mm = 4;
constexpr int samples_a_pixel = 4;

// How often each material is met in every pixel of a column, the top first: [row * materials + material].
using Column = std::vector<std::uint8_t>;

Column column_at(const PortionsAt& seen, double x_mm, double height_mm, std::size_t rows,
                 std::size_t materials) {
    const double step_mm = height_mm / static_cast<double>(rows * samples_a_pixel);
    std::vector<Vec2> points_mm;
    for (std::size_t i = 0; i < rows * samples_a_pixel; ++i)
        points_mm.push_back({x_mm, height_mm - (static_cast<double>(i) + 0.5) * step_mm});
    const std::vector<int> met = seen(std::move(points_mm));
    Column counts(rows * materials);
    for (std::size_t i = 0; i < met.size(); ++i)
        if (met[i] >= 0) ++counts[i / samples_a_pixel * materials + static_cast<std::size_t>(met[i])];
    return counts;
}

// How high the strip must be: to the highest place of a worked top.
double highest_mm(const design::Design& design, double x_mm, std::size_t intervals) {
    double highest = design::box_of(design).height_mm;
    if (design.top.spooned.empty() && design.top.strokes.empty()) return highest;
    for (std::size_t i = 0; i <= intervals; ++i) {
        const double z_mm = design.mould.length_mm * static_cast<double>(i) / static_cast<double>(intervals);
        highest = std::max(highest, FinishedTop(design, z_mm).surface_mm(x_mm));
    }
    return highest;
}

}  // namespace

Coverage lengthwise_coverage(FaceMaker& maker, const design::Design& design, double x_mm, double px_per_mm,
                             const flow::Resolution& resolution, Progress& progress) {
    const double length_mm = design.mould.length_mm;
    const auto intervals = static_cast<std::size_t>(std::ceil(length_mm / column_step_mm));
    const double step_mm = length_mm / static_cast<double>(intervals);
    const double height_mm = highest_mm(design, x_mm, intervals);
    std::vector<PortionsAt> seen;
    for (std::size_t i = 0; i <= intervals; ++i) {
        seen.push_back(maker.seen(design, static_cast<double>(i) * step_mm, resolution, progress));
        progress.check();
    }
    Coverage out;
    out.width_px = pixels_over(length_mm, px_per_mm);
    out.height_px = pixels_over(height_mm, px_per_mm);
    out.portions = static_cast<int>(materials_of(design).size());
    out.px_per_mm = px_per_mm;
    const auto rows = static_cast<std::size_t>(out.height_px), width = static_cast<std::size_t>(out.width_px);
    const auto kinds = static_cast<std::size_t>(out.portions);
    std::vector<Column> columns(seen.size());
    progress.begin_stage("cutting lengthwise", static_cast<std::int64_t>(seen.size()));
    maker.pool().parallel_for(seen.size(), [&](std::size_t i) {
        columns[i] = column_at(seen[i], x_mm, height_mm, rows, kinds);
        progress.advance();
    });
    out.share.resize(rows * width * kinds);
    out.solid.resize(rows * width);
    maker.pool().parallel_for(rows, [&](std::size_t row) {
        PixelShares pixel(out.portions);
        for (std::size_t x = 0; x < width; ++x) {
            const double at =
                (static_cast<double>(x) + 0.5) / static_cast<double>(width) * static_cast<double>(intervals);
            const std::size_t left = std::min(static_cast<std::size_t>(at), intervals - 1);
            const double share = at - static_cast<double>(left);
            pixel.clear();
            double soap = 0;
            for (std::size_t kind = 0; kind < kinds; ++kind) {
                const double met = (1 - share) * columns[left][row * kinds + kind] +
                                   share * columns[left + 1][row * kinds + kind];
                pixel.add(static_cast<int>(kind), met);
                soap += met;
            }
            out.solid[row * width + x] = static_cast<std::uint8_t>(std::lround(255 * soap / samples_a_pixel));
            if (soap > 0) pixel.write(&out.share[(row * width + x) * kinds]);
        }
    });
    return out;
}

}  // namespace foreslice::picture
