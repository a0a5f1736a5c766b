#include "studio/session/bar_mesh.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace foreslice::studio {
namespace {

constexpr int rim_steps = 4, flat_steps = 16, most_flat_steps = 120;
constexpr float worked_step_mm = 0.75F;  // ridges of a worked top are some millimetres apart
constexpr float field_of_view_deg = 26;

Vec3 operator-(const Vec3& a, const Vec3& b) {
    return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
Vec3 operator+(const Vec3& a, const Vec3& b) {
    return {a[0] + b[0], a[1] + b[1], a[2] + b[2]};
}
Vec3 scaled(float s, const Vec3& a) {
    return {s * a[0], s * a[1], s * a[2]};
}
float dot(const Vec3& a, const Vec3& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
Vec3 cross(const Vec3& a, const Vec3& b) {
    return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
Vec3 unit(const Vec3& a) {
    const float length = std::sqrt(dot(a, a));
    return length > 0 ? scaled(1 / length, a) : a;
}

// Places along one side of the box, closer where its edge is round. The first and the last lie on the edge to
// the last digit, so that two sides meet there without a gap.
std::vector<float> stations(double half, double rounding, int flat_parts) {
    std::vector<float> out;
    for (int k = rim_steps; k >= 1; --k)
        out.push_back(
            static_cast<float>(-half + rounding - rounding * std::tan(std::numbers::pi / 4 * k / rim_steps)));
    for (int k = 0; k <= flat_parts; ++k)
        out.push_back(static_cast<float>((half - rounding) * (2.0 * k / flat_parts - 1)));
    for (int k = 1; k <= rim_steps; ++k)
        out.push_back(
            static_cast<float>(half - rounding + rounding * std::tan(std::numbers::pi / 4 * k / rim_steps)));
    out.front() = static_cast<float>(-half);
    out.back() = static_cast<float>(half);
    return out;
}

// A box with round edges: every point of a sharp one goes to the ball nearest to it.
BarMesh::Corner rounded(const Vec3& sharp, const Vec3& half, float rounding) {
    Vec3 core;
    for (std::size_t i = 0; i < 3; ++i)
        core[i] = std::clamp(sharp[i], -(half[i] - rounding), half[i] - rounding);
    const Vec3 normal = unit(sharp - core);
    return {core + scaled(rounding, normal), normal};
}

struct Box {
    Vec3 half;
    float rounding;
    std::array<int, 3> flat_parts;  ///< along each axis; the same on all sides, so that they meet
};

void add_side(BarMesh& mesh, const Box& box, std::size_t axis, float sign) {
    const auto& [half, rounding, parts] = box;
    const std::size_t u = (axis + 1) % 3, v = (axis + 2) % 3;
    const auto us = stations(half[u], rounding, parts[u]), vs = stations(half[v], rounding, parts[v]);
    const auto first = static_cast<std::uint32_t>(mesh.corners.size());
    for (const float b : vs)
        for (const float a : us) {
            Vec3 sharp;
            sharp[axis] = sign * half[axis];
            sharp[u] = a;
            sharp[v] = b;
            mesh.corners.push_back(rounded(sharp, half, rounding));
        }
    const auto across = static_cast<std::uint32_t>(us.size());
    for (std::uint32_t row = 0; row + 1 < vs.size(); ++row)
        for (std::uint32_t column = 0; column + 1 < across; ++column) {
            const std::uint32_t a = first + row * across + column, b = a + 1, c = a + across, d = c + 1;
            const auto turn = [&](std::uint32_t p, std::uint32_t q, std::uint32_t r) {
                mesh.triangles.insert(mesh.triangles.end(), {p, sign > 0 ? q : r, sign > 0 ? r : q});
            };
            turn(a, b, d);
            turn(a, d, c);
        }
}

// Lifts what looks up by the height of the top there; normals follow the slope.
void shape_top(BarMesh& mesh, const BarSize& size, const TopHeight& top) {
    const auto height_at = [&](double x, double z) {
        return static_cast<float>(top(x + size.width_mm / 2, size.thickness_mm / 2 - z));
    };
    constexpr double step = 0.5;
    for (auto& corner : mesh.corners) {
        const float share = std::clamp((corner.normal[1] - 0.05F) / 0.6F, 0.0F, 1.0F);
        if (share == 0) continue;
        const auto x = static_cast<double>(corner.position_mm[0]),
                   z = static_cast<double>(corner.position_mm[2]);
        corner.on_top = share;
        corner.position_mm[1] += share * height_at(x, z);
        const auto slope_x = (height_at(x + step, z) - height_at(x - step, z)) / static_cast<float>(2 * step);
        const auto slope_z = (height_at(x, z + step) - height_at(x, z - step)) / static_cast<float>(2 * step);
        corner.normal =
            unit({corner.normal[0] - share * slope_x, corner.normal[1], corner.normal[2] - share * slope_z});
    }
}

float half_diagonal(const BarSize& size) {
    return static_cast<float>(0.5 *
                              std::sqrt(size.width_mm * size.width_mm + size.height_mm * size.height_mm +
                                        size.thickness_mm * size.thickness_mm));
}

float linear(float c) {
    return c <= 0.04045F ? c / 12.92F : std::pow((c + 0.055F) / 1.055F, 2.4F);
}
float encoded(float l) {
    l = std::clamp(l, 0.0F, 1.0F);
    return l <= 0.0031308F ? 12.92F * l : 1.055F * std::pow(l, 1 / 2.4F) - 0.055F;
}
float chance(float x, float y) {
    const float value = std::sin(x * 12.9898F + y * 78.233F) * 43758.5453F;
    return value - std::floor(value);
}

// One point of the bar's surface.
struct Spot {
    Vec3 at_mm{}, facing{};
    float on_top = 0;
};

struct Lamp {
    const BarSkin& skin;
    std::array<float, 256> linear_of;
    float width_mm, height_mm, thickness_mm, above_mm;
    Vec3 eye, to_light;

    Vec3 own_colour(const Spot& spot) const;
    Vec3 colour(const Spot& spot) const;

  private:
    Vec3 seen_in(const picture::Image& image, float u, float v) const;
};

Vec3 Lamp::seen_in(const picture::Image& image, float u, float v) const {
    const auto within = [](float share) { return std::clamp(share, 0.002F, 0.998F); };
    const auto column = static_cast<std::size_t>(within(u) * static_cast<float>(image.width_px));
    const auto row = static_cast<std::size_t>(within(v) * static_cast<float>(image.height_px));
    const auto* rgba = &image.rgba[4 * (row * static_cast<std::size_t>(image.width_px) + column)];
    return {linear_of[rgba[0]], linear_of[rgba[1]], linear_of[rgba[2]]};
}

Vec3 Lamp::own_colour(const Spot& spot) const {
    const float u = spot.at_mm[0] / width_mm + 0.5F;
    const Vec3 face =
        seen_in(skin.face, u, (above_mm + height_mm / 2 - spot.at_mm[1]) / (height_mm + above_mm));
    if (spot.on_top <= 0 || skin.above.rgba.empty()) return face;
    const Vec3 above = seen_in(skin.above, u, 0.5F - spot.at_mm[2] / thickness_mm);
    return scaled(1 - spot.on_top, face) + scaled(spot.on_top, above);
}

// As shaders/bar.frag.
Vec3 Lamp::colour(const Spot& spot) const {
    const Vec3& at = spot.at_mm;
    const Vec3 n = unit(spot.facing), to_eye = unit(eye - at), own = own_colour(spot);
    const auto glitter = static_cast<float>(skin.glitter);
    const float lit = std::clamp((dot(n, to_light) + 0.25F) / 1.25F, 0.0F, 1.0F);
    const Vec3 half_way = unit(to_light + to_eye);
    const float shine = std::pow(std::max(dot(n, half_way), 0.0F), 28.0F) * 0.10F;
    const float edge = std::pow(1 - std::max(dot(n, to_eye), 0.0F), 4.0F) * 0.10F;
    Vec3 light;
    for (std::size_t c = 0; c < 3; ++c) light[c] = own[c] * (0.42F + 0.66F * lit) + shine + edge;
    if (glitter > 0 && n[1] > 0.6F) {
        const float x = std::floor(at[0] * 2.5F), z = std::floor(at[2] * 2.5F);
        const float tilt = chance(x + 7, z + 7);
        const float wink =
            std::pow(std::abs(std::sin(6.2832F * tilt + 3 * to_eye[0] + 5 * to_eye[2])), 24.0F);
        if (chance(x, z) < glitter / 6.25F)
            light = light + scaled(0.15F + 0.85F * wink, {1.0F, 0.86F, 0.55F});
    }
    return {encoded(light[0]), encoded(light[1]), encoded(light[2])};
}

struct OnScreen {
    float x, y, depth;
};

struct Canvas {
    picture::Image image;
    std::vector<float> depth;
};

void fill_triangle(Canvas& canvas, const std::array<OnScreen, 3>& on,
                   const std::array<const BarMesh::Corner*, 3>& corners, const Lamp& lamp) {
    const float area = (on[1].x - on[0].x) * (on[2].y - on[0].y) - (on[2].x - on[0].x) * (on[1].y - on[0].y);
    if (!(area < 0)) return;  // turned away (y goes down on the screen), or no area
    const auto least = [&](auto get) { return std::min({get(on[0]), get(on[1]), get(on[2])}); };
    const auto most = [&](auto get) { return std::max({get(on[0]), get(on[1]), get(on[2])}); };
    const auto of_x = [](const OnScreen& p) { return p.x; };
    const auto of_y = [](const OnScreen& p) { return p.y; };
    const int x0 = std::max(0, static_cast<int>(least(of_x)));
    const int x1 = std::min(canvas.image.width_px - 1, static_cast<int>(most(of_x)) + 1);
    const int y0 = std::max(0, static_cast<int>(least(of_y)));
    const int y1 = std::min(canvas.image.height_px - 1, static_cast<int>(most(of_y)) + 1);
    for (int y = y0; y <= y1; ++y)
        for (int x = x0; x <= x1; ++x) {
            const float px = static_cast<float>(x) + 0.5F, py = static_cast<float>(y) + 0.5F;
            std::array<float, 3> share;
            for (std::size_t i = 0; i < 3; ++i) {
                const OnScreen &a = on[(i + 1) % 3], &b = on[(i + 2) % 3];
                share[i] = ((b.x - a.x) * (py - a.y) - (px - a.x) * (b.y - a.y)) / area;
            }
            // A pixel on the line between two triangles belongs to both, else round-off could leave it to
            // none.
            if (std::min({share[0], share[1], share[2]}) < -1e-4F) continue;
            const float depth = share[0] * on[0].depth + share[1] * on[1].depth + share[2] * on[2].depth;
            const auto at = static_cast<std::size_t>(y) * static_cast<std::size_t>(canvas.image.width_px) +
                            static_cast<std::size_t>(x);
            if (depth >= canvas.depth[at]) continue;
            canvas.depth[at] = depth;
            Spot spot;
            for (std::size_t i = 0; i < 3; ++i) {
                spot.at_mm = spot.at_mm + scaled(share[i], corners[i]->position_mm);
                spot.facing = spot.facing + scaled(share[i], corners[i]->normal);
                spot.on_top += share[i] * corners[i]->on_top;
            }
            const Vec3 colour = lamp.colour(spot);
            for (std::size_t c = 0; c < 3; ++c)
                canvas.image.rgba[4 * at + c] = static_cast<std::uint8_t>(std::lround(255 * colour[c]));
            canvas.image.rgba[4 * at + 3] = 255;
        }
}

}  // namespace

BarMesh bar_mesh(const BarSize& size, const TopHeight& top) {
    const Vec3 half{static_cast<float>(size.width_mm / 2), static_cast<float>(size.height_mm / 2),
                    static_cast<float>(size.thickness_mm / 2)};
    const float rounding =
        std::min({static_cast<float>(size.rounding_mm), 0.45F * half[0], 0.45F * half[1], 0.45F * half[2]});
    const auto parts = [&](std::size_t axis) {
        const auto fine = static_cast<int>(std::ceil(2 * half[axis] / worked_step_mm));
        return top && axis != 1 ? std::clamp(fine, flat_steps, most_flat_steps) : flat_steps;
    };
    const Box box{half, rounding, {parts(0), parts(1), parts(2)}};
    BarMesh mesh;
    for (std::size_t axis = 0; axis < 3; ++axis)
        for (const float sign : {-1.0F, 1.0F}) add_side(mesh, box, axis, sign);
    if (top) shape_top(mesh, size, top);
    return mesh;
}

Vec3 eye_of(const BarSize& size, const BarView& view) {
    const float yaw = view.yaw_deg * std::numbers::pi_v<float> / 180;
    const float pitch = view.pitch_deg * std::numbers::pi_v<float> / 180;
    const float far = view.distance * half_diagonal(size);
    return {far * std::cos(pitch) * std::sin(yaw), far * std::sin(pitch),
            far * std::cos(pitch) * std::cos(yaw)};
}

Vec3 light_of(const BarView& view) {
    const float yaw = (view.yaw_deg - 38) * std::numbers::pi_v<float> / 180;
    return unit({std::cos(0.7F) * std::sin(yaw), std::sin(0.7F), std::cos(0.7F) * std::cos(yaw)});
}

Matrix screen_from_bar(const BarSize& size, const BarView& view, float aspect) {
    const Vec3 eye = eye_of(size, view), back = unit(eye);
    const Vec3 right = unit(cross({0, 1, 0}, back)), up = cross(back, right);
    float scale = 1 / std::tan(field_of_view_deg * std::numbers::pi_v<float> / 360);
    if (aspect < 1) scale *= aspect;  // what is narrow shows the whole bar as well
    const float near = 0.2F * half_diagonal(size), far = 12 * half_diagonal(size);
    const float a = (near + far) / (near - far), b = 2 * near * far / (near - far);
    Matrix m{};
    for (std::size_t k = 0; k < 3; ++k) {
        m[4 * k + 0] = scale / aspect * right[k];
        m[4 * k + 1] = scale * up[k];
        m[4 * k + 2] = a * back[k];
        m[4 * k + 3] = -back[k];
    }
    m[12] = -scale / aspect * dot(right, eye);
    m[13] = -scale * dot(up, eye);
    m[14] = -a * dot(back, eye) + b;
    m[15] = dot(back, eye);
    return m;
}

std::array<float, 2> projected(const Matrix& m, const Vec3& p) {
    const auto row = [&](std::size_t i) {
        return m[i] * p[0] + m[4 + i] * p[1] + m[8 + i] * p[2] + m[12 + i];
    };
    const float w = row(3);
    return {0.5F + 0.5F * row(0) / w, 0.5F - 0.5F * row(1) / w};
}

picture::Image drawn_bar(const BarMesh& mesh, const BarSize& size, const BarView& view, const BarSkin& skin,
                         int width_px, int height_px) {
    Canvas canvas{picture::Image(width_px, height_px, {}), {}};
    std::fill(canvas.image.rgba.begin(), canvas.image.rgba.end(), std::uint8_t{0});
    canvas.depth.assign(static_cast<std::size_t>(width_px) * static_cast<std::size_t>(height_px),
                        std::numeric_limits<float>::max());
    if (skin.face.width_px <= 0 || skin.face.height_px <= 0) return canvas.image;
    Lamp lamp{skin,
              {},
              static_cast<float>(size.width_mm),
              static_cast<float>(size.height_mm),
              static_cast<float>(size.thickness_mm),
              static_cast<float>(size.above_mm),
              eye_of(size, view),
              light_of(view)};
    for (std::size_t i = 0; i < 256; ++i) lamp.linear_of[i] = linear(static_cast<float>(i) / 255);
    const Matrix matrix =
        screen_from_bar(size, view, static_cast<float>(width_px) / static_cast<float>(height_px));
    std::vector<OnScreen> on_screen;
    for (const auto& corner : mesh.corners) {
        const auto at = projected(matrix, corner.position_mm);
        const Vec3 away = lamp.eye - corner.position_mm;
        on_screen.push_back({at[0] * static_cast<float>(width_px), at[1] * static_cast<float>(height_px),
                             dot(away, unit(lamp.eye))});
    }
    for (std::size_t i = 0; i + 2 < mesh.triangles.size(); i += 3) {
        std::array<OnScreen, 3> on{};
        std::array<const BarMesh::Corner*, 3> corners{};
        for (std::size_t k = 0; k < 3; ++k) {
            on[k] = on_screen[mesh.triangles[i + k]];
            corners[k] = &mesh.corners[mesh.triangles[i + k]];
        }
        fill_triangle(canvas, on, corners, lamp);
    }
    return canvas.image;
}

}  // namespace foreslice::studio
