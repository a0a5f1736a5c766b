#include "picture/font_file.h"

#include <cstddef>

namespace foreslice::picture {

bool is_whole_font(std::string_view bytes) {
    const auto number = [&](std::size_t at, std::size_t size) {
        std::size_t value = 0;
        for (std::size_t i = at; i < at + size; ++i)
            value = value << 8U | static_cast<unsigned char>(bytes[i]);
        return value;
    };
    constexpr std::size_t heading = 12, entry = 16;
    if (bytes.size() < heading) return false;
    const std::size_t tables = number(4, 2);
    if (tables == 0 || heading + entry * tables > bytes.size()) return false;
    for (std::size_t i = 0; i < tables; ++i) {
        const std::size_t from = number(heading + entry * i + 8, 4),
                          size = number(heading + entry * i + 12, 4);
        if (from > bytes.size() || size > bytes.size() - from) return false;
    }
    return true;
}

}  // namespace foreslice::picture
