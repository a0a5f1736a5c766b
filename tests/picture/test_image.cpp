#include <doctest/doctest.h>
#include <stb_image.h>

#include <filesystem>
#include <memory>

#include "foundation/error.h"
#include "foundation/random.h"
#include "picture/image.h"

using namespace foreslice;

namespace {

picture::Image noise(int width, int height, bool opaque) {
    picture::Image image(width, height, {1, 2, 3});
    for (std::size_t i = 0; i < image.rgba.size(); ++i)
        if (!opaque || i % 4 != 3) image.rgba[i] = static_cast<std::uint8_t>(mixed_bits(i));
    return image;
}

struct Freed {
    void operator()(unsigned char* p) const { stbi_image_free(p); }
};

void check_read_back(const picture::Image& image, int channels_in_file) {
    const auto file = std::filesystem::temp_directory_path() /
                      ("foreslice-image-" + std::to_string(image.width_px) + ".png");
    picture::write_png(image, file);
    int w = 0, h = 0, n = 0;
    const std::unique_ptr<unsigned char, Freed> read(stbi_load(file.string().c_str(), &w, &h, &n, 4));
    REQUIRE(read);
    CHECK(w == image.width_px);
    CHECK(h == image.height_px);
    CHECK(n == channels_in_file);
    CHECK(std::equal(image.rgba.begin(), image.rgba.end(), read.get()));
    std::filesystem::remove(file);
}

}  // namespace

TEST_CASE("a PNG read by another reader is the picture that was written") {
    check_read_back(noise(37, 23, true), 3);
    check_read_back(noise(41, 5, false), 4);
    check_read_back(picture::Image(1, 1, {200, 100, 50}), 3);
}

TEST_CASE("a picture that cannot be written says why and names the file") {
    try {
        picture::write_png(noise(4, 4, true), "/no-such-folder-here/x.png");
        FAIL("written into a folder that is not there");
    } catch (const InputError& error) {
        CHECK(std::string(error.what()).find("no-such-folder-here") != std::string::npos);
    }
}

TEST_CASE("halving: what is half clear counts half") {
    picture::Image image(2, 2, {255, 0, 0});
    image.rgba[4 * 1 + 0] = 0;
    image.rgba[4 * 1 + 1] = 255;
    image.rgba[4 * 1 + 3] = 0;  // clear green
    image.rgba[4 * 3 + 3] = 102;
    const picture::Image half = picture::halved(image);
    CHECK(half.rgba[0] == 255);
    CHECK(half.rgba[1] == 0);
    CHECK(half.rgba[3] == 153);  // (255 + 0 + 255 + 102) / 4
}
