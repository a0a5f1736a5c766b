// A vector whose new elements are not set to zero: for large tables that are written whole right after, by
// many threads.
#pragma once

#include <memory>
#include <type_traits>
#include <utility>
#include <vector>

namespace foreslice {

template <class T>
class UnsetAllocator : public std::allocator<T> {
  public:
    template <class U>
    struct rebind {
        using other = UnsetAllocator<U>;
    };
    template <class U>
    void construct(U* place) noexcept(std::is_nothrow_default_constructible_v<U>) {
        ::new (static_cast<void*>(place)) U;
    }
    template <class U, class... Values>
    void construct(U* place, Values&&... values) {
        std::construct_at(place, std::forward<Values>(values)...);
    }
};

/// `T` must be trivial. What was not written must not be read.
template <class T>
using UnsetVector = std::vector<T, UnsetAllocator<T>>;

}  // namespace foreslice
