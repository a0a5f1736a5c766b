#include "studio/session/board_faces.h"

#include <algorithm>
#include <utility>

#include "design/design_file.h"
#include "foundation/content_key.h"
#include "foundation/error.h"
#include "foundation/worker_pool.h"
#include "picture/bar.h"

namespace foreslice::studio {

struct BoardFaces::Kitchen {
    explicit Kitchen(unsigned threads) : pool(threads) {}
    WorkerPool pool;
    std::unique_ptr<picture::FaceMaker> maker;
    std::shared_ptr<const colour::ColourantLibrary> colour_library;
};

namespace {

VariantFace made(picture::FaceMaker& maker, const BoardFaces::Wanted& wanted, Progress& progress) {
    VariantFace out;
    try {
        picture::FaceRequest request;
        request.bar = std::clamp(wanted.bar, 1, std::max(1, design::bar_count(wanted.design)));
        request.px_per_mm = wanted.px_per_mm;
        const auto face = maker.make(wanted.design, request, progress);
        out.converged = face.solve.converged;
        out.bar = picture::bar_picture(wanted.design, face, request);
        out.margin_px = picture::bar_margin_px(request.px_per_mm);
        out.px_per_mm = request.px_per_mm;
        if (wanted.measured) out.measures = maker.measure(wanted.design, request, progress);
    } catch (const InputError& error) {
        out = {};
        out.problem = error.problem();
    }
    return out;
}

}  // namespace

std::uint64_t BoardFaces::key_of(const design::Design& design, int bar, double px_per_mm,
                                 std::uint64_t library) {
    return ContentKey().add(design::to_json(design)).add(bar).add(px_per_mm).add(library).value();
}

void BoardFaces::want(const std::vector<std::uint64_t>& keys,
                      const std::function<Wanted(std::size_t)>& wanted,
                      std::shared_ptr<const colour::ColourantLibrary> library, unsigned threads,
                      std::function<void()> wake) {
    if (keys == keys_) return;
    std::vector<Wanted> orders;
    {
        const std::lock_guard lock(state_->mutex);
        std::erase_if(state_->faces, [&](const auto& known) {
            return std::find(keys.begin(), keys.end(), known.first) == keys.end() &&
                   std::find(keys_.begin(), keys_.end(), known.first) == keys_.end();
        });
        for (std::size_t i = 0; i < keys.size(); ++i)
            if (!state_->faces.contains(keys[i])) orders.push_back(wanted(i));
    }
    keys_ = keys;
    if (!worker_) {
        worker_ = std::make_unique<Worker>();
        kitchen_ = std::make_shared<Kitchen>(threads);
    }
    worker_->stop_work();
    if (orders.empty()) return;
    worker_->post([state = state_, kitchen = kitchen_, library = std::move(library), wake = std::move(wake),
                   orders = std::move(orders)](Progress& progress) {
        if (!kitchen->maker)
            kitchen->maker = std::make_unique<picture::FaceMaker>(kitchen->pool, library);
        else if (kitchen->colour_library != library)
            kitchen->maker->use_library(library);
        kitchen->colour_library = library;
        for (const Wanted& order : orders) {
            auto face = std::make_shared<VariantFace>();
            try {
                *face = made(*kitchen->maker, order, progress);
            } catch (const Stopped&) {
                throw;
            } catch (const std::exception& error) {
                face->problem = error.what();
            }
            {
                const std::lock_guard lock(state->mutex);
                state->faces[order.key] = std::move(face);
            }
            wake();
        }
    });
}

std::shared_ptr<const VariantFace> BoardFaces::face(std::uint64_t key) const {
    const std::lock_guard lock(state_->mutex);
    const auto found = state_->faces.find(key);
    return found == state_->faces.end() ? nullptr : found->second;
}

std::size_t BoardFaces::missing() const {
    const std::lock_guard lock(state_->mutex);
    return static_cast<std::size_t>(std::count_if(
        keys_.begin(), keys_.end(), [&](std::uint64_t key) { return !state_->faces.contains(key); }));
}

}  // namespace foreslice::studio
