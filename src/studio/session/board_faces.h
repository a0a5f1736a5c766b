// The faces and measures of many variants, drawn one after the other on a thread of their own and kept until
// nobody wants them any more.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "colour/pigment.h"
#include "picture/face.h"
#include "picture/image.h"
#include "picture/measures.h"
#include "studio/session/worker.h"

namespace foreslice::studio {

/// Immutable once it is there.
struct VariantFace {
    picture::Image bar;  ///< as picture::bar_picture() makes it
    int margin_px = 0;
    double px_per_mm = 1;
    picture::FaceMeasures measures;
    bool converged = true;
    std::string problem;  ///< why it cannot be made; then there is nothing else
};

class BoardFaces {
  public:
    struct Wanted {
        std::uint64_t key = 0;  ///< of design, bar and scale; see key_of()
        design::Design design;
        int bar = 1;
        double px_per_mm = 4;
        bool measured = true;
    };
    static std::uint64_t key_of(const design::Design& design, int bar, double px_per_mm,
                                std::uint64_t library);

    /// What is to be seen now, the most urgent first. Cheap while it stays the same; what is neither wanted
    /// nor was in the last list is forgotten. `wake` is called from the thread after each face. `wanted`
    /// fills the designs only for keys that are not known yet.
    void want(const std::vector<std::uint64_t>& keys, const std::function<Wanted(std::size_t)>& wanted,
              std::shared_ptr<const colour::ColourantLibrary> library, unsigned threads,
              std::function<void()> wake);
    /// Null while it is not drawn yet.
    std::shared_ptr<const VariantFace> face(std::uint64_t key) const;
    /// How many of the last list are still to come.
    std::size_t missing() const;
    Worker::Doing doing() const { return worker_ ? worker_->doing() : Worker::Doing{}; }

  private:
    struct Kitchen;  ///< pool and maker: belongs to the thread
    struct State {
        mutable std::mutex mutex;
        std::map<std::uint64_t, std::shared_ptr<const VariantFace>> faces;
    };

    std::vector<std::uint64_t> keys_;
    std::shared_ptr<State> state_ = std::make_shared<State>();
    std::shared_ptr<Kitchen> kitchen_;
    std::unique_ptr<Worker> worker_;  // last: its thread ends before the rest goes
};

}  // namespace foreslice::studio
