// The finished top of one section of a loaf: heaps that were spooned on, the surface as tools left it, and
// where the batter below lay before. A top that is plain but for what is strewn over it is flat.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "design/design.h"
#include "foundation/vec2.h"
#include "picture/top_step.h"

namespace foreslice::picture {

class FinishedTop {
  public:
    /// At `z_mm` along the loaf. Slopes and ridges that the batter cannot hold have sunk (settling.h); heaps
    /// heavier than it can carry, more than 2 + pi times its yield stress (Prandtl 1921, from memory), have
    /// sunk in. The design must be one that design::validate() accepts.
    FinishedTop(const design::Design& design, double z_mm);

    double width_mm() const { return surface_.width_mm(); }
    double rest_mm() const { return rest_mm_; }  ///< level of what was poured
    double surface_mm(double x_mm) const { return surface_.at(x_mm); }
    const Profile& surface() const { return surface_; }
    /// Nothing lies elsewhere than before below this height.
    double felt_from_mm() const { return felt_from_mm_; }
    /// No heap reaches below this height; that of the highest place of the surface when there is none.
    double heaps_from_mm() const { return heaps_from_mm_; }
    /// Index into Top::spooned of the heap at a point of the section; none below all of them.
    std::optional<std::size_t> heap_at(Vec2 point_mm) const;
    /// Where the batter at a point lay when all was poured and drawn: in the box. Points in a heap, and above
    /// the surface, get what lies below.
    Vec2 back(Vec2 point_mm) const;
    /// The inverse for points of the box.
    Vec2 forth(Vec2 point_mm) const;

  private:
    struct Heap {
        std::size_t spooned;
        TopStep dent;  ///< what its weight does below it; its lower border is dent.after()
    };
    void spoon(const design::Design& design, std::size_t index, double area_mm2, double z_mm);
    void work(const design::Design& design, std::size_t index, double z_mm);
    void feel(const TopStep& step);

    void find_lowest_of_heaps();

    double rest_mm_, yield_length_mm_, felt_from_mm_, heaps_from_mm_;
    Profile surface_;
    std::vector<Heap> heaps_;
    std::vector<TopStep> strokes_;
};

}  // namespace foreslice::picture
