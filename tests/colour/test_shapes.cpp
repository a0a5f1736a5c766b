#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "colour/pigment_shapes.h"
#include "colour/shape_data.h"

using namespace foreslice::colour;
using namespace foreslice::testing;

TEST_CASE("pigment shapes: the table is what the open data say, to its four digits") {
    const auto data = measured_shapes(FORESLICE_TEST_DATA);
    const auto table = pigment_shapes();
    REQUIRE(table.size() == data.size());
    CHECK(table.size() == 27);
    for (std::size_t n = 0; n < table.size(); ++n) {
        CAPTURE(data[n].name);
        CHECK(std::string(table[n].name) == data[n].name);
        for (std::size_t i = 0; i < band_count; ++i) {
            CHECK(std::abs(table[n].absorption[i] - data[n].absorption[i]) <= 6e-4 * data[n].absorption[i]);
            CHECK(std::abs(table[n].scattering[i] - data[n].scattering[i]) <= 6e-4 * data[n].scattering[i]);
            CHECK(table[n].absorption[i] > 0);
            CHECK(table[n].scattering[i] > 0);
        }
    }
}
