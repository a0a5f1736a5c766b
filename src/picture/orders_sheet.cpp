#include "picture/caption.h"
#include "picture/cards.h"
#include "picture/orders.h"

namespace foreslice::picture {
namespace {

std::string measure_words(const RankedOrder& order, const design::Design& design, const std::string& accent,
                          bool with_collection) {
    const design::Portion* portion = design::find_portion(design, accent);
    std::string words = "contrast " + short_number(order.glance.contrast_de00, 3) + " · " +
                        (portion ? portion->name : accent) + " " + short_number(order.accent_percent, 2) +
                        " % · muddy " + short_number(order.glance.muddy_percent, 2) + " %";
    if (with_collection) words += " · " + short_number(order.nearest_de00, 2) + " from its nearest kin";
    return words;
}

}  // namespace

Image orders_sheet(FaceMaker& maker, const design::Design& design, const RankedOrders& ranked,
                   const OrdersRequest& request, double px_per_mm, Progress& progress) {
    const design::Layers layers(design);
    std::vector<Card> cards;
    for (const auto& group : ranked.groups) {
        const RankedOrder& best = ranked.orders[group.front()];
        const auto ordered = layers.in_order(best.order);
        FaceRequest face{.bar = request.bar, .px_per_mm = px_per_mm, .resolution = request.resolution};
        Card card;
        card.bar = bar_picture(ordered, maker.make(ordered, face, progress), face);
        card.label = label_of(cards.size());
        card.title = best.words;
        card.lines = {best.stack, measure_words(best, design, ranked.accent, !request.collection.empty())};
        if (group.size() > 1) card.lines.push_back("and " + std::to_string(group.size() - 1) + " like it");
        cards.push_back(std::move(card));
    }
    return card_sheet(design.name + ": orders of the layers",
                      ranked.how + "; the best of " + std::to_string(ranked.groups.size()) +
                          (ranked.groups.size() == 1 ? " group" : " groups") +
                          " that look alike within dE00 " + short_number(ranked.reach_de00, 2) +
                          ". Layers are named from the top down.",
                      cards);
}

}  // namespace foreslice::picture
