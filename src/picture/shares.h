// The portions of one pixel while they are being added up.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace foreslice::picture {

/// Collects the weights of one pixel's portions and writes them as bytes that add up to 255.
class PixelShares {
  public:
    explicit PixelShares(int portions) : weight_(static_cast<std::size_t>(portions)) {}

    void clear();
    void add(int portion, double weight) { weight_[static_cast<std::size_t>(portion)] += weight; }
    void write_single(int portion, std::uint8_t* share) const;
    /// By largest remainders. Uses the weights up.
    void write(std::uint8_t* share);

  private:
    std::vector<double> weight_;
};

}  // namespace foreslice::picture
