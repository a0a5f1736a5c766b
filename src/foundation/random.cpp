#include "foundation/random.h"

#include <cmath>

namespace foreslice {
namespace {

constexpr int reach = 3;  // lattice cells on each side that still contribute (exp(-9/0.72) < 1e-5)
constexpr double window_width = 0.6;

double window(double distance) {
    return std::exp(-distance * distance / (2 * window_width * window_width));
}

// sqrt(variance) of a sum of +-uniform values (variance 1/3) under the window, for unit output variance:
// sum over the lattice of window^2 is close to sqrt(pi) * window_width.
const double normal_1d = 1.0 / std::sqrt(std::sqrt(3.14159265358979323846) * window_width / 3.0);

}  // namespace

std::uint64_t mixed_bits(std::uint64_t counter) {
    std::uint64_t z = counter + 0x9e3779b97f4a7c15ULL;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31);
}

double seeded_uniform(std::uint64_t seed, std::uint64_t index) {
    const std::uint64_t bits = mixed_bits(mixed_bits(seed) ^ (index * 0xd1342543de82ef95ULL));
    return static_cast<double>(bits >> 11) * 0x1.0p-52 - 1.0;
}

double smooth_field(std::uint64_t seed, double x, double correlation_length) {
    const double u = x / correlation_length;
    const double cell = std::floor(u);
    double sum = 0;
    for (int k = -reach; k <= reach + 1; ++k) {
        const double node = cell + k;
        sum += window(u - node) *
               seeded_uniform(seed, static_cast<std::uint64_t>(static_cast<std::int64_t>(node)));
    }
    return sum * normal_1d;
}

double smooth_field(std::uint64_t seed, double x, double y, double x_length, double y_length) {
    const double v = y / y_length;
    const double cell = std::floor(v);
    double sum = 0;
    for (int k = -reach; k <= reach + 1; ++k) {
        const double node = cell + k;
        const auto row = static_cast<std::uint64_t>(static_cast<std::int64_t>(node));
        sum += window(v - node) * smooth_field(mixed_bits(seed ^ (row * 0x9e3779b97f4a7c15ULL)), x, x_length);
    }
    return sum * normal_1d / std::sqrt(3.0);
}

}  // namespace foreslice
