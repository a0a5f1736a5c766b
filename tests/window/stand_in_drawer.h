// A drawer that draws nothing: tests hold its work, let it go, and see who asked it to stop.
#pragma once

#include <atomic>
#include <chrono>
#include <functional>
#include <thread>

#include "foundation/error.h"
#include "studio/session/face_drawer.h"

namespace foreslice::studio::testing {

struct DrawerLog {
    std::atomic<bool> hold_sketch{false}, hold_flow{false}, hold_fine{false}, hold_writing{false};
    std::atomic<int> sketches{0}, flows{0}, fines{0};  // finished
    std::atomic<int> sketches_begun{0}, flows_begun{0};
    std::atomic<int> stopped{0}, measured{0}, writings_begun{0};
    std::atomic<bool> refuse{false};
};

class StandInDrawer final : public FaceDrawer {
  public:
    StandInDrawer(DrawerLog& log, bool sketch) : log_(log), sketch_(sketch) {}

    void prepare(const FaceOrder&, Progress& progress) override {
        ++log_.flows_begun;
        wait(log_.hold_flow, progress);
        ++log_.flows;
    }
    DrawnFace draw(const FaceOrder& order, Progress& progress) override {
        if (sketch_) ++log_.sketches_begun;
        if (log_.refuse) throw InputError("", "/strokes/0", "the wire cuts into the wall", "");
        wait(sketch_ ? log_.hold_sketch : log_.hold_fine, progress);
        ++(sketch_ ? log_.sketches : log_.fines);
        DrawnFace face;
        face.sketch = sketch_;
        face.order = order;
        return face;
    }
    picture::FaceMeasures measure(const FaceOrder& order, Progress&) override {
        ++log_.measured;
        picture::FaceMeasures measures;
        measures.muddy_percent = order.px_per_mm;
        return measures;
    }
    void write_presented(const FaceOrder&, const std::string&, Progress& progress) override {
        ++log_.writings_begun;
        wait(log_.hold_writing, progress);
    }

  private:
    void wait(const std::atomic<bool>& held, Progress& progress) {
        while (held) {
            if (progress.stop_requested()) ++log_.stopped;
            progress.check();
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
    }
    DrawerLog& log_;
    bool sketch_;
};

/// Looks until it is true; false when it did not become so within four minutes: real faces take more than one
/// under ThreadSanitizer on a busy machine.
inline bool becomes_true(const std::function<bool()>& condition) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::minutes(4);
    while (!condition()) {
        if (std::chrono::steady_clock::now() > end) return false;
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    return true;
}

}  // namespace foreslice::studio::testing
