// A key made from the content that a result depends on. Two equal keys mean the result need not be computed
// again. Not cryptographic; 64 bits of FNV-1a over a canonical byte stream.
#pragma once

#include <cstdint>
#include <string_view>

namespace foreslice {

class ContentKey {
  public:
    ContentKey& add(std::string_view text);
    ContentKey& add(const char* text) { return add(std::string_view(text)); }  // else it would turn into bool
    ContentKey& add(double value);  ///< -0 and 0 count as the same value
    ContentKey& add(std::int64_t value);
    ContentKey& add(int value) { return add(static_cast<std::int64_t>(value)); }
    ContentKey& add(bool value) { return add(static_cast<std::int64_t>(value)); }
    ContentKey& add(std::uint64_t value) { return add(static_cast<std::int64_t>(value)); }

    std::uint64_t value() const { return state_; }

  private:
    void add_bytes(const void* data, std::size_t size);
    std::uint64_t state_ = 0xcbf29ce484222325ULL;
};

}  // namespace foreslice
