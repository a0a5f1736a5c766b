#include "design/layer_orders.h"

#include <algorithm>
#include <numeric>
#include <set>
#include <utility>

#include "foundation/error.h"
#include "foundation/random.h"

namespace foreslice::design {
namespace {

constexpr std::size_t best_looked_round = 8;

bool same_layer(const Design& design, std::size_t a, std::size_t b, std::size_t size) {
    for (std::size_t i = 0; i < size; ++i)
        if (!(design.pours[a + i] == design.pours[b + i])) return false;
    return true;
}

std::vector<std::size_t> best_of(const std::vector<double>& worth, std::size_t count) {
    std::vector<std::size_t> places(worth.size());
    std::iota(places.begin(), places.end(), std::size_t{0});
    std::stable_sort(places.begin(), places.end(), [&](auto a, auto b) { return worth[a] > worth[b]; });
    places.resize(std::min(count, places.size()));
    return places;
}

// "3628800", and beyond a billion "some 1.3e12".
std::string count_words(double count) {
    return count < 1e9 ? std::to_string(static_cast<long long>(count)) : "some " + plain_number(count);
}

}  // namespace

bool orders_share_a_flow(const Design& design) {
    if (!design.strokes.empty() && portions_differ(design)) return false;
    return std::all_of(design.strokes.begin(), design.strokes.end(), [&](const Stroke& stroke) {
        return pours_before(stroke, design) == design.pours.size();
    });
}

Layers::Layers(const Design& design) : design_(design) {
    for (std::size_t stroke = 0; stroke < design.strokes.size(); ++stroke)
        if (pours_before(design.strokes[stroke], design) < design.pours.size())
            throw InputError(
                "", "/strokes/" + std::to_string(stroke),
                "this stroke is drawn between pours, so that each order of the layers has a flow "
                "of its own",
                "a design whose strokes all come after the last pour");
    if (!orders_share_a_flow(design))
        throw InputError(
            "", "/portions",
            "portions are not equally thick, so that each order of the layers has a flow of its own",
            "portions that are equally thick");
    for (std::size_t pour = 0; pour < design.pours.size(); pour = end_of_group(design, pour))
        first_pour_.push_back(pour);
    kind_.resize(count());
    for (std::size_t layer = 0; layer < count(); ++layer) {
        kind_[layer] = static_cast<int>(layer);
        const std::size_t size = end_of(layer) - first_pour_[layer];
        for (std::size_t before = 0; before < layer; ++before)
            if (end_of(before) - first_pour_[before] == size &&
                same_layer(design, first_pour_[before], first_pour_[layer], size)) {
                kind_[layer] = kind_[before];
                break;
            }
        as_designed_.push_back(layer);
    }
}

std::size_t Layers::end_of(std::size_t layer) const {
    return layer + 1 < count() ? first_pour_[layer + 1] : design_.pours.size();
}

std::vector<int> Layers::kinds_of(const LayerOrder& order) const {
    std::vector<int> kinds;
    for (const std::size_t layer : order) kinds.push_back(kind_[layer]);
    return kinds;
}

double Layers::orders() const {
    double orders = 1;
    std::vector<int> seen(count(), 0);
    for (std::size_t layer = 0; layer < count(); ++layer) {
        const int alike = ++seen[static_cast<std::size_t>(kind_[layer])];
        orders *= static_cast<double>(layer + 1) / alike;
    }
    return orders;
}

std::vector<LayerOrder> Layers::all(std::size_t most) const {
    std::vector<LayerOrder> found{as_designed_};
    LayerOrder order = as_designed_;
    const auto less = [&](std::size_t a, std::size_t b) { return kind_[a] < kind_[b]; };
    std::stable_sort(order.begin(), order.end(), less);
    const auto own = kinds_of(as_designed_);
    do {
        if (kinds_of(order) != own) found.push_back(order);
    } while (found.size() < most && std::next_permutation(order.begin(), order.end(), less));
    return found;
}

std::vector<LayerOrder> Layers::sample(std::size_t count_wanted, std::uint64_t seed) const {
    std::vector<LayerOrder> found{as_designed_};
    std::set<std::vector<int>> seen{kinds_of(as_designed_)};
    std::uint64_t draw = mixed_bits(seed);
    for (std::size_t attempt = 0; found.size() < count_wanted && attempt < 20 * count_wanted; ++attempt) {
        LayerOrder order = as_designed_;
        for (std::size_t i = order.size(); i > 1; --i)
            std::swap(order[i - 1], order[static_cast<std::size_t>(mixed_bits(draw++) % i)]);
        if (seen.insert(kinds_of(order)).second) found.push_back(std::move(order));
    }
    return found;
}

std::vector<LayerOrder> Layers::neighbours(const LayerOrder& order) const {
    std::vector<LayerOrder> found;
    for (std::size_t a = 0; a < order.size(); ++a)
        for (std::size_t b = a + 1; b < order.size(); ++b) {
            if (kind_[order[a]] == kind_[order[b]]) continue;
            found.push_back(order);
            std::swap(found.back()[a], found.back()[b]);
        }
    return found;
}

Design Layers::in_order(const LayerOrder& order) const {
    Design design = design_;
    design.pours.clear();
    for (const std::size_t layer : order)
        for (std::size_t pour = first_pour_[layer]; pour < end_of(layer); ++pour)
            design.pours.push_back(design_.pours[pour]);
    return design;
}

std::string Layers::name_of(std::size_t layer) const {
    std::string name;
    for (std::size_t pour = first_pour_[layer]; pour < end_of(layer); ++pour) {
        const Portion* portion = find_portion(design_, design_.pours[pour].portion);
        const std::string own = portion ? portion->name : design_.pours[pour].portion;
        if (name.find(own) == std::string::npos) name += (name.empty() ? "" : " with ") + own;
    }
    return name;
}

bool Layers::holds(std::size_t layer, const std::string& portion) const {
    for (std::size_t pour = first_pour_[layer]; pour < end_of(layer); ++pour)
        if (design_.pours[pour].portion == portion) return true;
    return false;
}

OrderSearch search_orders(const Layers& layers, std::size_t most, std::uint64_t seed, const Worth& worth) {
    OrderSearch search;
    search.possible = layers.orders();
    if (search.possible <= static_cast<double>(most)) {
        search.orders = layers.all(most);
        search.worth = worth(search.orders);
        search.how = "all " + std::to_string(search.orders.size()) + " orders";
        return search;
    }
    search.orders = layers.sample(most / 2, seed);
    search.worth = worth(search.orders);
    const std::size_t shuffled = search.orders.size();
    std::set<std::vector<int>> seen;
    for (const auto& order : search.orders) seen.insert(layers.kinds_of(order));
    while (search.orders.size() < most) {
        std::vector<LayerOrder> fresh;
        for (const std::size_t place : best_of(search.worth, best_looked_round))
            for (auto& order : layers.neighbours(search.orders[place]))
                if (search.orders.size() + fresh.size() < most && seen.insert(layers.kinds_of(order)).second)
                    fresh.push_back(std::move(order));
        if (fresh.empty()) break;
        const auto more = worth(fresh);
        search.orders.insert(search.orders.end(), fresh.begin(), fresh.end());
        search.worth.insert(search.worth.end(), more.begin(), more.end());
    }
    search.how = std::to_string(search.orders.size()) + " of " + count_words(search.possible) +
                 " orders: " + std::to_string(shuffled) + " by a shuffle (seed " + std::to_string(seed) +
                 "), then changes of two layers in the best eight";
    return search;
}

namespace {

// Where one layer was taken out and put in elsewhere; empty when it is not that.
std::string moved_words(const LayerOrder& order, const Layers& layers) {
    const LayerOrder& from = layers.as_designed();
    const auto want = layers.kinds_of(order);
    for (std::size_t a = 0; a < from.size(); ++a)
        for (std::size_t b = 0; b < from.size(); ++b) {
            if (a == b) continue;
            LayerOrder moved = from;
            moved.erase(moved.begin() + static_cast<std::ptrdiff_t>(a));
            moved.insert(moved.begin() + static_cast<std::ptrdiff_t>(b), from[a]);
            if (layers.kinds_of(moved) != want) continue;
            const auto steps = b > a ? b - a : a - b;
            return layers.name_of(from[a]) + " " + std::to_string(steps) +
                   (steps == 1 ? " layer " : " layers ") + (b > a ? "up" : "down");
        }
    return "";
}

std::string swapped_words(const LayerOrder& order, const Layers& layers) {
    const LayerOrder& from = layers.as_designed();
    const auto want = layers.kinds_of(order);
    for (std::size_t a = 0; a < from.size(); ++a)
        for (std::size_t b = a + 1; b < from.size(); ++b) {
            LayerOrder swapped = from;
            std::swap(swapped[a], swapped[b]);
            if (layers.kinds_of(swapped) == want)
                return layers.name_of(from[a]) + " and " + layers.name_of(from[b]) + " change places";
        }
    return "";
}

std::string accent_words(const LayerOrder& order, const Layers& layers, const std::string& accent) {
    for (std::size_t place = 0; place < order.size(); ++place) {
        if (!layers.holds(order[place], accent)) continue;
        const std::string name = layers.name_of(order[place]);
        if (place == 0) return name + " at the floor, under " + layers.name_of(order[1]);
        if (place + 1 == order.size()) return name + " on top, on " + layers.name_of(order[place - 1]);
        return name + " between " + layers.name_of(order[place - 1]) + " and " +
               layers.name_of(order[place + 1]);
    }
    return "";
}

}  // namespace

std::string words_of(const LayerOrder& order, const Layers& layers, const std::string& accent_portion) {
    if (layers.kinds_of(order) == layers.kinds_of(layers.as_designed())) return "as designed";
    LayerOrder turned = layers.as_designed();
    std::reverse(turned.begin(), turned.end());
    if (layers.kinds_of(order) == layers.kinds_of(turned)) return "turned upside down";
    for (const auto& words : {swapped_words(order, layers), moved_words(order, layers),
                              accent_words(order, layers, accent_portion)})
        if (!words.empty()) return words;
    return layers.name_of(order.front()) + " at the floor, " + layers.name_of(order.back()) + " on top";
}

std::string stack_words(const LayerOrder& order, const Layers& layers) {
    std::string words;
    for (auto layer = order.rbegin(); layer != order.rend(); ++layer)
        words += (words.empty() ? "" : ", ") + layers.name_of(*layer);
    return words;
}

}  // namespace foreslice::design
