// The bar as an object: the face cut out along a slightly irregular outline, with the fine marks that a
// cutting wire leaves and a shadow where it stands. Marks are zero on average over any few square
// millimetres, so that the colours stay what the face says.
#include "picture/bar.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "foundation/random.h"
#include "picture/bar_top.h"
#include "picture/draw.h"
#include "picture/face.h"
#include "picture/light.h"

namespace foreslice::picture {
namespace {

constexpr double margin_mm = 9;
constexpr double lower_radius_mm = 3, upper_radius_mm = 1.4;
constexpr double top_wave_mm = 0.35, top_wave_most_mm = 0.8;  // of the top edge: sd and limit
constexpr double mark_spacing_mm = 0.14, mark_length_mm = 8;  // of the cutting wire's lines
constexpr double mark_strength = 0.010, grain_strength = 0.006, most_texture = 0.015;
constexpr double rim_mm = 1.2, rim_strength = 0.008;  // the surface falls away a little towards the edge
constexpr double crease_mm = 0.3,
                 crease_strength = 0.06;  // the broken edge catches light from the upper left
constexpr Vec2 towards_light{-0.6, 0.8};

// Fine horizontal lines that fade in and out along x, less their own average over 2 mm of height.
class CutMarks {
  public:
    CutMarks(std::uint64_t seed, double px_per_mm, int width_px, int height_px)
        : px_per_mm_(px_per_mm),
          nodes_(static_cast<std::size_t>(width_px / (px_per_mm * mark_length_mm)) + 2),
          rows_(static_cast<std::size_t>(height_px)),
          value_(rows_ * nodes_) {
        for (std::size_t node = 0; node < nodes_; ++node) fill_column(seed, node);
    }

    double at(int column, int row) const {
        const double u = column / (px_per_mm_ * mark_length_mm);
        const auto node = static_cast<std::size_t>(u);
        const double t = u - static_cast<double>(node), s = t * t * (3 - 2 * t);
        const double* values = &value_[static_cast<std::size_t>(row) * nodes_ + node];
        return values[0] + s * (values[1] - values[0]);
    }

  private:
    void fill_column(std::uint64_t seed, std::size_t node) {
        const double lines_a_row = 1 / (px_per_mm_ * mark_spacing_mm);
        std::vector<double> raw(rows_), sum(rows_ + 1);
        for (std::size_t row = 0; row < rows_; ++row) {
            raw[row] =
                line_average(mixed_bits(seed + node), static_cast<double>(row) * lines_a_row, lines_a_row);
            sum[row + 1] = sum[row] + raw[row];
        }
        const auto reach = static_cast<std::size_t>(std::max(1.0, std::round(px_per_mm_)));
        for (std::size_t row = 0; row < rows_; ++row) {
            const std::size_t from = row > reach ? row - reach : 0, to = std::min(rows_, row + reach + 1);
            value_[row * nodes_ + node] = raw[row] - (sum[to] - sum[from]) / static_cast<double>(to - from);
        }
    }
    // Average over [from, from + length) of a seeded value a line.
    static double line_average(std::uint64_t seed, double from, double length) {
        double sum = 0;
        const double to = from + length;
        for (double line = std::floor(from); line < to; ++line)
            sum += (std::min(line + 1, to) - std::max(line, from)) *
                   seeded_uniform(seed, static_cast<std::uint64_t>(line));
        return 1.7 * sum / length;  // 1.7: unit standard deviation of one line
    }

