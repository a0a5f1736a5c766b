#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "foundation/random.h"
#include "picture/layers.h"
#include "picture/sample.h"

using namespace foreslice;
using foreslice::testing::sample_design;
using picture::LayerStack;

namespace {

// The area between two edges as any reader of top_edge_mm() would measure it: trapezia, fine enough to meet
// every kink on the stack's own half-millimetre grid.
double measured_area(const LayerStack& stack, int layer) {
    const int steps = 1200;
    double sum = 0;
    for (int i = 0; i <= steps; ++i) {
        const double x = stack.width_mm() * i / steps;
        const double below = layer == 0 ? 0 : stack.top_edge_mm(layer - 1, x);
        sum += (i == 0 || i == steps ? 0.5 : 1) * (stack.top_edge_mm(layer, x) - below);
    }
    return sum * stack.width_mm() / steps;
}

// Designs with seeded shares and unevenness, from flat to wild.
design::Design random_design(std::uint64_t seed) {
    design::Design design = sample_design();
    design.seed = seed;
    design.portions.clear();
    design.pours.clear();
    const int layers = 1 + static_cast<int>(4 * (1 + seeded_uniform(seed, 0)));
    double total = 0;
    for (int i = 0; i < layers; ++i) {
        const auto at = static_cast<std::uint64_t>(i);
        const double share = 0.02 + 1 + seeded_uniform(seed, 100 + at);
        std::string id("p");
        id += std::to_string(i);
        design.portions.push_back({id, "p", share, {}, {"titanium-dioxide", 0}});
        design.pours.push_back({design.portions.back().id,
                                {},
                                design::PourManner::laid,
                                10 * (1 + seeded_uniform(seed, 200 + at))});
        total += share;
    }
    for (auto& portion : design.portions) portion.share_percent *= 100 / total;
    return design;
}

}  // namespace

TEST_CASE("every layer keeps the area it was poured with, however uneven") {
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const auto design = random_design(seed);
        const auto areas = design::pour_areas_mm2(design);
        const LayerStack stack(design, 17.0 * static_cast<double>(seed));
        for (int layer = 0; layer < stack.layer_count(); ++layer) {
            const auto want = areas[static_cast<std::size_t>(layer)];
            CHECK(std::abs(stack.area_mm2(layer) - want) < 1e-9);
            CHECK(std::abs(measured_area(stack, layer) - want) < 1e-6);
        }
    }
}

TEST_CASE("layers never cross and the last one is level at the fill height") {
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const auto design = random_design(seed);
        const LayerStack stack(design, 40);
        for (double x = 0; x <= 60; x += 0.37) {
            double below = 0;
            for (int layer = 0; layer < stack.layer_count(); ++layer) {
                const double edge = stack.top_edge_mm(layer, x);
                CHECK(edge >= below - 1e-12);
                CHECK(edge <= design.mould.fill_mm + 1e-12);
                below = edge;
            }
            CHECK(below == doctest::Approx(design.mould.fill_mm).epsilon(1e-12));
        }
    }
}

TEST_CASE("a point lies in the layer between the edges round it") {
    const LayerStack stack(sample_design(), 60);
    int wrong = 0;
    for (double x = -2; x <= 62; x += 0.61)
        for (double y = -1; y <= 42; y += 0.23) {
            const int layer = stack.layer_at({x, y});
            const bool topmost = layer + 1 == stack.layer_count();
            if (!topmost && y >= stack.top_edge_mm(layer, x)) ++wrong;
            if (layer > 0 && y < stack.top_edge_mm(layer - 1, x)) ++wrong;
        }
    CHECK(wrong == 0);
    CHECK(stack.layer_at({10, -5}) == 0);
    CHECK(stack.layer_at({10, 500}) == stack.layer_count() - 1);
}

TEST_CASE("layers know their pour and portion") {
    const LayerStack stack(sample_design(), 0);
    REQUIRE(stack.layer_count() == 4);
    CHECK(stack.portion_of_layer(0) == 0);
    CHECK(stack.portion_of_layer(1) == 1);
    CHECK(stack.portion_of_layer(2) == 2);
    CHECK(stack.portion_of_layer(3) == 1);
    CHECK(stack.pour_of_layer(3) == 3);
}

TEST_CASE("the same seed gives the same loaf, another seed another") {
    auto design = sample_design();
    const LayerStack a(design, 55), b(design, 55);
    design.seed += 1;
    const LayerStack c(design, 55);
    double apart = 0;
    for (double x = 0; x <= 60; x += 1) {
        CHECK(a.top_edge_mm(0, x) == b.top_edge_mm(0, x));
        apart = std::max(apart, std::abs(a.top_edge_mm(0, x) - c.top_edge_mm(0, x)));
    }
    CHECK(apart > 0.1);
}

TEST_CASE("flat pours lie flat at the height of their volume") {
    auto design = sample_design();
    for (auto& pour : design.pours) pour.unevenness_mm = 0;
    const LayerStack stack(design, 12);
    for (double x : {0.0, 13.3, 60.0}) {
        CHECK(stack.top_edge_mm(0, x) == doctest::Approx(16).epsilon(1e-12));  // 40 % of 40 mm
        CHECK(stack.top_edge_mm(1, x) == doctest::Approx(26).epsilon(1e-12));  // half of the white, 25 %
        CHECK(stack.top_edge_mm(2, x) == doctest::Approx(30).epsilon(1e-12));
    }
}

namespace {

// Correlation of the first edge's departure from its mean level between two places along the loaf, over many
// seeds.
double correlation_along(double apart_mm) {
    double ab = 0, aa = 0, bb = 0;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        auto design = sample_design();
        design.seed = seed;
        const LayerStack one(design, 30), other(design, 30 + apart_mm);
        for (double x : {5.0, 20.0, 35.0, 50.0}) {
            const double a = one.top_edge_mm(0, x) - 16, b = other.top_edge_mm(0, x) - 16;
            ab += a * b;
            aa += a * a;
            bb += b * b;
        }
    }
    return ab / std::sqrt(aa * bb);
}

}  // namespace

TEST_CASE("neighbouring bars are sisters, not twins; distant ones are strangers") {
    CHECK(correlation_along(25) > 0.6);
    CHECK(correlation_along(25) < 0.98);
    CHECK(std::abs(correlation_along(600)) < 0.15);
}

TEST_CASE("unevenness has about the size asked for") {
    double sum = 0;
    int count = 0;
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        auto design = sample_design();
        design.seed = seed;
        const LayerStack stack(design, 30);
        for (double x : {3.0, 30.0, 57.0}) {
            sum += std::pow(stack.top_edge_mm(0, x) - 16, 2);
            ++count;
        }
    }
    // The mean level of a face is fixed by the volume, which takes away part of the field's variance.
    const double deviation = std::sqrt(sum / count);
    CHECK(deviation > 0.5 * 0.8);
    CHECK(deviation < 1.15 * 0.8);
}
