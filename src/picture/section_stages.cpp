#include "picture/section_stages.h"

namespace foreslice::picture {

std::optional<Bit> InRooms::back(Vec2& point_mm) const {
    if (point_mm.y < below_.at(point_mm.x)) return std::nullopt;
    std::size_t room = 0;
    for (; room < right_mm_.size(); ++room) {
        const auto& aside = aside_mm_[room];
        const double place =
            std::clamp(point_mm.y / top_mm_, 0.0, 1.0) * static_cast<double>(aside.size() - 1);
        const std::size_t low = std::min(static_cast<std::size_t>(place), aside.size() - 2);
        const double share = place - static_cast<double>(low);
        if (point_mm.x < right_mm_[room] + (1 - share) * aside[low] + share * aside[low + 1]) break;
    }
    return bits_[room];
}

}  // namespace foreslice::picture
