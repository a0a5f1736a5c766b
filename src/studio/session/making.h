// The making of a loaf as a row of coarse pictures: pour by pour, the wire on its way, the cure; drawn behind
// everything else, the first ones first, so that an animation can begin before the last is there.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <mutex>
#include <vector>

#include "colour/pigment.h"
#include "design/design.h"
#include "picture/image.h"
#include "studio/session/worker.h"

namespace foreslice::studio {

struct MakingFrame {
    picture::Image image;  ///< the bare section, as high as the mould is full then
    double fill_mm = 0;
    std::size_t pours = 0;  ///< that are in
    double path_share = 0;  ///< of the last strokes
    double age_days = 0;
    Vec2 wire_mm;  ///< where the tool is then
};

class Making {
  public:
    using Frames = std::vector<std::shared_ptr<const MakingFrame>>;
    static constexpr int wire_frames = 28, cure_frames = 5;

    Making(std::shared_ptr<const colour::ColourantLibrary> library, unsigned threads,
           std::function<void()> wake);
    ~Making();

    /// Cheap when `key` is that of the last call; another key begins anew. The design must be one that can be
    /// made.
    void want(std::uint64_t key, const design::Design& design, double z_mm);
    /// Those that are there, in order: one a pour or group of pours that go in together.
    Frames poured() const;
    Frames drawn() const;  ///< path_share rises from 1 / wire_frames to 1
    Frames cured() const;  ///< from wet to the design's age
    bool complete() const;
    void stop();

  private:
    struct Shared;
    void make(std::uint64_t key, const design::Design& design, double z_mm, Progress& progress);

    std::shared_ptr<const colour::ColourantLibrary> library_;
    unsigned threads_;
    std::function<void()> wake_;
    std::unique_ptr<Shared> shared_;
    Worker worker_;  // last: its thread ends before what it uses
};

/// Where the tool is after a share of the whole way of some strokes; the first point before them.
Vec2 tool_place_mm(const std::vector<flow::Stroke>& strokes, double path_share);

}  // namespace foreslice::studio
