#include "studio/session/making.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "foundation/error.h"
#include "foundation/worker_pool.h"
#include "picture/face.h"
#include "picture/so_far.h"

namespace foreslice::studio {
namespace {

constexpr flow::Resolution coarse{24, 12, 0.5};
constexpr double px_per_mm = 4;

// As high as the section is then: what is spooned on later is not in it yet.
double height_mm(const picture::Image& image) {
    return image.height_px / px_per_mm;
}

}  // namespace

struct Making::Shared {
    Shared(unsigned threads, std::shared_ptr<const colour::ColourantLibrary> library)
        : pool(threads), maker(pool, std::move(library)) {}
    WorkerPool pool;
    picture::FaceMaker maker;
    mutable std::mutex mutex;
    std::optional<std::uint64_t> key;
    Frames poured, drawn, cured;
    bool complete = false;
};

Making::Making(std::shared_ptr<const colour::ColourantLibrary> library, unsigned threads,
               std::function<void()> wake)
    : library_(std::move(library)),
      threads_(threads),
      wake_(std::move(wake)),
      shared_(std::make_unique<Shared>(threads_, library_)) {}

Making::~Making() = default;

void Making::want(std::uint64_t key, const design::Design& design, double z_mm) {
    {
        const std::lock_guard lock(shared_->mutex);
        if (shared_->key == key) return;
        shared_->key = key;
        shared_->poured.clear();
        shared_->drawn.clear();
        shared_->cured.clear();
        shared_->complete = false;
    }
    worker_.stop_work();
    worker_.post([this, key, design, z_mm](Progress& progress) {
        try {
            make(key, design, z_mm, progress);
        } catch (const InputError&) {
            // A step of it that cannot be drawn by itself is left out of the animation.
        }
        wake_();
    });
}

void Making::make(std::uint64_t key, const design::Design& design, double z_mm, Progress& progress) {
    const auto publish = [&](Frames Shared::*list, MakingFrame frame) {
        {
            const std::lock_guard lock(shared_->mutex);
            if (shared_->key != key) throw Stopped();
            (shared_.get()->*list).push_back(std::make_shared<const MakingFrame>(std::move(frame)));
        }
        wake_();
    };
    picture::FaceRequest request;
    request.z_mm = z_mm;
    request.px_per_mm = px_per_mm;
    request.resolution = coarse;
    for (std::size_t first = 0; first < design.pours.size();) {
        const std::size_t end = design::end_of_group(design, first);
        const bool last = end == design.pours.size();
        const auto so_far = picture::design_so_far(design, end);
        request.stage = last ? picture::Stage::poured : picture::Stage::drawn;
        auto image = shared_->maker.make(so_far, request, progress).image;
        const double level_mm = height_mm(image);
        publish(&Shared::poured, {std::move(image), level_mm, end, 0, 0, {}});
        first = end;
    }
    request.stage = picture::Stage::drawn;
    const auto strokes = design::flow_strokes_of(design);
    for (int k = 1; !strokes.empty() && k <= wire_frames; ++k) {
        request.path_share = static_cast<double>(k) / wire_frames;
        publish(&Shared::drawn,
                {shared_->maker.make(design, request, progress).image, design.mould.fill_mm,
                 design.pours.size(), request.path_share, 0, tool_place_mm(strokes, request.path_share)});
    }
    request.path_share = 1;
    design::Design aged = design;
    for (int k = 0; k < cure_frames; ++k) {
        const double share = static_cast<double>(k) / (cure_frames - 1);
        aged.age_days = design.age_days * share * share;  // most happens in the first days
        publish(&Shared::cured, {shared_->maker.make(aged, request, progress).image,
                                 design.mould.fill_mm,
                                 design.pours.size(),
                                 1,
                                 aged.age_days,
                                 {}});
    }
    const std::lock_guard lock(shared_->mutex);
    shared_->complete = shared_->key == key;
}

Making::Frames Making::poured() const {
    const std::lock_guard lock(shared_->mutex);
    return shared_->poured;
}
Making::Frames Making::drawn() const {
    const std::lock_guard lock(shared_->mutex);
    return shared_->drawn;
}
Making::Frames Making::cured() const {
    const std::lock_guard lock(shared_->mutex);
    return shared_->cured;
}
bool Making::complete() const {
    const std::lock_guard lock(shared_->mutex);
    return shared_->complete;
}

void Making::stop() {
    worker_.stop_work();
    const std::lock_guard lock(shared_->mutex);
    if (!shared_->complete) shared_->key.reset();
}

Vec2 tool_place_mm(const std::vector<flow::Stroke>& strokes, double path_share) {
    const auto begun = picture::strokes_so_far(strokes, path_share);
    if (!begun.empty()) return begun.back().path_mm.back();
    return strokes.empty() || strokes.front().path_mm.empty() ? Vec2{} : strokes.front().path_mm.front();
}

}  // namespace foreslice::studio
