// Every order in which the layers could be poured, drawn from one flow, ranked, and gathered into groups of
// faces that look alike.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "design/design.h"
#include "design/layer_orders.h"
#include "foundation/progress.h"
#include "picture/face.h"
#include "picture/glance.h"

namespace foreslice::picture {

/// What orders can be ranked by. More is better; a negative weight turns that round.
enum class OrderAim {
    contrast,  ///< mean CIEDE2000 where neighbours meet
    clean,     ///< little that is muddy
    accent,    ///< how much of the accent is seen as itself
    share,     ///< of one portion on the face
    kin,       ///< alike to the nearest soap of the collection
    apart      ///< unlike the nearest soap of the collection
};

struct WeightedAim {
    OrderAim aim = OrderAim::contrast;
    double weight = 1;
    std::string portion = {};  ///< of `share`: an id
};
/// "contrast", "contrast=2,accent,clean=0.5", "share:salt=-1". Throws InputError that names what there is.
std::vector<WeightedAim> aims_from(const std::string& text, const design::Design& design);

struct OrdersRequest {
    int bar = 1;         ///< 1-based
    int width_px = 256;  ///< of the faces that are compared, 64..1024
    flow::Resolution resolution;
    std::vector<WeightedAim> aims{WeightedAim{}};
    std::string accent;           ///< a portion's id; empty: the one with the smallest share
    std::size_t most_orders = 0;  ///< beyond, a seeded search; 0: 720, or 60 where the pours are more than
                                  ///< level layers and each order's section has to be built
    std::uint64_t seed = 1;
    std::size_t most_groups = 12;
    double alike_de00 = 4;                       ///< see grouped()
    std::vector<FaceSignature> collection = {};  ///< what kin and apart go by
};

struct RankedOrder {
    design::LayerOrder order;
    Glance glance;
    double accent_percent = 0;  ///< of the face, where the accent is seen as itself
    double nearest_de00 = 0;    ///< to the collection; 0 without one
    double score = 0;           ///< weighted sum of the aims, each in standard deviations over all orders
    std::string words, stack;   ///< what it changes; names from the top down
};

struct RankedOrders {
    std::vector<RankedOrder> orders;               ///< the best first
    std::vector<std::vector<std::size_t>> groups;  ///< into `orders`, the best of each first
    double reach_de00 = 0;                         ///< of the groups
    std::string accent;                            ///< id
    std::string how;                               ///< what was looked at, in words
    flow::SolveReport solve;
};

/// Throws InputError as FaceMaker::make() does, for fewer than two layers that differ, an accent or a portion
/// that is not there, and for strokes between pours; Stopped when asked to.
RankedOrders ranked_orders(FaceMaker& maker, const design::Design& design, const OrdersRequest& request,
                           Progress& progress);

/// The portion that counts as the accent: the smallest share; the more colourful of two equal ones.
std::string accent_of(const design::Design& design, const colour::ColourantLibrary& library);

/// The best of each group with its words, at `px_per_mm`.
Image orders_sheet(FaceMaker& maker, const design::Design& design, const RankedOrders& ranked,
                   const OrdersRequest& request, double px_per_mm, Progress& progress);

}  // namespace foreslice::picture
