#include "foundation/content_key.h"

#include <bit>
#include <cstddef>

namespace foreslice {

void ContentKey::add_bytes(const void* data, std::size_t size) {
    const auto* bytes = static_cast<const unsigned char*>(data);
    for (std::size_t i = 0; i < size; ++i) state_ = (state_ ^ bytes[i]) * 0x100000001b3ULL;
}

ContentKey& ContentKey::add(std::string_view text) {
    add(static_cast<std::int64_t>(text.size()));  // so that ("ab","c") and ("a","bc") differ
    add_bytes(text.data(), text.size());
    return *this;
}

ContentKey& ContentKey::add(double value) {
    return add(std::bit_cast<std::int64_t>(value == 0 ? 0.0 : value));
}

ContentKey& ContentKey::add(std::int64_t value) {
    add_bytes(&value, sizeof value);
    return *this;
}

}  // namespace foreslice
