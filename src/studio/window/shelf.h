// Where panels keep what they remember between frames: one object a type, made when first asked for.
#pragma once

#include <memory>
#include <typeindex>
#include <unordered_map>

namespace foreslice::studio {

class Shelf {
  public:
    template <class T>
    T& at() {
        auto& place = kept_[std::type_index(typeid(T))];
        if (!place) place = std::make_shared<T>();
        return *static_cast<T*>(place.get());
    }

  private:
    std::unordered_map<std::type_index, std::shared_ptr<void>> kept_;
};

}  // namespace foreslice::studio
