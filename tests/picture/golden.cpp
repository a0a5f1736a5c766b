#include "picture/golden.h"

#include <doctest/doctest.h>
#include <stb_image.h>

#include <algorithm>
#include <filesystem>
#include <memory>

#include "picture/sample.h"

namespace foreslice::testing {
namespace {

struct Freed {
    void operator()(unsigned char* p) const { stbi_image_free(p); }
};

picture::Image read_png(const std::filesystem::path& file) {
    int w = 0, h = 0, n = 0;
    const std::unique_ptr<unsigned char, Freed> pixels(stbi_load(file.string().c_str(), &w, &h, &n, 4));
    if (!pixels) return {};
    picture::Image image(w, h, {});
    std::copy_n(pixels.get(), image.rgba.size(), image.rgba.begin());
    return image;
}

}  // namespace

void check_golden(const picture::Image& image, const std::string& name, double mean_limit,
                  double worst_limit) {
    const auto kept = read_png(std::filesystem::path(FORESLICE_TEST_DATA) / "golden" / (name + ".png"));
    double mean = 1e9, worst = 1e9;
    if (kept.width_px == image.width_px && kept.height_px == image.height_px)
        mean = mean_difference(image, kept, 4, &worst);
    if (mean <= mean_limit && worst <= worst_limit) {
        CHECK(mean <= mean_limit);
        return;
    }
    const auto left = std::filesystem::temp_directory_path() / ("golden-" + name + ".png");
    picture::write_png(image, left);
    FAIL_CHECK(name << ": mean dE00 " << mean << ", worst block " << worst << "; the new picture is "
                    << left.string());
}

}  // namespace foreslice::testing
