// What one pour puts into the mould: one portion, or several that were folded into each other in the jug.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "foundation/vec2.h"
#include "picture/section.h"

namespace foreslice::picture {

/// Lamellae of several portions folded `folds` times: stripes bent by seeded wavy shears, which keep areas
/// (Lu, Jaffer, Jin, Zhao & Mao 2012, "Mathematical Marbling", from memory), each fold making them thinner. A
/// statistical likeness: no hand folds the same way twice. The cuts between the portions are set so that each
/// gets its part of the region it fills.
class Lamellae {
  public:
    /// `parts`: of each portion, any scale. `region`: points spread evenly over what is filled. `z_mm`:
    /// sections near each other look alike.
    Lamellae(std::uint64_t seed, int folds, double z_mm, const std::vector<double>& parts,
             const std::vector<Vec2>& region);
    /// Index into the parts.
    int member(Vec2 point_mm) const;

  private:
    struct Shear {
        Vec2 along, across;
        double per_mm, amplitude_mm, phase;
    };
    double phase(Vec2 point_mm) const;

    std::vector<Shear> shears_;
    Vec2 stripes_;              ///< across the stripes, 1/mm
    std::vector<double> warp_;  ///< uneven widths: shift of the phase over a range of it
    std::vector<double> cuts_;  ///< of the phase, one fewer than parts
};

class Deposit {
  public:
    explicit Deposit(Bit bit) : bits_{bit} {}
    Deposit(std::vector<Bit> bits, std::shared_ptr<const Lamellae> lamellae)
        : bits_(std::move(bits)), lamellae_(std::move(lamellae)) {}
    Bit at(Vec2 point_mm) const {
        return lamellae_ ? bits_[static_cast<std::size_t>(lamellae_->member(point_mm))] : bits_.front();
    }

  private:
    std::vector<Bit> bits_;
    std::shared_ptr<const Lamellae> lamellae_;
};

}  // namespace foreslice::picture
