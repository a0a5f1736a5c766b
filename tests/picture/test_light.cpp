#include <doctest/doctest.h>

#include <cmath>

#include "colour/colorimetry.h"
#include "foundation/worker_pool.h"
#include "picture/face.h"
#include "picture/light.h"

using namespace foreslice;

TEST_CASE("every code comes back from its own light") {
    for (int code = 0; code < 256; ++code)
        CHECK(picture::code_of(picture::linear_of(static_cast<std::uint8_t>(code))) == code);
}

TEST_CASE("the table rounds as the formula of IEC 61966-2-1 does") {
    int wrong = 0;
    for (int i = -100; i <= 200100; ++i) {
        const float linear = static_cast<float>(i) / 200000.0F;
        const double exact =
            255 * colour::encode_srgb(std::min(1.0, std::max(0.0, static_cast<double>(linear))));
        const int code = picture::code_of(linear);
        // Ties within single precision of a midpoint may go either way.
        if (std::abs(exact - code) > 0.5 + 1e-4) ++wrong;
    }
    CHECK(wrong == 0);
    CHECK(picture::code_of(-1) == 0);
    CHECK(picture::code_of(2) == 255);
    CHECK(picture::code_of(std::nanf("")) == 0);
}

TEST_CASE("half black and half white is 188 in linear light, not 128") {
    // IEC 61966-2-1: 255 * (1.055 * 0.5^(1/2.4) - 0.055) = 187.5 rounded: 188
    picture::Coverage coverage;
    coverage.width_px = 2;
    coverage.height_px = 1;
    coverage.portions = 2;
    coverage.share = {128, 127, 127, 128};
    std::vector<colour::PortionColour> colours(2);
    colours[1].linear = {1, 1, 1};
    colours[1].srgb = {255, 255, 255};
    WorkerPool pool(1);
    const auto image = picture::painted(coverage, colours, pool);
    for (std::size_t at : {0U, 4U})
        for (std::size_t c = 0; c < 3; ++c) {
            CHECK(image.rgba[at + c] >= 187);
            CHECK(image.rgba[at + c] <= 188);
        }
    CHECK(picture::code_of(0.5F) == 188);
}

TEST_CASE("a checker of black and white halves to 188") {
    picture::Image checker(6, 5, {});
    for (std::size_t i = 0; i < 30; ++i)
        if ((i % 6 + i / 6) % 2 == 0)
            for (std::size_t c = 0; c < 3; ++c) checker.rgba[4 * i + c] = 255;
    const auto half = picture::halved(checker);
    REQUIRE(half.width_px == 3);
    REQUIRE(half.height_px == 2);
    for (std::size_t i = 0; i < 6; ++i) {
        CHECK(half.rgba[4 * i] == 188);
        CHECK(half.rgba[4 * i + 3] == 255);
    }
}
