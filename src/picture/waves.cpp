#include "picture/waves.h"

#include <algorithm>

#include "foundation/random.h"

namespace foreslice::picture {
namespace {

constexpr double wave_length_across_mm = 25;
constexpr double wave_length_along_mm = 60;

}  // namespace

std::vector<double> wave_mm(const design::Design& design, std::size_t pour, std::size_t columns,
                            double z_mm) {
    const std::uint64_t seed = mixed_bits(mixed_bits(design.seed) + pour);
    const double step_mm = 1 / (static_cast<double>(columns - 1) / design.mould.width_mm);
    std::vector<double> height_mm(columns);
    for (std::size_t column = 0; column < columns; ++column)
        height_mm[column] =
            design.pours[pour].unevenness_mm * smooth_field(seed, static_cast<double>(column) * step_mm, z_mm,
                                                            wave_length_across_mm, wave_length_along_mm);
    return height_mm;
}

}  // namespace foreslice::picture
