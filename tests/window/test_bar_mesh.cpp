#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <utility>

#include "picture/top_view.h"
#include "studio/session/bar_mesh.h"
#include "studio/session/top_colours.h"

using namespace foreslice;
using namespace foreslice::studio;
using doctest::Approx;

namespace {

double volume_mm3(const BarMesh& mesh) {
    double six = 0;  // the divergence theorem: a sixth of the sum of all corner determinants
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3) {
        const auto& a = mesh.corners[mesh.triangles[i]].position_mm;
        const auto& b = mesh.corners[mesh.triangles[i + 1]].position_mm;
        const auto& c = mesh.corners[mesh.triangles[i + 2]].position_mm;
        six += static_cast<double>(a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) +
                                   a[2] * (b[0] * c[1] - b[1] * c[0]));
    }
    return six / 6;
}

// A box with all edges rounded: core, six slabs, twelve quarter cylinders, eight eighths of a ball.
double volume_of_rounded_box(double a, double b, double c, double r) {
    const double x = a - 2 * r, y = b - 2 * r, z = c - 2 * r, pi = std::acos(-1.0);
    return x * y * z + 2 * r * (x * y + y * z + z * x) + pi * r * r * (x + y + z) + 4 * pi / 3 * r * r * r;
}

BarSkin plain_skin(double glitter = 0) {
    return {picture::Image(65, 80, {200, 60, 60}), {}, glitter};
}

}  // namespace

TEST_CASE("the bar's mesh is a box with round edges, closed and facing outwards") {
    const BarSize size{65, 80, 25, 2.5};
    const BarMesh mesh = bar_mesh(size);
    CHECK(volume_mm3(mesh) == Approx(volume_of_rounded_box(65, 80, 25, 2.5)).epsilon(0.002));
    for (const auto& corner : mesh.corners) {
        const auto& n = corner.normal;
        CHECK(n[0] * n[0] + n[1] * n[1] + n[2] * n[2] == Approx(1.0F).epsilon(1e-4));
        CHECK(std::abs(corner.position_mm[0]) <= 32.501F);
        CHECK(std::abs(corner.position_mm[2]) <= 12.501F);
    }
    const BarMesh raised = bar_mesh(size, [](double, double) { return 3.0; });
    CHECK(volume_mm3(raised) - volume_mm3(mesh) == Approx(3 * 65 * 25).epsilon(0.08));
}

TEST_CASE("the eye sees the bar in the middle, its front face towards it") {
    const BarSize size{};
    BarView view;
    view.yaw_deg = view.pitch_deg = 0;
    const Matrix matrix = screen_from_bar(size, view, 1);
    const auto middle = projected(matrix, {0, 0, 0});
    CHECK(middle[0] == Approx(0.5F));
    CHECK(middle[1] == Approx(0.5F));
    CHECK(projected(matrix, {30, 0, 0})[0] > 0.5F);
    CHECK(projected(matrix, {0, 30, 0})[1] < 0.5F);  // rows go down
    const auto near = projected(matrix, {30, 0, 12}), far = projected(matrix, {30, 0, -12});
    CHECK(near[0] > far[0]);
}

TEST_CASE("the drawing on the processor shows the bar whole and lit, and nothing round it") {
    const BarSize size{};
    const BarView view;
    const auto image = drawn_bar(bar_mesh(size), size, view, plain_skin(), 160, 160);
    const auto alpha = [&](int x, int y) {
        return image.rgba[4 * static_cast<std::size_t>(y * 160 + x) + 3];
    };
    CHECK(alpha(80, 80) == 255);
    for (int i = 0; i < 160; ++i) {
        CHECK(alpha(i, 0) == 0);
        CHECK(alpha(i, 159) == 0);
        CHECK(alpha(0, i) == 0);
        CHECK(alpha(159, i) == 0);
    }
    // Red soap stays red under the light.
    const auto* pixel = &image.rgba[4 * (80 * 160 + 80)];
    CHECK(pixel[0] > 150);
    CHECK(pixel[0] > 2 * pixel[1]);
    CHECK(drawn_bar(bar_mesh(size), size, view, plain_skin(), 160, 160).rgba == image.rgba);
    BarView turned = view;
    turned.yaw_deg += 40;
    CHECK(drawn_bar(bar_mesh(size), size, turned, plain_skin(), 160, 160).rgba != image.rgba);
    CHECK(drawn_bar(bar_mesh(size), size, view, plain_skin(3), 160, 160).rgba !=
          image.rgba);  // glitter on top
}

TEST_CASE("a worked top shows its own picture, and the sides go on showing the face") {
    const BarSize size{};
    const BarMesh mesh = bar_mesh(size, [](double, double) { return 2.0; });
    BarSkin skin = plain_skin();
    skin.above = picture::Image(65, 25, {40, 60, 200});
    for (std::size_t x = 0; x < 65; ++x)  // green at the cut
        for (const std::size_t channel : {0U, 1U, 2U})
            skin.above.rgba[4 * x + channel] = channel == 1 ? 220 : 20;
    BarView view;
    view.yaw_deg = 0;
    view.pitch_deg = 60;
    const auto image = drawn_bar(mesh, size, view, skin, 320, 320);
    const Matrix matrix = screen_from_bar(size, view, 1);
    const auto strongest = [&](const Vec3& point_mm) {
        const auto at = projected(matrix, point_mm);
        const auto row = static_cast<std::size_t>(at[1] * 320),
                   column = static_cast<std::size_t>(at[0] * 320);
        const auto* p = &image.rgba[4 * (row * 320 + column)];
        return std::max_element(p, p + 3) - p;
    };
    CHECK(strongest({0, 42, -5}) == 2);
    CHECK(strongest({0, 42, 12.1F}) == 1);
    CHECK(strongest({0, 0, 12.5F}) == 0);
}

TEST_CASE("the colours of a top: what lies at each place, seeds over it, the cut at the upper edge") {
    picture::Face face;
    face.colours.resize(2);
    face.colours[0].linear = colour::decoded({250, 240, 230});
    face.colours[1].linear = colour::decoded({20, 40, 160});
    face.bits = {{0.0, 0.0, 0.0}};
    auto top = std::make_shared<picture::TopView>();
    top->columns = 41;
    top->rows = 11;
    top->column_mm = 0.5;
    top->row_mm = 1;
    top->height_mm.assign(41 * 11, 30);
    top->material.assign(41 * 11, 0);
    for (std::size_t at = 0; at < 41 * 5; ++at) top->material[at] = 1;
    picture::TopSeed seed;
    seed.x_mm = 10;
    seed.depth_mm = 8;
    seed.length_mm = seed.width_mm = 2;
    top->seeds.push_back(seed);
    face.top = top;
    const auto image = top_colours(face);
    const double px_per_mm = image.width_px / 20.0;
    CHECK(image.height_px == std::lround(10 * px_per_mm));
    const auto red_at = [&](double x_mm, double depth_mm) {
        const auto row = static_cast<std::size_t>(depth_mm * px_per_mm);
        return image.rgba[4 * (row * static_cast<std::size_t>(image.width_px) +
                               static_cast<std::size_t>(x_mm * px_per_mm))];
    };
    CHECK(red_at(5, 0.2) == 20);
    CHECK(red_at(5, 8) == 250);
    CHECK(red_at(10, 8) == 0);
    CHECK(red_at(10, 6.5) == 250);
    CHECK(red_at(12, 8) == 250);
}
