#include "studio/session/face_drawer.h"

#include <algorithm>
#include <utility>

#include "design/hand.h"
#include "foundation/content_key.h"
#include "foundation/worker_pool.h"
#include "picture/bar.h"
#include "picture/image.h"
#include "picture/keys.h"

namespace foreslice::studio {
namespace {

// A sketch is there to answer the hand: about a sixth of the fine flow's work, with origins that differ from
// it by 0.4 mm in the median (measured on the demo designs), which its coarse pixels hardly show.
constexpr flow::Resolution sketch_resolution{24, 20, 0.5};
constexpr double sketch_px_per_mm = 3;

class PictureDrawer final : public FaceDrawer {
  public:
    PictureDrawer(std::shared_ptr<const colour::ColourantLibrary> library, bool sketch, unsigned threads)
        : sketch_(sketch), pool_(threads), maker_(pool_, std::move(library)) {}

    void prepare(const FaceOrder& order, Progress& progress) override {
        take_library(order);
        maker_.flow_map(order.design, request_for(order, picture::Stage::drawn), progress);
    }

    DrawnFace draw(const FaceOrder& order, Progress& progress) override {
        take_library(order);
        DrawnFace out;
        out.sketch = sketch_;
        out.order = order;
        const auto poured = request_for(order, picture::Stage::poured);
        const auto drawn = request_for(order, picture::Stage::drawn);
        out.poured = maker_.make(order.design, poured, progress);
        out.drawn = maker_.make(order.design, drawn, progress);
        look(out.poured, order.seeing);
        look(out.drawn, order.seeing);
        progress.check();
        pool_.parallel_for(2, [&](std::size_t i) {
            if (i == 0)
                out.poured_bar = picture::bar_picture(order.design, out.poured, poured);
            else
                out.drawn_bar = picture::bar_picture(order.design, out.drawn, drawn);
        });
        out.margin_px = picture::bar_margin_px(drawn.px_per_mm);
        out.poured_whence = maker_.whence(order.design, poured, progress);
        out.drawn_whence = maker_.whence(order.design, drawn, progress);
        return out;
    }

    picture::FaceMeasures measure(const FaceOrder& order, Progress& progress) override {
        take_library(order);
        return maker_.measure(order.design, request_for(order, picture::Stage::drawn), progress);
    }

    void write_presented(const FaceOrder& order, const std::string& path, Progress& progress) override {
        take_library(order);
        const auto request = request_for(order, picture::Stage::drawn);
        const auto face = maker_.make(order.design, request, progress);
        progress.begin_stage("writing the picture", 1);
        picture::write_png(picture::presented(order.design, face, request), path);
        progress.advance();
    }

  private:
    void take_library(const FaceOrder& order) {
        if (order.colour_library) maker_.use_library(order.colour_library);
    }

    void look(picture::Face& face, const Seeing& seeing) {
        if (seeing == Seeing{}) return;
        for (colour::PortionColour& colour : face.colours) {
            colour.linear = seen_so(colour, seeing);
            colour.srgb = colour::encoded(colour.linear);
        }
        face.image = picture::painted(*face.coverage, face.colours, pool_);
    }

    picture::FaceRequest request_for(const FaceOrder& order, picture::Stage stage) const {
        picture::FaceRequest request;
        request.bar = order.bar;
        request.z_mm = order.z_mm;
        request.stage = stage;
        request.px_per_mm = sketch_ ? std::min(order.px_per_mm, sketch_px_per_mm) : order.px_per_mm;
        if (sketch_) request.resolution = sketch_resolution;
        return request;
    }

    bool sketch_;
    WorkerPool pool_;
    picture::FaceMaker maker_;
};

}  // namespace

std::uint64_t flow_key(const design::Design& design) {
    ContentKey key;
    for (const auto& group : design::stroke_groups(design)) {
        key.add(picture::flow_key(design, group, flow::Resolution{}));
        // Portions of different thickness: then the flow depends on what lies where.
        if (design::portions_differ(design))
            key.add(picture::coupled_key(design, group, 0, flow::Resolution{}));
    }
    return key.value();
}

double z_mm_of(const FaceOrder& order) {
    return order.z_mm.value_or(design::bar_face_z_mm(order.design, order.bar));
}

std::uint64_t flow_key(const FaceOrder& order) {
    return ContentKey()
        .add(flow_key(order.design))
        .add(design::wire_lag_mm(order.design, z_mm_of(order)))
        .value();
}

std::unique_ptr<FaceDrawer> make_face_drawer(std::shared_ptr<const colour::ColourantLibrary> library,
                                             bool sketch, unsigned threads) {
    return std::make_unique<PictureDrawer>(std::move(library), sketch, threads);
}

}  // namespace foreslice::studio
