// Random mouse and keys, the same for the same seed on the same screen: what nobody thought of trying. It
// keeps away from what would write files anywhere or end the program.
#pragma once

#include <cstdint>
#include <random>
#include <string>

#include "studio/window/view.h"

namespace foreslice::studio {

class Monkey {
  public:
    explicit Monkey(std::uint64_t seed) : dice_(seed) {}
    /// One act: a click, a drag, a key, some text, the wheel.
    void act(const Studio& studio, float pixels_per_point);

  private:
    int below(int end) { return static_cast<int>(dice_() % static_cast<std::uint64_t>(end)); }
    void press_somewhere(const Studio& studio, float pixels_per_point);
    void type_something();

    std::mt19937_64 dice_;
    bool held_ = false;
    int x_ = 0, y_ = 0;
};

}  // namespace foreslice::studio
