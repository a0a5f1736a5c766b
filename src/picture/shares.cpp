#include "picture/shares.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace foreslice::picture {

void PixelShares::clear() {
    std::fill(weight_.begin(), weight_.end(), 0.0);
}

void PixelShares::write_single(int portion, std::uint8_t* share) const {
    std::fill(share, share + weight_.size(), std::uint8_t{0});
    share[portion] = 255;
}

// Round down, then give the codes left over to those that lost most.
void PixelShares::write(std::uint8_t* share) {
    const double total = std::accumulate(weight_.begin(), weight_.end(), 0.0);
    int given = 0;
    for (std::size_t i = 0; i < weight_.size(); ++i) {
        const double exact = 255 * weight_[i] / total;
        share[i] = static_cast<std::uint8_t>(std::clamp(std::floor(exact), 0.0, 255.0));
        given += share[i];
        weight_[i] = exact - share[i];
    }
    for (; given < 255; ++given) {
        const auto most = std::max_element(weight_.begin(), weight_.end());
        ++share[most - weight_.begin()];
        *most = -1;
    }
}

}  // namespace foreslice::picture
