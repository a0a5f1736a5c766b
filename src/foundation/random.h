// Seeded randomness that is the same on every machine (the standard library's distributions are not).
#pragma once

#include <cstdint>

namespace foreslice {

/// SplitMix64 (Steele, Lea & Flood 2014): mixes a counter into 64 well-spread bits.
std::uint64_t mixed_bits(std::uint64_t counter);

/// A uniform number in [-1, 1) that depends only on its arguments.
double seeded_uniform(std::uint64_t seed, std::uint64_t index);

/// A smooth field of one variable with zero mean, about unit variance and the given correlation length
/// (same unit as x): sum of Gaussian-windowed seeded values on a lattice. Deterministic; any finite x.
double smooth_field(std::uint64_t seed, double x, double correlation_length);

/// The same in two variables, each with its own correlation length.
double smooth_field(std::uint64_t seed, double x, double y, double x_length, double y_length);

}  // namespace foreslice
