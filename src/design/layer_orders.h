// The orders in which the layers of a design could be poured.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "design/design.h"

namespace foreslice::design {

/// An order: for each place, the floor first, the layer that goes there, as its number in the design.
using LayerOrder = std::vector<std::size_t>;

/// Whether all orders of the layers share one flow: no stroke is drawn between pours, and what is drawn
/// through is equally thick everywhere.
bool orders_share_a_flow(const Design& design);

/// The layers of a design that can change places: pours that go in together stay together. Layers that are
/// equal in everything count as one kind, so that no order is looked at twice.
class Layers {
  public:
    /// Throws InputError when each order has a flow of its own.
    explicit Layers(const Design& design);

    std::size_t count() const { return first_pour_.size(); }
    const LayerOrder& as_designed() const { return as_designed_; }
    /// Number of orders that differ; huge numbers are exact to double precision.
    double orders() const;
    /// Every order that differs, the design's own first, while there are no more than `most`.
    std::vector<LayerOrder> all(std::size_t most) const;
    /// `count` different orders by a seeded shuffle, the design's own first; fewer where there are fewer.
    std::vector<LayerOrder> sample(std::size_t count, std::uint64_t seed) const;
    /// Orders that come from this one by letting two unlike layers change places.
    std::vector<LayerOrder> neighbours(const LayerOrder& order) const;
    /// Equal for orders that pour the same.
    std::vector<int> kinds_of(const LayerOrder& order) const;

    /// The design with its layers in this order.
    Design in_order(const LayerOrder& order) const;
    /// What people call a layer: the names of its portions.
    std::string name_of(std::size_t layer) const;
    /// Whether any of the layer's batter is of this portion.
    bool holds(std::size_t layer, const std::string& portion) const;

  private:
    std::size_t end_of(std::size_t layer) const;

    Design design_;
    std::vector<std::size_t> first_pour_;  ///< of each layer
    std::vector<int> kind_;
    LayerOrder as_designed_;
};

/// What was looked at, and how.
struct OrderSearch {
    std::vector<LayerOrder> orders;  ///< as they were found
    std::vector<double> worth;       ///< of each
    double possible = 0;
    std::string how;  ///< in words, for the sheet
};

/// Gives each of some orders its worth; more is better.
using Worth = std::function<std::vector<double>(const std::vector<LayerOrder>& orders)>;

/// All orders when there are at most `most`; else half of `most` by a seeded shuffle and then, round by
/// round, what lies one change of two layers away from the best eight, until `most` were looked at or nothing
/// new is left there.
OrderSearch search_orders(const Layers& layers, std::size_t most, std::uint64_t seed, const Worth& worth);

/// What an order changes, in words: "as designed", "salt white and tide blue change places", "lamp amber two
/// layers down", "turned upside down", else what lies lowest, highest and round the accent.
std::string words_of(const LayerOrder& order, const Layers& layers, const std::string& accent_portion);
/// "tide blue, dusk mauve, ...": the layers' names from the top down.
std::string stack_words(const LayerOrder& order, const Layers& layers);

}  // namespace foreslice::design
