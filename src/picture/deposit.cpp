#include "picture/deposit.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "foundation/random.h"

namespace foreslice::picture {
namespace {

// Choices by eye, no source: what jugs folded once to seven times look like.
constexpr double unfolded_stripe_mm = 44;  // of all portions once
constexpr double thinner_a_fold = 0.62;
constexpr double longest_wave_mm = 58;
constexpr double shorter_a_fold = 0.74;
constexpr double amplitude_per_wave = 0.2;
constexpr double lying_flat = 1.5;  // batter laid down spreads: lamellae are stretched sideways

constexpr double warp_length = 0.8;  // of uneven widths, in stripes
constexpr double warp_most = 0.4;
constexpr int warps_a_stripe = 16, warped_stripes = 64;

double fraction(double value) {
    return value - std::floor(value);
}

}  // namespace

Lamellae::Lamellae(std::uint64_t seed, int folds, double z_mm, const std::vector<double>& parts,
                   const std::vector<Vec2>& region) {
    const double pi = std::numbers::pi;
    for (int i = 0; i <= folds; ++i) {
        const std::uint64_t own = mixed_bits(seed + static_cast<std::uint64_t>(i));
        const double angle = pi * seeded_uniform(own, 1);
        const double wave =
            longest_wave_mm * std::pow(shorter_a_fold, i) * (1 + 0.25 * seeded_uniform(own, 2));
        const double phase = pi * seeded_uniform(own, 3) + 0.7 * smooth_field(own, z_mm, 60);
        shears_.push_back({{std::cos(angle), std::sin(angle)},
                           {-std::sin(angle), std::cos(angle)},
                           2 * pi / wave,
                           amplitude_per_wave * wave,
                           phase});
    }
    const double tilt = 0.6 * seeded_uniform(seed, 7);
    const double stripes_per_mm = 1 / (unfolded_stripe_mm * std::pow(thinner_a_fold, folds));
    stripes_ = stripes_per_mm * Vec2{std::sin(tilt), std::cos(tilt)};
    for (int i = 0; i <= warps_a_stripe * warped_stripes; ++i)
        warp_.push_back(warp_most * smooth_field(mixed_bits(seed + 99),
                                                 static_cast<double>(i) / warps_a_stripe, warp_length));
    std::vector<double> phases;
    phases.reserve(region.size());
    for (const Vec2 point : region) phases.push_back(phase(point));
    std::sort(phases.begin(), phases.end());
    const double all = std::accumulate(parts.begin(), parts.end(), 0.0);
    double below = 0;
    for (std::size_t i = 0; i + 1 < parts.size(); ++i) {
        below += parts[i] / all;
        const auto at =
            std::min(phases.size() - 1, static_cast<std::size_t>(below * static_cast<double>(phases.size())));
        cuts_.push_back(phases.empty() ? below : phases[at]);
    }
}

double Lamellae::phase(Vec2 point_mm) const {
    Vec2 p{point_mm.x / lying_flat, point_mm.y * lying_flat};
    for (const Shear& shear : shears_)
        p += shear.amplitude_mm * std::sin(shear.per_mm * dot(p, shear.across) + shear.phase) * shear.along;
    const double stripe = dot(p, stripes_) + warped_stripes / 2.0;
    const double at = std::clamp(stripe, 0.0, static_cast<double>(warped_stripes) - 1e-9) * warps_a_stripe;
    const auto left = static_cast<std::size_t>(at);
    const double share = at - static_cast<double>(left);
    return fraction(stripe + (1 - share) * warp_[left] + share * warp_[left + 1]);
}

int Lamellae::member(Vec2 point_mm) const {
    const double here = phase(point_mm);
    int member = 0;
    while (static_cast<std::size_t>(member) < cuts_.size() && here >= cuts_[static_cast<std::size_t>(member)])
        ++member;
    return member;
}

}  // namespace foreslice::picture