    double px_per_mm_;
    std::size_t nodes_, rows_;
    std::vector<double> value_;
};

// Signed distance (mm, positive outside) to a bar of the given size whose top edge lies `lift` higher here.
double outside_mm(double x_mm, double y_mm, double width_mm, double height_mm) {
    const double half_width = width_mm / 2, half_height = height_mm / 2;
    const double radius =
        std::min({y_mm < half_height ? lower_radius_mm : upper_radius_mm, half_width, half_height});
    const double dx = std::abs(x_mm - half_width) - (half_width - radius);
    const double dy = std::abs(y_mm - half_height) - (half_height - radius);
    return std::hypot(std::max(dx, 0.0), std::max(dy, 0.0)) + std::min(std::max(dx, dy), 0.0) - radius;
}

double top_lift_mm(const design::Design& design, int bar, double x_mm) {
    const std::uint64_t seed = mixed_bits(design.seed ^ 0x70b);
    const double wave = smooth_field(seed, x_mm, design::bar_face_z_mm(design, bar), 14, 60) +
                        0.3 * smooth_field(seed + 1, x_mm, design::bar_face_z_mm(design, bar), 3.5, 30);
    return std::clamp(top_wave_mm * wave, -top_wave_most_mm, top_wave_most_mm);
}

// How much an edge faces the light, -1..1: the outward normal is the gradient of the distance.
double facing_light(double x_mm, double y_mm, double width_mm, double height_mm) {
    constexpr double step = 0.01;
    const Vec2 normal{outside_mm(x_mm + step, y_mm, width_mm, height_mm) -
                          outside_mm(x_mm - step, y_mm, width_mm, height_mm),
                      outside_mm(x_mm, y_mm + step, width_mm, height_mm) -
                          outside_mm(x_mm, y_mm - step, width_mm, height_mm)};
    return dot(normal, towards_light) / (2 * step);
}

// Light that the surface sends back compared with a perfectly flat one: what the edge does to it.
double edge_light(double x_mm, double y_mm, double width_mm, double height_mm, double inside_mm) {
    if (inside_mm > 6 * rim_mm) return 0;
    return crease_strength * std::exp(-inside_mm / crease_mm) *
               facing_light(x_mm, y_mm, width_mm, height_mm) -
           rim_strength * std::exp(-inside_mm / rim_mm);
}

void put(Image& image, int x, int y, const std::uint8_t* colour, double factor, double alpha) {
    const auto light = [&](int c) { return factor * static_cast<double>(linear_of(colour[c])); };
    blend(image, x, y, {light(0), light(1), light(2)}, alpha);
}

// The outline of a bar with a worked top: straight sides, the lower corners round, above whatever the surface
// does. The top's edge catches light as other edges do.
class WorkedOutline {
  public:
    WorkedOutline(const TopView& view, double width_mm) : view_(view), width_mm_(width_mm) {}
    double edge_light(double x_mm, double y_mm) const {
        const double below = std::max(0.0, -above_mm(x_mm, y_mm));
        const double aside = std::max(0.0, -picture::outside_mm(x_mm, y_mm, width_mm_, 1e4));
        double light = picture::edge_light(x_mm, y_mm, width_mm_, 1e4, aside);
        if (below > 6 * rim_mm) return light;
        const double rise = slope(x_mm), size = std::hypot(rise, 1.0);
        const double facing = dot({-rise / size, 1 / size}, towards_light);
        return light + crease_strength * std::exp(-below / crease_mm) * facing -
               rim_strength * std::exp(-below / rim_mm);
    }

