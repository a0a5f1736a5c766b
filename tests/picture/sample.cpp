#include "picture/sample.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <optional>

#include "colour/colorimetry.h"
#include "foundation/random.h"
#include "foundation/worker_pool.h"
#include "picture/light.h"

namespace foreslice::testing {

Vec2 random_point(std::uint64_t number, double width, double height) {
    return {width * (0.5 + 0.5 * seeded_uniform(1, number)),
            height * (0.5 + 0.5 * seeded_uniform(2, number))};
}

design::Design sample_design() {
    design::Design design;
    design.name = "Sample";
    design.mould = {60, 50, 200, 40};
    design.portions = {{"ink", "night ink", 40, {{"activated-charcoal", 4}}, {"titanium-dioxide", 0}},
                       {"white", "salt white", 50, {}, {"titanium-dioxide", 8}},
                       {"amber", "lamp amber", 10, {{"iron-oxide-yellow", 5}}, {"titanium-dioxide", 0}}};
    design.pours = {{"ink", {}, design::PourManner::laid, 0.8},
                    {"white", {}, design::PourManner::laid, 1.2},
                    {"amber", {}, design::PourManner::laid, 0.8},
                    {"white", {}, design::PourManner::laid, 0.8}};
    design.strokes = {design::Stroke{}};
    std::get<design::Passes>(design.strokes[0].path).count = 3;
    design.seed = 5;
    return design;
}

std::shared_ptr<const colour::ColourantLibrary> library() {
    static const auto loaded = std::make_shared<const colour::ColourantLibrary>(
        colour::ColourantLibrary::load(FORESLICE_SOURCE "/palettes/colourants.json"));
    return loaded;
}

picture::FaceMaker& shared_maker() {
    static WorkerPool pool(2);
    static picture::FaceMaker maker(pool, library());
    return maker;
}

namespace {

std::optional<colour::Lab> block_lab(const picture::Image& image, int x0, int y0, int size) {
    colour::LinearSrgb sum;
    for (int y = y0; y < y0 + size; ++y)
        for (int x = x0; x < x0 + size; ++x) {
            const auto* p =
                &image.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                                 static_cast<std::size_t>(x))];
            if (p[3] != 255) return {};
            sum.r += colour::decode_srgb(p[0] / 255.0);
            sum.g += colour::decode_srgb(p[1] / 255.0);
            sum.b += colour::decode_srgb(p[2] / 255.0);
        }
    const double n = size * size;
    return colour::lab_of(colour::xyz_of(colour::LinearSrgb{sum.r / n, sum.g / n, sum.b / n}),
                          colour::white_of(colour::Illuminant::d65));
}

}  // namespace

double mean_difference(const picture::Image& a, const picture::Image& b, int size, double* worst) {
    REQUIRE(a.width_px == b.width_px);
    REQUIRE(a.height_px == b.height_px);
    double sum = 0, most = 0;
    int blocks = 0;
    for (int y = 0; y + size <= a.height_px; y += size)
        for (int x = 0; x + size <= a.width_px; x += size) {
            const auto left = block_lab(a, x, y, size), right = block_lab(b, x, y, size);
            if (!left || !right) continue;
            const double difference = colour::ciede2000(*left, *right);
            sum += difference;
            most = std::max(most, difference);
            ++blocks;
        }
    REQUIRE(blocks > 0);
    if (worst) *worst = most;
    return sum / blocks;
}

picture::Image cropped(const picture::Image& image, int x, int y, int width, int height) {
    picture::Image out(width, height, {});
    for (int row = 0; row < height; ++row) {
        const auto from = 4 * (static_cast<std::size_t>(y + row) * static_cast<std::size_t>(image.width_px) +
                               static_cast<std::size_t>(x));
        std::copy_n(image.rgba.begin() + static_cast<std::ptrdiff_t>(from), 4 * width,
                    out.rgba.begin() + static_cast<std::ptrdiff_t>(row) * 4 * width);
    }
    return out;
}

}  // namespace foreslice::testing
