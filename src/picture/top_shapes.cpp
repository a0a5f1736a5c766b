#include "picture/top_shapes.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "foundation/random.h"

namespace foreslice::picture {
namespace {

using design::TopMotion;
using design::TopStroke;
using design::TopTool;

constexpr double pi = std::numbers::pi;
constexpr double wander_mm = 70;  // along the loaf, over which a hand's line strays
constexpr double swell_mm = 45;   // and over which it presses more and less
constexpr double stria_mm = 1.1;  // of the fine lines in the wake of a spatula's edge

double field(std::uint64_t seed, double z_mm, double length_mm) {
    return std::clamp(smooth_field(seed, z_mm, length_mm), -2.0, 2.0);
}

// Smallest of two, round where they meet over `blend`.
double soft_least(double a, double b, double blend) {
    const double h = std::clamp(0.5 + 0.5 * (b - a) / blend, 0.0, 1.0);
    return b + h * (a - b) - blend * h * (1 - h);
}

template <class Height>
Profile sampled(double width_mm, const Height& height) {
    std::vector<double> heights(Profile::columns_over(width_mm));
    const double step_mm = width_mm / static_cast<double>(heights.size() - 1);
    for (std::size_t i = 0; i < heights.size(); ++i) heights[i] = height(static_cast<double>(i) * step_mm);
    return {width_mm, std::move(heights)};
}

// Means over `reach_mm` to either side, three times: no ridge of batter is sharper than its surface tension
// and stiffness let it.
Profile rounded(const Profile& profile, double reach_mm) {
    std::vector<double> heights = profile.heights_mm();
    const auto count = static_cast<std::ptrdiff_t>(heights.size());
    const auto reach = static_cast<std::ptrdiff_t>(std::lround(reach_mm / profile.x_of(1)));
    for (int round = 0; round < 3 && reach > 0; ++round) {
        std::vector<double> sums(heights.size() + 1);
        for (std::size_t i = 0; i < heights.size(); ++i) sums[i + 1] = sums[i] + heights[i];
        for (std::ptrdiff_t i = 0; i < count; ++i) {
            const auto from = static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, i - reach));
            const auto to = static_cast<std::size_t>(std::min(count, i + reach + 1));
            heights[static_cast<std::size_t>(i)] = (sums[to] - sums[from]) / static_cast<double>(to - from);
        }
    }
    return {profile.width_mm(), std::move(heights)};
}

// A furrow between two ridges, 0 at them and -1 at its deepest, for a share 0..1 of the way across. Leaning
// ridges rise slowly on one side and fall off steeply on the other.
double furrow(double share, double lean, double sharpness) {
    const double deepest = 0.5 - 0.36 * lean;
    const double off = share < deepest ? (deepest - share) / deepest : (share - deepest) / (1 - deepest);
    return std::pow(off, sharpness) - 1;
}

// Ridges side by side: each keeps its own number, strays and swells along the loaf.
class Ridges {
  public:
    Ridges(const TopStroke& stroke, double width_mm, std::uint64_t seed, double z_mm)
        : stroke_(stroke), fork_(stroke.tool == TopTool::fork) {
        const double stray = fork_ ? 0.10 : 0.17, swell = fork_ ? 0.16 : 0.34;
        const double drift = stroke.spacing_mm * 0.35 * field(seed ^ 0xd41f, z_mm, wander_mm);
        const int count = static_cast<int>(width_mm / stroke.spacing_mm) + 4;
        const double first = 0.5 * (width_mm - (count - 1) * stroke.spacing_mm) + drift;
        for (int k = 0; k < count; ++k) {
            const std::uint64_t own = mixed_bits(seed + static_cast<std::uint64_t>(k));
            at_.push_back(first + stroke.spacing_mm * (k + stray * field(own, z_mm, wander_mm) * 0.7));
            ridge_.push_back(0.12 + swell * 0.5 * field(own + 1, z_mm, swell_mm));
            deep_.push_back(1 + swell * 0.6 * field(own + 2, z_mm, swell_mm));
        }
    }
    /// About -1..0.
    double at(double x_mm) const {
        const auto after = std::upper_bound(at_.begin() + 1, at_.end() - 1, x_mm);
        const auto k = static_cast<std::size_t>(after - at_.begin()) - 1;
        const double share = std::clamp((x_mm - at_[k]) / (at_[k + 1] - at_[k]), 0.0, 1.0);
        return ridge_[k] + share * (ridge_[k + 1] - ridge_[k]) +
               deep_[k] * furrow(share, fork_ ? 0.3 * stroke_.lean : stroke_.lean, fork_ ? 2.2 : 1.7);
    }

