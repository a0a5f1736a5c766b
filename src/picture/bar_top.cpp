#include "picture/bar_top.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "foundation/random.h"
#include "picture/draw.h"

namespace foreslice::picture {
namespace {

using colour::LinearSrgb;

constexpr int across = 3, down = 4;               // samples a pixel
constexpr double march_mm = 0.2;                  // between samples in depth
constexpr double tuck_px = 1.5;                   // how far the top reaches down behind the face's edge
constexpr double ambient = 0.57, diffuse = 0.56;  // a level top is a little brighter than the face
constexpr double sheen = 0.045, sheen_power = 22;
constexpr double hollow_mm = 1.6, hollow_strength = 0.16;  // furrows see less of the sky
constexpr double lustre_cell_mm = 0.16, lustre_density = 0.16;

struct Vec3 {
    double x, y, z;  // right, up, away
};
double dot3(Vec3 a, Vec3 b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
Vec3 unit(Vec3 a) {
    const double size = std::sqrt(dot3(a, a));
    return {a.x / size, a.y / size, a.z / size};
}
const Vec3 towards_light = unit({-0.62, 0.72, -0.30});
Vec3 half_way_to(Vec3 eye) {
    return unit({towards_light.x + eye.x, towards_light.y + eye.y, towards_light.z + eye.z});
}
const Vec3 half_way_before = half_way_to(unit({0, 0.3, -0.95}));  // the bar stands before the eye
const Vec3 half_way_above = half_way_to({0, 1, 0});

LinearSrgb times(const LinearSrgb& light, double factor) {
    return {light.r * factor, light.g * factor, light.b * factor};
}
LinearSrgb sum_of(const LinearSrgb& a, const LinearSrgb& b) {
    return {a.r + b.r, a.g + b.g, a.b + b.b};
}
LinearSrgb capped(const LinearSrgb& light) {
    return {std::min(1.0, light.r), std::min(1.0, light.g), std::min(1.0, light.b)};
}

/// Light that comes from a point of the top.
class Shader {
  public:
    Shader(const TopView& view, const Face& face, std::uint64_t seed, double z_mm, Vec3 half_way)
        : view_(view), half_way_(half_way), seed_(mixed_bits(seed ^ 0x1u)), z_mm_(z_mm) {
        for (const std::uint8_t material : view.material)
            nodes_.push_back(
                {face.colours[material].linear, material < face.sparkle.size() ? face.sparkle[material] : 0});
        for (int round = 0; round < 3; ++round) soften(1, view.columns);
        soften(view.columns, view.rows);
    }

    LinearSrgb at(double x_mm, double depth_mm) const {
        const double step = 0.2;
        const auto height = [&](double x, double z) { return view_.height_at_mm(x, z); };
        const double rise = (height(x_mm + step, depth_mm) - height(x_mm - step, depth_mm)) / (2 * step);
        const double away = (height(x_mm, depth_mm + view_.row_mm) - height(x_mm, depth_mm - view_.row_mm)) /
                            (2 * view_.row_mm);
        const Vec3 normal = unit({-rise, 1, -away});
        const double hollow =
            0.5 * (height(x_mm + hollow_mm, depth_mm) + height(x_mm - hollow_mm, depth_mm)) -
            height(x_mm, depth_mm);
        const double sky = 1 - std::clamp(hollow_strength * hollow, -0.06, 0.22);
        const double lit = (ambient + diffuse * std::max(0.0, dot3(normal, towards_light))) * sky;
        const double shine = sheen * std::pow(std::max(0.0, dot3(normal, half_way_)), sheen_power);
        const auto [own, sparkle] = material_at(x_mm, depth_mm);
        LinearSrgb light = sum_of(times(own, lit), {shine, shine, shine});
        if (sparkle > 0) light = sum_of(light, lustre(own, x_mm, depth_mm, sparkle));
        return light;
    }

  private:
    struct Node {
        LinearSrgb light{};
        double sparkle = 0;
        friend Node operator+(const Node& a, const Node& b) {
            return {sum_of(a.light, b.light), a.sparkle + b.sparkle};
        }
        friend Node operator*(double factor, const Node& a) {
            return {times(a.light, factor), factor * a.sparkle};
        }
    };

    // Where two materials meet on the top the upper one thins out over a millimetre.
    void soften(std::size_t stride, std::size_t count) {
        std::vector<Node> soft = nodes_;
        for (std::size_t at = 0; at < nodes_.size(); ++at) {
            const std::size_t place = at / stride % count;
            const Node& before = nodes_[place > 0 ? at - stride : at];
            const Node& after = nodes_[place + 1 < count ? at + stride : at];
            soft[at] = 0.25 * before + 0.5 * nodes_[at] + 0.25 * after;
        }
        nodes_ = std::move(soft);
    }

    Node material_at(double x_mm, double depth_mm) const {
        const double u =
            std::clamp(x_mm / view_.column_mm, 0.0, static_cast<double>(view_.columns - 1) - 1e-9);
        const double v = std::clamp(depth_mm / view_.row_mm, 0.0, static_cast<double>(view_.rows - 1) - 1e-9);
        const auto i = static_cast<std::size_t>(u), j = static_cast<std::size_t>(v);
        const double s = u - static_cast<double>(i), t = v - static_cast<double>(j);
        const Node* low = &nodes_[j * view_.columns + i];
        const Node* high = low + view_.columns;
        return (1 - t) * ((1 - s) * low[0] + s * low[1]) + t * ((1 - s) * high[0] + s * high[1]);
    }

    // Plates of effect pigment too small to be drawn one by one: some catch the light.
    LinearSrgb lustre(const LinearSrgb& own, double x_mm, double depth_mm, double sparkle) const {
        const auto u = static_cast<std::uint64_t>(std::floor(x_mm / lustre_cell_mm));
        const auto v = static_cast<std::uint64_t>(std::floor((depth_mm + z_mm_) / (2.2 * lustre_cell_mm)));
        const std::uint64_t cell = mixed_bits(seed_ ^ (v * 70001U + u));
        const double met = 0.5 + 0.5 * seeded_uniform(cell, 0);
        if (met > lustre_density * sparkle) return {};
        const double glint = std::pow(0.5 + 0.5 * seeded_uniform(cell, 1), 3);
        return sum_of(times(own, 1.2 * glint), times({1, 0.98, 0.94}, 0.35 * glint));
    }

    const TopView& view_;
    Vec3 half_way_;
    std::vector<Node> nodes_;
    std::uint64_t seed_;
    double z_mm_;
};

/// Where things of the top appear in the picture.
struct Sight {
    const TopView& view;
    double px_per_mm, left_px, base_px, rise;

    double y_px(double height_mm, double depth_mm) const {
        return base_px - (height_mm + rise * depth_mm) * px_per_mm;
    }
    double x_px(double x_mm) const { return left_px + x_mm * px_per_mm; }
};

// One column of pixels, walked from the front to the back: what lies further back is seen where it comes out
// above all before it.
class Column {
  public:
    Column(const Sight& sight, const Shader& shader, int height_px)
        : sight_(sight), shader_(shader), light_(static_cast<std::size_t>(height_px)) {}

    void add(double x_mm) {
        const TopView& view = sight_.view;
        const int steps = std::max(2, static_cast<int>(std::ceil(view.depth_mm() / march_mm)));
        double highest = sight_.y_px(view.height_at_mm(x_mm, 0), 0) + tuck_px;
        for (int step = 0; step <= steps; ++step) {
            const double depth = view.depth_mm() * step / steps;
            const double y = sight_.y_px(view.height_at_mm(x_mm, depth), depth);
            if (y >= highest) continue;
            fill(y, highest, shader_.at(x_mm, depth));
            highest = y;
        }
    }

    void draw(Image& image, int x) const {
        for (std::size_t row = 0; row < light_.size(); ++row) {
            const Sum& sum = light_[row];
            if (sum.count == 0) continue;
            const double count = sum.count;
            blend(image, x, static_cast<int>(row), capped(times(sum.light, 1 / count)),
                  std::min(1.0, count / (across * down)));
        }
    }

  private:
    struct Sum {
        LinearSrgb light{};
        int count = 0;
    };
    // Sample rows whose middles lie in [from, to).
    void fill(double from, double to, const LinearSrgb& light) {
        const int first = std::max(0, static_cast<int>(std::ceil(from * down - 0.5)));
        const int last =
            std::min(static_cast<int>(light_.size()) * down, static_cast<int>(std::ceil(to * down - 0.5)));
        for (int row = first; row < last; ++row) {
            Sum& sum = light_[static_cast<std::size_t>(row / down)];
            sum.light = sum_of(sum.light, light);
            ++sum.count;
        }
    }

    const Sight& sight_;
    const Shader& shader_;
    std::vector<Sum> light_;
};

// An ellipse with soft edges of a pixel, half axes in px; small ones keep their area as opacity.
void draw_spot(Image& image, Vec2 at, double rx, double ry, double angle, const LinearSrgb& light,
               double opacity) {
    const double thin = std::min(1.0, 2 * rx) * std::min(1.0, 2 * ry);
    rx = std::max(rx, 0.5);
    ry = std::max(ry, 0.5);
    const double reach = std::max(rx, ry) + 1, c = std::cos(angle), s = std::sin(angle);
    for (int y = static_cast<int>(std::floor(at.y - reach)); y <= static_cast<int>(at.y + reach); ++y)
        for (int x = static_cast<int>(std::floor(at.x - reach)); x <= static_cast<int>(at.x + reach); ++x) {
            const double dx = x + 0.5 - at.x, dy = y + 0.5 - at.y;
            const double u = (c * dx + s * dy) / rx, v = (-s * dx + c * dy) / ry;
            const double size = std::hypot(u, v);
            const double slope = std::hypot(u / rx, v / ry);
            const double outside =
                size > 1e-9 ? (size - 1) * size / std::max(slope, 1e-9) : -std::min(rx, ry);
            const double cover = std::clamp(0.5 - outside, 0.0, 1.0);
            if (cover > 0) blend(image, x, y, light, cover * thin * opacity);
        }
}

// Most flakes lie so that they show their own colour, a little brighter or darker; few mirror the light.
void draw_flake(Image& image, const LinearSrgb& own, Vec2 at, double rx, double ry, double glint) {
    const double mirrors = std::pow(glint, 7);
    const LinearSrgb light = capped(sum_of(times(own, 0.62 + 0.75 * glint + 0.9 * mirrors),
                                           times({1.0, 0.985, 0.95}, 0.10 * glint + 0.85 * mirrors)));
    if (mirrors > 0.45) draw_spot(image, at, 2.3 * rx + 0.6, 2.3 * rx + 0.6, 0, light, 0.16 * mirrors);
    draw_spot(image, at, rx, ry, 0, light, 0.55 + 0.45 * mirrors);
}

bool in_view(const Sight& sight, double x_mm, double depth_mm, double y_px) {
    for (double nearer = std::max(0.0, depth_mm - 0.4); nearer > 0; nearer -= 0.4)
        if (sight.y_px(sight.view.height_at_mm(x_mm, nearer), nearer) < y_px - 0.5) return false;
    return true;
}

void draw_flakes(Image& image, const Sight& sight, const Face& face) {
    for (const Flake& flake : sight.view.flakes) {
        if (flake.depth_mm < flake.radius_mm) break;  // the cut's, and before it
        const double y = sight.y_px(sight.view.height_at_mm(flake.x_mm, flake.depth_mm), flake.depth_mm);
        if (!in_view(sight, flake.x_mm, flake.depth_mm, y)) continue;
        const double r = flake.radius_mm * sight.px_per_mm;
        draw_flake(image, face.glitter[flake.kind], {sight.x_px(flake.x_mm), y}, r, (sight.rise + 0.2) * r,
                   flake.glint);
    }
}

void draw_seed(Image& image, const LinearSrgb& own, Vec2 at, const TopSeed& seed, double px_per_mm,
               double flat) {
    const double c = std::cos(seed.angle_rad), s = std::sin(seed.angle_rad);
    const double a = 0.5 * seed.length_mm * px_per_mm, b = 0.5 * seed.width_mm * px_per_mm;
    // Seen from the side: as wide as the ellipse's shadow on the floor is.
    const double rx = std::hypot(a * c, b * s), ry = std::max(flat * std::hypot(a * s, b * c), 0.62 * b);
    const LinearSrgb light = times(own, 1 + 0.16 * seed.shade);
    draw_spot(image, {at.x + 0.25 * rx, at.y + 0.4 * ry}, 1.1 * rx, ry, 0, {0, 0, 0}, 0.28);
    draw_spot(image, at, rx, ry, 0, light, 1);
    draw_spot(image, {at.x - 0.3 * rx, at.y - 0.35 * ry}, 0.42 * rx, 0.34 * ry, 0,
              capped(sum_of(times(light, 1.3), {0.10, 0.10, 0.10})), 0.5);
}

}  // namespace

void draw_top(Image& image, const design::Design& design, const Face& face, double px_per_mm, double left_px,
              double base_px) {
    const TopView& view = *face.top;
    const Sight sight{view, px_per_mm, left_px, base_px, rise_per_depth(view.depth_mm())};
    const Shader shader(view, face, design.seed, 0, half_way_before);
    const double width_mm = view.column_mm * static_cast<double>(view.columns - 1);
    const int width_px = static_cast<int>(std::lround(width_mm * px_per_mm));
    for (int x = 0; x < width_px; ++x) {
        Column column(sight, shader, image.height_px);
        for (int k = 0; k < across; ++k) column.add((x + (k + 0.5) / across) / px_per_mm);
        column.draw(image, static_cast<int>(std::lround(left_px)) + x);
    }
    draw_flakes(image, sight, face);
    for (const TopSeed& seed : view.seeds) {
        if (seed.depth_mm < seed.length_mm / 2) break;
        const double height = view.height_at_mm(seed.x_mm, seed.depth_mm) + 0.2 * seed.width_mm;
        const double y = sight.y_px(height, seed.depth_mm);
        if (in_view(sight, seed.x_mm, seed.depth_mm, y))
            draw_seed(image, face.bits[seed.kind], {sight.x_px(seed.x_mm), y}, seed, px_per_mm, 0.45);
    }
}

void draw_top_from_above(Image& image, const design::Design& design, const Face& face, double px_per_mm,
                         WorkerPool& pool, Progress& progress) {
    constexpr int samples = 2;  // a pixel, on each side
    const TopView& view = *face.top;
    const Shader shader(view, face, design.seed, 0, half_way_above);
    pool.parallel_for(static_cast<std::size_t>(image.width_px), [&](std::size_t column) {
        for (int row = 0; row < image.height_px; ++row) {
            LinearSrgb sum{};
            for (int k = 0; k < samples * samples; ++k) {
                const int across = k / samples, down = k % samples;
                const double depth = static_cast<double>(column) + (down + 0.5) / samples;
                const double x = row + (across + 0.5) / samples;
                sum = sum_of(sum, capped(shader.at(x / px_per_mm, depth / px_per_mm)));
            }
            blend(image, static_cast<int>(column), row, times(sum, 1.0 / (samples * samples)), 1);
        }
        progress.advance();
    });
    for (const TopSeed& seed : view.seeds)
        draw_seed(image, face.bits[seed.kind], {seed.depth_mm * px_per_mm, seed.x_mm * px_per_mm}, seed,
                  px_per_mm, 1);
    for (const Flake& flake : view.flakes) {
        const double r = flake.radius_mm * px_per_mm;
        draw_flake(image, face.glitter[flake.kind], {flake.depth_mm * px_per_mm, flake.x_mm * px_per_mm}, r,
                   r, flake.glint);
    }
}

void draw_on_edge(Image& face_image, const Face& face, double px_per_mm) {
    const TopView& view = *face.top;
    const auto y_px = [&](double height_mm) { return face_image.height_px - height_mm * px_per_mm; };
    for (const TopSeed& seed : view.seeds) {
        const double half = seed.length_mm / 2;
        if (std::abs(seed.depth_mm) >= half) continue;
        TopSeed cut = seed;  // the nearer its end the cut goes, the smaller it shows
        const double part = std::sqrt(1 - seed.depth_mm * seed.depth_mm / (half * half));
        cut.length_mm *= part;
        cut.width_mm *= part;
        draw_seed(face_image, face.bits[seed.kind],
                  {seed.x_mm * px_per_mm, y_px(view.height_at_mm(seed.x_mm, 0) + 0.15 * cut.width_mm)}, cut,
                  px_per_mm, 0.8);
    }
    for (const Flake& flake : view.flakes) {
        if (std::abs(flake.depth_mm) >= flake.radius_mm) continue;
        const double r = flake.radius_mm * px_per_mm;
        draw_flake(face_image, face.glitter[flake.kind],
                   {flake.x_mm * px_per_mm, y_px(view.height_at_mm(flake.x_mm, 0)) + 0.2 * r}, r, 0.5 * r,
                   flake.glint);
    }
}

}  // namespace foreslice::picture
