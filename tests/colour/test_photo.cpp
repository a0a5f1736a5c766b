// Photographs: upright, in sRGB, patches and white balance, and what cannot be read.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <string>

#include "colour/photo.h"
#include "colour/swatch_fit.h"
#include "foundation/error.h"
#include "foundation/text_file.h"

using namespace foreslice;
using namespace foreslice::colour;

namespace {

const std::filesystem::path photos = std::filesystem::path(FORESLICE_TEST_DATA) / "colour/photos";

}  // namespace

TEST_CASE("photo: all eight orientations of a camera come out upright, from JPEG") {
    // Made with ImageMagick: 24 x 16 px, red left upper quarter, green right upper, blue left lower, white
    // right lower, stored turned as the orientation says.
    for (int orientation = 1; orientation <= 8; ++orientation) {
        CAPTURE(orientation);
        const Photo photo = load_photo(photos / ("orientation-" + std::to_string(orientation) + ".jpg"));
        CHECK(photo.width_px == 24);
        CHECK(photo.height_px == 16);
        const EncodedSrgb red = photo.at(5, 3), green = photo.at(18, 3), blue = photo.at(5, 12),
                          white = photo.at(18, 12);
        CHECK((red.r > 200 && red.g < 60 && red.b < 60));
        CHECK((green.g > 200 && green.r < 60 && green.b < 60));
        CHECK((blue.b > 200 && blue.r < 60 && blue.g < 60));
        CHECK((white.r > 200 && white.g > 200 && white.b > 200));
    }
}

TEST_CASE("photo: an embedded profile is honoured") {
    // The same code values, once plain and once under a profile whose primaries are wider than sRGB's.
    const EncodedSrgb plain = load_photo(photos / "plain.png").at(4, 4);
    const EncodedSrgb wide = load_photo(photos / "wide-gamut.png").at(4, 4);
    CHECK(plain == EncodedSrgb{200, 120, 60});
    CHECK(wide.r > plain.r + 5);
    CHECK(wide.g < plain.g + 2);
}

TEST_CASE("photo: what is no picture is refused in one sentence") {
    for (const std::string& bytes :
         {std::string(), std::string("GIF89a"), std::string("\xff\xd8\xff", 3),
          std::string("\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16), std::string(2000, 'x')})
        CHECK_THROWS_AS(photo_from(bytes, "thing.jpg"), InputError);
    const std::string good = read_file(photos / "orientation-6.jpg");
    for (std::size_t length = 0; length < good.size();
         length += 7) {  // cut anywhere: a sentence or a picture
        try {
            photo_from(std::string_view(good).substr(0, length), "cut.jpg");
        } catch (const InputError& error) {
            CHECK(std::string(error.what()).find("cut.jpg") != std::string::npos);
        }
    }
}

TEST_CASE("photo: a JPEG that claims more Huffman codes than there are is refused before it is decoded") {
    std::string bytes = read_file(photos / "orientation-1.jpg");
    const std::size_t table = bytes.find("\xff\xc4");
    REQUIRE(table != std::string::npos);
    bytes[table + 5] = '\xff';  // the counts of codes of one and of two bits
    bytes[table + 6] = '\xff';
    CHECK_THROWS_AS(photo_from(bytes, "odd.jpg"), InputError);
}

TEST_CASE("patches: mean of light, spread, clipping; outside the photo is refused") {
    Photo photo;
    photo.width_px = photo.height_px = 20;
    photo.rgb.assign(3 * 400, 100);
    CHECK(read_patch(photo, {10, 10, 5}).light.g == doctest::Approx(decode_srgb(100 / 255.0)));
    CHECK(read_patch(photo, {10, 10, 5}).spread < 1e-6);
    for (std::size_t i = 0; i < photo.rgb.size(); i += 6) photo.rgb[i + 1] = 255;
    CHECK(read_patch(photo, {10, 10, 5}).clipped == doctest::Approx(0.5).epsilon(0.1));
    CHECK(read_patch(photo, {10, 10, 5}).spread > 0.3);
    CHECK_THROWS_AS(read_patch(photo, {2, 10, 5}), InputError);
    CHECK_THROWS_AS(read_patch(photo, {10, 10, 0}), InputError);
}

TEST_CASE("white balance: a lamp's tint and exposure drop out") {
    const LinearSrgb soap{0.4, 0.3, 0.2};
    for (const LinearSrgb& lamp :
         {LinearSrgb{1, 1, 1}, LinearSrgb{0.9, 0.7, 0.4}, LinearSrgb{0.3, 0.32, 0.35}}) {
        const LinearSrgb card{0.9 * lamp.r, 0.9 * lamp.g, 0.9 * lamp.b};
        const LinearSrgb seen =
            white_balanced({soap.r * lamp.r, soap.g * lamp.g, soap.b * lamp.b}, card, 0.9);
        CHECK(seen.r == doctest::Approx(soap.r));
        CHECK(seen.g == doctest::Approx(soap.g));
        CHECK(seen.b == doctest::Approx(soap.b));
    }
}

TEST_CASE("the plain bar: its K makes it look like the photo") {
    const ColourantLibrary library =
        ColourantLibrary::load(std::filesystem::path(FORESLICE_SOURCE) / "palettes/colourants.json");
    for (const char* hex : {"#dfd9ae", "#e9dec0", "#efe3c8"}) {
        const LinearSrgb seen = decoded(encoded_from_hex(hex).value());
        const PortionColour made = colour_of(fit_base(library.base(), seen));
        CHECK(ciede2000(made.lab, lab_of(xyz_of(seen), white_of(Illuminant::d65))) < 0.5);
    }
}

TEST_CASE("fits refuse bars that make no sense") {
    CHECK_THROWS_AS(fit_colourant({}, nullptr, {}), InputError);
    CHECK_THROWS_AS(fit_colourant({}, nullptr, {{0, 0, {0.2, 0.2, 0.2}}}), InputError);
    CHECK_THROWS_AS(fit_colourant({}, nullptr, {{1, 5, {0.2, 0.2, 0.2}}}), InputError);
    CHECK_THROWS_AS(fit_colourant({}, nullptr, {{1, 0, {NAN, 0.2, 0.2}}}), InputError);
}
