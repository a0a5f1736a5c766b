// The stages that pours and strokes are made of.
#pragma once

#include <algorithm>
#include <memory>
#include <optional>
#include <utility>

#include "picture/section.h"
#include "picture/surface.h"

namespace foreslice::picture {

/// New batter that comes to rest on what is there and moves none of it. A point on the old surface belongs to
/// the new batter.
class OnTop final : public SectionStage {
  public:
    OnTop(Surface below, Bit bit) : below_(std::move(below)), bit_(bit) {}
    std::optional<Bit> back(Vec2& point_mm) const override {
        if (point_mm.y >= below_.at(point_mm.x)) return bit_;
        return std::nullopt;
    }

  private:
    Surface below_;
    Bit bit_;
};

/// A group of strokes. The flow is that in a box as full as the mould, so the batter under an uneven surface
/// is carried to the box and back; the surface keeps its shape.
class Drawn final : public SectionStage {
  public:
    Drawn(Surface surface, std::shared_ptr<const flow::FlowMap> map)
        : surface_(std::move(surface)), map_(std::move(map)) {}
    std::optional<Bit> back(Vec2& point_mm) const override {
        point_mm.y = std::min(point_mm.y, surface_.at(point_mm.x));
        point_mm = surface_.from_box(map_->origin_mm(surface_.to_box(point_mm)));
        return std::nullopt;
    }

  private:
    Surface surface_;
    std::shared_ptr<const flow::FlowMap> map_;
};

}  // namespace foreslice::picture