  private:
    const TopStroke& stroke_;
    bool fork_;
    std::vector<double> at_, ridge_, deep_;
};

// Lines that the edge of a spatula leaves.
double striae(std::uint64_t seed, double x_mm, double z_mm) {
    return smooth_field(seed ^ 0x57a1, x_mm, z_mm, stria_mm, 40);
}

Profile along(const TopStroke& stroke, double width_mm, std::uint64_t seed, double z_mm) {
    const Ridges ridges(stroke, width_mm, seed, z_mm);
    const bool fork = stroke.tool == TopTool::fork;
    const double fine = fork ? 0 : std::min(0.10, 0.03 * stroke.height_mm);
    return rounded(
        sampled(width_mm,
                [&](double x) { return stroke.height_mm * ridges.at(x) + fine * striae(seed, x, z_mm); }),
        std::min(0.06 * stroke.spacing_mm, fork ? 0.3 : 0.7));
}

// Flanks hollow towards a crest that strays; a scallop for every pull of the tool.
Profile to_crest(const TopStroke& stroke, double width_mm, std::uint64_t seed, double z_mm) {
    const bool fork = stroke.tool == TopTool::fork;
    const double crest =
        stroke.crest_mm.value_or(width_mm / 2) + 0.04 * width_mm * field(seed ^ 0xc4e5, z_mm, 32);
    const double pull = z_mm / stroke.spacing_mm + 0.3 * field(seed ^ 0x9011, z_mm, wander_mm);
    const double beat = std::abs(std::sin(pi * pull));  // ridges where two pulls meet
    const double crest_mm = stroke.height_mm * (0.86 + 0.14 * beat + 0.10 * field(seed ^ 0x77, z_mm, 30));
    const double half_mm = 0.5 * width_mm;
    TopStroke marks = stroke;
    marks.spacing_mm = fork ? std::min(stroke.spacing_mm, 5.0) : stroke.spacing_mm;
    const Ridges ridges(marks, width_mm, seed ^ 0x3a, z_mm);
    const double mark_mm = stroke.height_mm * (fork ? 0.16 : 0.22);
    const auto height = [&](double x) {
        const double skew = stroke.lean * 0.25 * (x < crest ? 1 : -1);
        const double off = std::abs(x - crest) / (half_mm * (0.62 + skew));
        const double flank = std::exp(-1.9 * (std::sqrt(off * off + 0.012) - 0.11));
        const double upturn = 0.16 * std::pow(std::clamp(std::abs(2 * x / width_mm - 1), 0.0, 1.0), 6.0);
        const double off_crest = 1 - std::exp(-off * off * 14);
        return crest_mm * (flank + upturn) + mark_mm * off_crest * ridges.at(x) +
               (fork ? 0 : 0.06 * striae(seed, x, z_mm));
    };
    return rounded(sampled(width_mm, height), fork ? 0.3 : 0.5);
}

// Peaks on a jittered lattice of places over the loaf; the highest counts, softly.
Profile peaks(const TopStroke& stroke, double width_mm, std::uint64_t seed, double z_mm) {
    struct Peak {
        double x, z, reach, height;
    };
    std::vector<Peak> near;
    const double cell = stroke.spacing_mm, row_mm = 0.72 * cell;
    const auto row = static_cast<std::int64_t>(std::floor(z_mm / row_mm));
    for (std::int64_t v = row - 3; v <= row + 3; ++v)
        for (std::int64_t u = -1; u <= static_cast<std::int64_t>(width_mm / cell) + 1; ++u) {
            const std::uint64_t own = mixed_bits(seed ^ mixed_bits(static_cast<std::uint64_t>(v) * 4099U) ^
                                                 static_cast<std::uint64_t>(u));
            const auto dice = [&](std::uint64_t what) { return seeded_uniform(own, what); };
            const double stagger = v % 2 == 0 ? 0.25 : 0.75;
            near.push_back({(static_cast<double>(u) + stagger + 0.22 * dice(0)) * cell,
                            (static_cast<double>(v) + 0.5 + 0.26 * dice(1)) * row_mm,
                            cell * (0.68 + 0.12 * dice(2)), stroke.height_mm * (0.82 + 0.24 * dice(3))});
        }
    const double fine = stroke.tool == TopTool::fork ? 0.05 * stroke.height_mm : 0;
    const auto height = [&](double x) {
        double depth = 0;  // below the peaks' height
        bool first = true;
        for (const Peak& peak : near) {
            const double dz = (z_mm - peak.z) / peak.reach, dx = (x - peak.x) / peak.reach;
            const double side = dx + 0.35 * stroke.lean * std::exp(-3 * (dx * dx + dz * dz));
            const double off = std::sqrt(side * side + dz * dz + 0.004);
            const double own = stroke.height_mm - peak.height * std::exp(-2.4 * off);
            depth = first ? own : soft_least(depth, own, 0.12 * stroke.height_mm);
            first = false;
        }
        return -depth + fine * std::sin(2 * pi * x / 2.6 + 3 * field(seed ^ 0xf0, z_mm, 20));
    };
    return rounded(sampled(width_mm, height), 0.25);
}

