// The stages that pours and strokes are made of.
#pragma once

#include <algorithm>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "picture/deposit.h"
#include "picture/section.h"
#include "picture/surface.h"

namespace foreslice::picture {

/// New batter that comes to rest on what is there and moves none of it. A point on the old surface belongs to
/// the new batter.
class OnTop final : public SectionStage {
  public:
    OnTop(Surface below, Deposit deposit) : below_(std::move(below)), deposit_(std::move(deposit)) {}
    std::optional<Bit> back(Vec2& point_mm) const override {
        if (point_mm.y >= below_.at(point_mm.x)) return deposit_.at(point_mm);
        return std::nullopt;
    }

  private:
    Surface below_;
    Deposit deposit_;
};

/// The same, room by room between upright dividers whose places lean a little to and fro with height.
class InRooms final : public SectionStage {
  public:
    /// `right_mm`: right edges of all rooms but the last; `aside_mm[k]`: how far edge k strays, at even
    /// heights up to `top_mm`.
    InRooms(Surface below, std::vector<Bit> bits, std::vector<double> right_mm,
            std::vector<std::vector<double>> aside_mm, double top_mm)
        : below_(std::move(below)),
          bits_(std::move(bits)),
          right_mm_(std::move(right_mm)),
          aside_mm_(std::move(aside_mm)),
          top_mm_(top_mm) {}
    std::optional<Bit> back(Vec2& point_mm) const override;

  private:
    Surface below_;
    std::vector<Bit> bits_;
    std::vector<double> right_mm_;
    std::vector<std::vector<double>> aside_mm_;
    double top_mm_;
};

/// A stage that works in a box: batter under the surface after it is carried to a box of equal area, and out
/// of the box before it back under the surface before. Without a stage inside: the surface alone changes,
/// with the batter moving in whole columns (as a plug). Keeps areas as the stage inside does.
class InBox final : public SectionStage {
  public:
    InBox(Surface before, Surface after, std::shared_ptr<const SectionStage> inside)
        : before_(std::move(before)), after_(std::move(after)), inside_(std::move(inside)) {}
    std::optional<Bit> back(Vec2& point_mm) const override {
        point_mm.y = std::min(point_mm.y, after_.at(point_mm.x));
        point_mm = after_.to_box(point_mm);
        if (inside_)
            if (const auto bit = inside_->back(point_mm)) return bit;
        point_mm = before_.from_box(point_mm);
        return std::nullopt;
    }

  private:
    Surface before_, after_;
    std::shared_ptr<const SectionStage> inside_;
};

/// A group of strokes in a box.
class Drawn final : public SectionStage {
  public:
    explicit Drawn(std::shared_ptr<const flow::FlowMap> map) : map_(std::move(map)) {}
    std::optional<Bit> back(Vec2& point_mm) const override {
        point_mm = map_->origin_mm(point_mm);
        return std::nullopt;
    }

  private:
    std::shared_ptr<const flow::FlowMap> map_;
};

/// Two stages, the first done before the second.
class InTurn final : public SectionStage {
  public:
    InTurn(std::shared_ptr<const SectionStage> first, std::shared_ptr<const SectionStage> second)
        : first_(std::move(first)), second_(std::move(second)) {}
    std::optional<Bit> back(Vec2& point_mm) const override {
        if (const auto bit = second_->back(point_mm)) return bit;
        return first_->back(point_mm);
    }

  private:
    std::shared_ptr<const SectionStage> first_, second_;
};

}  // namespace foreslice::picture
