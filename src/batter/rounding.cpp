#include "batter/rounding.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numeric>

namespace foreslice::batter {

double Weighing::shown() const {
    // Through the decimal text: 14 steps of 0.1 are 1.4, not 1.4000000000000001.
    const double value = static_cast<double>(steps) * scale.step;
    const double unit = std::pow(10.0, decimals_of(scale.step));
    return std::round(value * unit) / unit;
}

std::string Weighing::text() const {
    std::array<char, 64> out{};
    const auto end = std::to_chars(out.data(), out.data() + out.size(), shown(), std::chars_format::fixed,
                                   decimals_of(scale.step));
    return std::string(out.data(), end.ptr);
}

Weighing weighed(double g, const Scale& scale) {
    return {g, static_cast<std::int64_t>(std::floor(g / scale.step_g() + 0.5)), scale};
}

Weighing weighed_down(double g, const Scale& scale) {
    return {g, static_cast<std::int64_t>(std::floor(g / scale.step_g() + 1e-9)), scale};
}

std::vector<Weighing> weighed_parts(const std::vector<double>& parts_g, const Weighing& total) {
    const double step_g = total.scale.step_g();
    std::vector<Weighing> out;
    std::vector<double> left;
    std::int64_t given = 0;
    for (const double part : parts_g) {
        const double steps = part / step_g;
        out.push_back({part, static_cast<std::int64_t>(std::floor(steps)), total.scale});
        left.push_back(steps - std::floor(steps));
        given += out.back().steps;
    }
    if (out.empty()) return out;
    std::vector<std::size_t> order(out.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return left[a] > left[b]; });
    const std::int64_t missing = total.steps - given;
    const auto count = static_cast<std::int64_t>(out.size());
    // Parts that add up to something else than the total share the difference evenly, the most due first.
    const std::int64_t each = missing >= 0 ? missing / count : -((-missing + count - 1) / count);
    for (Weighing& part : out) part.steps += each;
    for (std::int64_t i = 0; i < missing - each * count; ++i) ++out[order[static_cast<std::size_t>(i)]].steps;
    return out;
}

int decimals_of(double step) {
    for (int decimals = 0; decimals < 3; ++decimals) {
        const double scaled = step * std::pow(10.0, decimals);
        if (std::abs(scaled - std::round(scaled)) < 1e-9 * std::max(1.0, scaled)) return decimals;
    }
    return 3;
}

}  // namespace foreslice::batter