// The tool goes from wall to wall and back while it moves along: waves that a section cuts slantwise.
Profile across(const TopStroke& stroke, double width_mm, std::uint64_t seed, double z_mm) {
    const bool fork = stroke.tool == TopTool::fork;
    const double lines = fork ? 3 : 1;  // tines that follow each other
    const double stray = 0.12 * field(seed ^ 0xac, z_mm, wander_mm);
    const auto height = [&](double x) {
        const double u = x / width_mm;
        const double bow = 0.55 * std::sin(2 * pi * (u + 0.15 * field(seed ^ 0xb0, z_mm, 60))) +
                           0.12 * smooth_field(seed ^ 0xb1, x, z_mm, 18, 40);
        const double turns = lines * (z_mm / stroke.spacing_mm + stray + bow);
        const double share = turns - std::floor(turns);
        const double swell = 1 + 0.22 * smooth_field(seed ^ 0xb2, x, z_mm, 26, swell_mm);
        const double wall = std::min(1.0, 0.45 + 4 * std::min(u, 1 - u));
        return stroke.height_mm * swell * wall * furrow(share, stroke.lean, fork ? 2.2 : 1.8) +
               (fork ? 0 : 0.05 * striae(seed, x, z_mm));
    };
    return rounded(sampled(width_mm, height), fork ? 0.4 : 0.8);
}

}  // namespace

Profile heap_mm(const design::Spooned& spooned, double width_mm, double area_mm2, std::uint64_t seed,
                double z_mm) {
    const double middle = spooned.at_mm.value_or(width_mm / 2), half = spooned.width_mm / 2;
    const double cell = spooned.lump_mm;
    const auto dome = [&](double x, double at, double reach) {
        const double off = (x - at) / reach;
        return std::max(0.0, 1 - off * off);
    };
    const Profile shape = sampled(width_mm, [&](double x) {
        if (cell <= 0) return dome(x, middle + 0.1 * half * field(seed, z_mm, wander_mm), half);
        // Spoonfuls overlap along the loaf; a section shows those it meets.
        double sum = 0;
        const auto own = static_cast<std::int64_t>(std::floor(z_mm / cell));
        for (std::int64_t k = own - 1; k <= own + 1; ++k) {
            const auto lump = static_cast<std::uint64_t>(k);
            const double away =
                (z_mm - (static_cast<double>(k) + 0.5 + 0.12 * seeded_uniform(seed, lump)) * cell) / cell;
            const double weight = std::exp(-4.5 * away * away);
            const double at = middle + 0.22 * half * seeded_uniform(seed + 1, lump);
            const double reach = half * (0.9 + 0.14 * seeded_uniform(seed + 2, lump)) *
                                 std::sqrt(std::max(0.25, 1.1 - away * away));
            sum += weight * dome(x, at, reach);
        }
        return sum;
    });
    const Profile soft = rounded(shape, 0.6);
    const double area = soft.integral_mm2(width_mm);
    std::vector<double> heights = soft.heights_mm();
    for (double& height : heights) height *= area > 0 ? area_mm2 / area : 0;
    if (area <= 0) std::fill(heights.begin(), heights.end(), area_mm2 / width_mm);
    return {width_mm, std::move(heights)};
}

Profile worked_mm(const TopStroke& stroke, double width_mm, std::uint64_t seed, double z_mm) {
    switch (stroke.motion) {
        case TopMotion::to_crest:
            return to_crest(stroke, width_mm, seed, z_mm);
        case TopMotion::peaks:
            return peaks(stroke, width_mm, seed, z_mm);
        case TopMotion::across:
            return across(stroke, width_mm, seed, z_mm);
        case TopMotion::along:
            break;
    }
    return along(stroke, width_mm, seed, z_mm);
}

}  // namespace foreslice::picture
