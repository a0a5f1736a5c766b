// draws a dose ladder of every colourant: draw_colourant_ladder LIBRARY OUT.png
// One row a colourant, in the library's order (printed); three groups of five doses (1/16, 1/8, 1/4, 1/2 and
// all of the usual most) with 0, 3 and 10 g titanium dioxide per kg of oils; the plain base runs between the
// rows.
#include <array>
#include <cstdio>
#include <exception>
#include <vector>

#include "colour/pigment.h"

#define STB_IMAGE_WRITE_IMPLEMENTATION
#define STB_IMAGE_WRITE_STATIC
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#pragma GCC diagnostic ignored "-Wmissing-field-initializers"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wold-style-cast"
#endif
#include <stb/stb_image_write.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

using namespace foreslice::colour;

namespace {

constexpr int swatch = 56, gap = 8;
constexpr std::array doses{1.0 / 16, 1.0 / 8, 1.0 / 4, 1.0 / 2, 1.0};
constexpr std::array whites{0.0, 3.0, 10.0};

struct Canvas {
    int width, height;
    std::vector<unsigned char> rgb;

    void fill(int x0, int y0, int w, int h, EncodedSrgb colour) {
        for (int y = y0; y < y0 + h; ++y)
            for (int x = x0; x < x0 + w; ++x) {
                unsigned char* p = &rgb[3 * (static_cast<std::size_t>(y) * width + x)];
                p[0] = colour.r, p[1] = colour.g, p[2] = colour.b;
            }
    }
};

void draw_row(Canvas& canvas, int row, const ColourantLibrary& library, const Colourant& colourant) {
    const Colourant* white = library.find("titanium-dioxide");
    std::printf("%-22s", colourant.id.c_str());
    for (std::size_t w = 0; w < whites.size(); ++w)
        for (std::size_t d = 0; d < doses.size(); ++d) {
            const double dose = doses[d] * colourant.usual_most_g_per_kg_oils;
            const PortionColour c =
                colour_of(mixed(library.base(), {{&colourant, dose}, {white, whites[w]}}));
            const int column = static_cast<int>(w * (doses.size()) + d);
            canvas.fill(gap + column * swatch + static_cast<int>(w) * 3 * gap, gap + row * (swatch + gap),
                        swatch, swatch, c.srgb);
            std::printf(" %s", hex_of(c.srgb).c_str());
        }
    std::printf("\n");
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 3) return 2;
    try {
        const ColourantLibrary library = ColourantLibrary::load(argv[1]);
        const int rows = static_cast<int>(library.colourants().size());
        Canvas canvas{2 * gap + static_cast<int>(doses.size() * whites.size()) * swatch + 6 * gap,
                      gap + rows * (swatch + gap),
                      {}};
        canvas.rgb.resize(3 * static_cast<std::size_t>(canvas.width) * canvas.height);
        canvas.fill(0, 0, canvas.width, canvas.height, colour_of(library.base()).srgb);
        for (int row = 0; row < rows; ++row) draw_row(canvas, row, library, library.colourants()[row]);
        return stbi_write_png(argv[2], canvas.width, canvas.height, 3, canvas.rgb.data(), 0) != 0 ? 0 : 1;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
}