  private:
    double slope(double x_mm) const {
        return (view_.height_at_mm(x_mm + 0.25, 0) - view_.height_at_mm(x_mm - 0.25, 0)) / 0.5;
    }
    double above_mm(double x_mm, double y_mm) const {
        return (y_mm - view_.height_at_mm(x_mm, 0)) / std::hypot(1.0, slope(x_mm));
    }
    const TopView& view_;
    double width_mm_;
};

struct Scene {
    const design::Design& design;
    const Face& face;
    double px_per_mm;
    int margin_px, bar;
};

void draw_bar(Image& image, const Scene& scene) {
    const Image& face = scene.face.image;
    const int lift_px = static_cast<int>(std::ceil(top_wave_most_mm * scene.px_per_mm));
    const double width_mm = face.width_px / scene.px_per_mm, height_mm = face.height_px / scene.px_per_mm;
    const std::uint64_t seed = mixed_bits(scene.design.seed * 1000 + static_cast<std::uint64_t>(scene.bar));
    const CutMarks marks(seed, scene.px_per_mm, face.width_px, face.height_px + lift_px);
    for (int column = 0; column < face.width_px; ++column) {
        const double x_mm = (column + 0.5) / scene.px_per_mm;
        const double top_mm = height_mm + top_lift_mm(scene.design, scene.bar, x_mm);
        for (int row = -lift_px; row < face.height_px; ++row) {
            const double y_mm = height_mm - (row + 0.5) / scene.px_per_mm;
            const double outside = outside_mm(x_mm, y_mm, width_mm, top_mm);
            const double alpha = std::clamp(0.5 - outside * scene.px_per_mm, 0.0, 1.0);
            if (alpha == 0) continue;
            const auto at =
                static_cast<std::size_t>(std::max(row, 0)) * static_cast<std::size_t>(face.width_px) +
                static_cast<std::size_t>(column);
            const double grain = 1.7 * seeded_uniform(seed ^ 0x9a1, at);
            const double texture =
                std::clamp(mark_strength * marks.at(column, row + lift_px) + grain_strength * grain,
                           -most_texture, most_texture);
            const double inside = std::max(0.0, -outside);
            put(image, scene.margin_px + column, scene.margin_px + row, &face.rgba[4 * at],
                1 + texture + edge_light(x_mm, y_mm, width_mm, top_mm, inside), alpha);
        }
    }
}

// The face of a bar with a worked top, over what draw_top() drew.
void draw_worked_bar(Image& image, const Scene& scene) {
    const Image& face = scene.face.image;
    const double px_per_mm = scene.px_per_mm, width_mm = face.width_px / px_per_mm;
    const std::uint64_t seed = mixed_bits(scene.design.seed * 1000 + static_cast<std::uint64_t>(scene.bar));
    const CutMarks marks(seed, px_per_mm, face.width_px, face.height_px);
    const WorkedOutline outline(*scene.face.top, width_mm);
    for (int column = 0; column < face.width_px; ++column) {
        const double x_mm = (column + 0.5) / px_per_mm;
        for (int row = 0; row < face.height_px; ++row) {
            const auto at = static_cast<std::size_t>(row) * static_cast<std::size_t>(face.width_px) +
                            static_cast<std::size_t>(column);
            const std::uint8_t* colour = &face.rgba[4 * at];
            if (colour[3] == 0) continue;
            const double y_mm = (face.height_px - row - 0.5) / px_per_mm;
            const double corner = outside_mm(x_mm, y_mm, width_mm, 1e4);
            const double alpha = std::clamp(0.5 - corner * px_per_mm, 0.0, 1.0) * colour[3] / 255;
            const double grain = 1.7 * seeded_uniform(seed ^ 0x9a1, at);
            const double texture = std::clamp(mark_strength * marks.at(column, row) + grain_strength * grain,
                                              -most_texture, most_texture);
            put(image, scene.margin_px + column, scene.margin_px + row, colour,
                1 + texture + outline.edge_light(x_mm, y_mm), alpha);
        }
    }
}

// Where shadows fall from: a worked bar's as high as its lowest furrow.
double shadow_top_px(const Face& face, double scale) {
    if (!face.top) return 0;
    double lowest = 1e9;
    for (std::size_t i = 0; i < face.top->columns; ++i)
        lowest = std::min(lowest, static_cast<double>(face.top->height_mm[i]));
    return std::max(0.0, face.image.height_px - lowest * scale);
}

}  // namespace

int bar_margin_px(double px_per_mm) {
    return static_cast<int>(std::ceil(margin_mm * px_per_mm));
}

Image bar_picture(const design::Design& design, const Face& face, const FaceRequest& request) {
    const double scale = request.px_per_mm;
    const int margin = bar_margin_px(scale);
    const double width = face.image.width_px, height = face.image.height_px;
    Image image(face.image.width_px + 2 * margin, face.image.height_px + 2 * margin, {});
    std::fill(image.rgba.begin(), image.rgba.end(), std::uint8_t{0});
    const double inset = 1.0 * scale, from = shadow_top_px(face, scale);
    shadow(image,
           {margin + inset, margin + 3.2 * scale + from, width - 2 * inset, height - 1.2 * scale - from},
           2.6 * scale, 0.30);
    shadow(
        image,
        {margin + 0.2 * scale, margin + 0.9 * scale + from, width - 0.4 * scale, height - 0.5 * scale - from},
        0.55 * scale, 0.34);
    const Scene scene{design, face, scale, margin, request.bar};
    if (face.top) {
        draw_top(image, design, face, scale, margin, margin + height);
        draw_worked_bar(image, scene);
    } else {
        draw_bar(image, scene);
    }
    return image;
}

}  // namespace foreslice::picture
