#include "picture/gallery.h"

#include <algorithm>

#include "picture/orders.h"
#include "picture/section.h"

namespace foreslice::picture {
namespace {

bool has_other_orders(const design::Design& design) {
    if (!design::orders_share_a_flow(design)) return false;
    return design::Layers(design).orders() >= 2;
}

std::vector<GalleryOrder> other_orders(FaceMaker& maker, const design::Design& design,
                                       const GalleryRequest& request, int bar, Progress& progress) {
    std::vector<GalleryOrder> out;
    if (request.orders == 0 || !has_other_orders(design)) return out;
    OrdersRequest wanted;
    wanted.bar = bar;
    wanted.width_px = 128;
    wanted.resolution = request.resolution;
    wanted.most_groups = request.orders + 1;  // one of them is likely to be the design itself
    wanted.most_orders = needs_section(design) ? 24 : 240;
    const auto ranked = ranked_orders(maker, design, wanted, progress);
    const design::Layers layers(design);
    for (const auto& group : ranked.groups) {
        const auto& best = ranked.orders[group.front()];
        if (out.size() == request.orders ||
            layers.kinds_of(best.order) == layers.kinds_of(layers.as_designed()))
            continue;
        FaceRequest face{.bar = bar, .px_per_mm = request.px_per_mm / 2, .resolution = request.resolution};
        out.push_back(
            {maker.make(layers.in_order(best.order), face, progress).image, best.words, best.stack});
    }
    return out;
}

}  // namespace

GallerySoap gallery_soap(FaceMaker& maker, const design::Design& design, int loaves,
                         const GalleryRequest& request, Progress& progress) {
    GallerySoap soap;
    soap.design = design;
    soap.loaves = loaves;
    soap.bar = middle_bar_of(design);
    FaceRequest face{.bar = soap.bar, .px_per_mm = request.px_per_mm, .resolution = request.resolution};
    const Face drawn = maker.make(design, face, progress);
    face.stage = Stage::poured;
    soap.poured = maker.make(design, face, progress).image;
    soap.drawn = drawn.image;
    soap.colours.assign(drawn.colours.begin(),
                        drawn.colours.begin() + static_cast<std::ptrdiff_t>(design.portions.size()));
    soap.doses = drawn.doses;
    soap.solve = drawn.solve;
    soap.signature = signature_of(*drawn.coverage, drawn.colours);
    soap.orders = other_orders(maker, design, request, soap.bar, progress);
    soap.warnings = design::warnings(design, maker.colour_library());
    return soap;
}

}  // namespace foreslice::picture
