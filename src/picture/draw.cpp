#include "picture/draw.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "foundation/random.h"
#include "picture/light.h"

namespace foreslice::picture {
namespace {

// A value in [-0.5, 0.5) that looks random but depends on the place only.
double dither(int x, int y) {
    return 0.5 * seeded_uniform(0x5eed, static_cast<std::uint64_t>(y) * 65536U + static_cast<unsigned>(x));
}

std::uint8_t* pixel(Image& image, int x, int y) {
    if (x < 0 || y < 0 || x >= image.width_px || y >= image.height_px) return nullptr;
    return &image.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                            static_cast<std::size_t>(x))];
}

// Straight alpha, light mixed linearly.
void over(std::uint8_t* below, const std::array<float, 3>& light, double opacity) {
    if (opacity <= 0) return;
    const double under = below[3] / 255.0 * (1 - opacity);
    const double alpha = opacity + under;
    for (std::size_t c = 0; c < 3; ++c) {
        const double mixed =
            (opacity * static_cast<double>(light[c]) + under * static_cast<double>(linear_of(below[c]))) /
            alpha;
        below[c] = code_of(static_cast<float>(mixed));
    }
    below[3] = static_cast<std::uint8_t>(std::lround(255 * std::min(1.0, alpha)));
}

struct Span {
    int from, to;
};

Span span(double start, double length, int limit) {
    return {std::max(0, static_cast<int>(std::floor(start))),
            std::min(limit, static_cast<int>(std::ceil(start + length)))};
}

double overlap(int cell, double start, double length) {
    return std::max(0.0, std::min(cell + 1.0, start + length) - std::max<double>(cell, start));
}

double blurred_step(double distance, double sigma) {
    return 0.5 * (1 + std::erf(distance / (sigma * std::sqrt(2.0))));
}

}  // namespace

colour::LinearSrgb ink_of(unsigned rgb) {
    return colour::decoded({static_cast<std::uint8_t>(rgb >> 16U), static_cast<std::uint8_t>(rgb >> 8U),
                            static_cast<std::uint8_t>(rgb)});
}

void blend(Image& image, int x, int y, const colour::LinearSrgb& ink, double opacity) {
    if (std::uint8_t* below = pixel(image, x, y))
        over(below, {static_cast<float>(ink.r), static_cast<float>(ink.g), static_cast<float>(ink.b)},
             opacity);
}

void fill(Image& image, const Rect& rect, const colour::LinearSrgb& ink, double opacity) {
    const Span rows = span(rect.y, rect.height, image.height_px);
    const Span columns = span(rect.x, rect.width, image.width_px);
    for (int y = rows.from; y < rows.to; ++y)
        for (int x = columns.from; x < columns.to; ++x)
            blend(image, x, y, ink,
                  opacity * overlap(x, rect.x, rect.width) * overlap(y, rect.y, rect.height));
}

void fill_rounded(Image& image, const Rect& rect, double radius, const colour::LinearSrgb& ink,
                  double opacity) {
    const Span rows = span(rect.y, rect.height, image.height_px);
    const Span columns = span(rect.x, rect.width, image.width_px);
    const double half_width = rect.width / 2, half_height = rect.height / 2;
    for (int y = rows.from; y < rows.to; ++y)
        for (int x = columns.from; x < columns.to; ++x) {
            const double dx = std::abs(x + 0.5 - rect.x - half_width) - (half_width - radius);
            const double dy = std::abs(y + 0.5 - rect.y - half_height) - (half_height - radius);
            const double outside =
                std::hypot(std::max(dx, 0.0), std::max(dy, 0.0)) + std::min(std::max(dx, dy), 0.0) - radius;
            blend(image, x, y, ink, opacity * std::clamp(0.5 - outside, 0.0, 1.0));
        }
}

void shadow(Image& image, const Rect& rect, double sigma_px, double opacity) {
    const double reach = 3.5 * sigma_px;
    const Span rows = span(rect.y - reach, rect.height + 2 * reach, image.height_px);
    const Span columns = span(rect.x - reach, rect.width + 2 * reach, image.width_px);
    for (int y = rows.from; y < rows.to; ++y) {
        const double row =
            blurred_step(y + 0.5 - rect.y, sigma_px) - blurred_step(y + 0.5 - rect.y - rect.height, sigma_px);
        for (int x = columns.from; x < columns.to; ++x) {
            const double column = blurred_step(x + 0.5 - rect.x, sigma_px) -
                                  blurred_step(x + 0.5 - rect.x - rect.width, sigma_px);
            const double strength = opacity * row * column;
            if (strength < 0.001) continue;
            blend(image, x, y, {}, std::clamp(strength + dither(x, y) / 128, 0.0, 1.0));
        }
    }
}

void fill_passage(Image& image, const Rect& rect, const colour::LinearSrgb& top,
                  const colour::LinearSrgb& bottom) {
    const Span rows = span(rect.y, rect.height, image.height_px);
    const Span columns = span(rect.x, rect.width, image.width_px);
    const auto code = [](double from, double to, double t, double noise) {
        const double exact = 255 * colour::encode_srgb(from + t * (to - from)) + noise;
        return static_cast<std::uint8_t>(std::clamp(std::lround(exact), 0L, 255L));
    };
    for (int y = rows.from; y < rows.to; ++y) {
        const double t = std::clamp((y + 0.5 - rect.y) / rect.height, 0.0, 1.0);
        for (int x = columns.from; x < columns.to; ++x) {
            std::uint8_t* below = pixel(image, x, y);
            const double noise = dither(x, y);
            below[0] = code(top.r, bottom.r, t, noise);
            below[1] = code(top.g, bottom.g, t, noise);
            below[2] = code(top.b, bottom.b, t, noise);
            below[3] = 255;
        }
    }
}

void place(Image& onto, const Image& what, int x, int y) {
    for (int row = 0; row < what.height_px; ++row)
        for (int column = 0; column < what.width_px; ++column) {
            std::uint8_t* below = pixel(onto, x + column, y + row);
            if (!below) continue;
            const std::uint8_t* from =
                &what.rgba[4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(what.width_px) +
                                static_cast<std::size_t>(column))];
            if (from[3] == 255)
                std::copy(from, from + 4, below);
            else
                over(below, {linear_of(from[0]), linear_of(from[1]), linear_of(from[2])}, from[3] / 255.0);
        }
}

}  // namespace foreslice::picture
