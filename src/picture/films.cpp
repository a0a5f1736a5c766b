#include "picture/films.h"

#include <algorithm>
#include <cstdint>

#include "picture/shares.h"

namespace foreslice::picture {
namespace {

constexpr int reach_px = 2;
constexpr int rounds = 3;
constexpr int enclosing = 6;  // of eight neighbours
constexpr std::int32_t resolved = -1;

// The pixels concerned, with the neighbours they exchange with. Weights of a pair are those of Metropolis:
// one over the larger number of partners plus one, hence symmetric and never more than there is.
class Films {
  public:
    Films(const Coverage& coverage, const std::vector<std::uint8_t>& lottery) : coverage_(coverage) {
        slot_.assign(lottery.size(), resolved);
        for (std::size_t pixel = 0; pixel < lottery.size(); ++pixel)
            if (lottery[pixel] || enclosed(lottery, pixel)) {
                slot_[pixel] = static_cast<std::int32_t>(pixels_.size());
                pixels_.push_back(pixel);
            }
        for (std::size_t pixel : pixels_) {
            int partners = 0;
            for_partners(pixel, [&](std::size_t) { ++partners; });
            partners_.push_back(partners);
        }
    }

    const std::vector<std::size_t>& pixels() const { return pixels_; }

    /// What pixel `at` (a slot) holds after one round of exchanges.
    void exchange(std::size_t at, const std::vector<float>& held, float* now) const {
        const auto kinds = static_cast<std::size_t>(coverage_.portions);
        const float* own = &held[at * kinds];
        std::copy(own, own + kinds, now);
        for_partners(pixels_[at], [&](std::size_t other) {
            const float weight = 1.0F / static_cast<float>(1 + std::max(partners_[at], partners_[other]));
            for (std::size_t k = 0; k < kinds; ++k) now[k] += weight * (held[other * kinds + k] - own[k]);
        });
    }

  private:
    // Calls visit(index) for the pixels round one, not for itself.
    template <class Visit>
    void for_neighbours(std::size_t pixel, int reach, Visit&& visit) const {
        const int width = coverage_.width_px;
        const int x = static_cast<int>(pixel % static_cast<std::size_t>(width));
        const int y = static_cast<int>(pixel / static_cast<std::size_t>(width));
        for (int v = std::max(0, y - reach); v <= std::min(coverage_.height_px - 1, y + reach); ++v)
            for (int u = std::max(0, x - reach); u <= std::min(width - 1, x + reach); ++u)
                if (u != x || v != y)
                    visit(static_cast<std::size_t>(v) * static_cast<std::size_t>(width) +
                          static_cast<std::size_t>(u));
    }
    template <class Visit>
    void for_partners(std::size_t pixel, Visit&& visit) const {
        for_neighbours(pixel, reach_px, [&](std::size_t other) {
            if (slot_[other] != resolved) visit(static_cast<std::size_t>(slot_[other]));
        });
    }
    bool enclosed(const std::vector<std::uint8_t>& lottery, std::size_t pixel) const {
        int round = 0;
        for_neighbours(pixel, 1, [&](std::size_t other) { round += lottery[other] ? 1 : 0; });
        return round >= enclosing || (round >= 2 && stray(lottery, pixel));
    }
    // A pixel in a film whose few samples agree by chance: films on two opposite sides of it, and none of the
    // others round it shows what it shows. A feather, however fine, goes on from one pixel to the next.
    bool stray(const std::vector<std::uint8_t>& lottery, std::size_t pixel) const {
        const int own = most_of(pixel);
        bool goes_on = false, between = false;
        for_neighbours(pixel, 1, [&](std::size_t other) {
            const std::size_t opposite = 2 * pixel - other;
            if (!lottery[other])
                goes_on = goes_on || most_of(other) == own;
            else
                between = between ||
                          (other < pixel && opposite < lottery.size() && lottery[opposite] && inside(pixel));
        });
        return between && !goes_on;
    }
    // Not at the left or right end of its row, where the pixel opposite would be in another one.
    bool inside(std::size_t pixel) const {
        const std::size_t width = static_cast<std::size_t>(coverage_.width_px), x = pixel % width;
        return x > 0 && x + 1 < width;
    }
    int most_of(std::size_t pixel) const {
        const auto* share = &coverage_.share[pixel * static_cast<std::size_t>(coverage_.portions)];
        return static_cast<int>(std::max_element(share, share + coverage_.portions) - share);
    }

    const Coverage& coverage_;
    std::vector<std::int32_t> slot_;  ///< a pixel: its place in `pixels_`, or `resolved`
    std::vector<std::size_t> pixels_;
    std::vector<int> partners_;  ///< a slot: how many it exchanges with
};

constexpr std::size_t slots_a_task = 256;

}  // namespace

void settle_films(Coverage& coverage, const std::vector<std::uint8_t>& lottery, WorkerPool& pool) {
    const Films films(coverage, lottery);
    const std::size_t slots = films.pixels().size(), kinds = static_cast<std::size_t>(coverage.portions);
    std::vector<float> held(slots * kinds), next(slots * kinds);
    for (std::size_t at = 0; at < slots; ++at)
        for (std::size_t k = 0; k < kinds; ++k)
            held[at * kinds + k] = coverage.share[films.pixels()[at] * kinds + k];
    for (int round = 0; round < rounds; ++round) {
        pool.parallel_for((slots + slots_a_task - 1) / slots_a_task, [&](std::size_t task) {
            const std::size_t end = std::min(slots, (task + 1) * slots_a_task);
            for (std::size_t at = task * slots_a_task; at < end; ++at)
                films.exchange(at, held, &next[at * kinds]);
        });
        held.swap(next);
    }
    PixelShares pixel(coverage.portions);
    for (std::size_t at = 0; at < slots; ++at) {
        pixel.clear();
        for (std::size_t k = 0; k < kinds; ++k)
            pixel.add(static_cast<int>(k), static_cast<double>(std::max(0.0F, held[at * kinds + k])));
        pixel.write(&coverage.share[films.pixels()[at] * kinds]);
    }
}

}  // namespace foreslice::picture
