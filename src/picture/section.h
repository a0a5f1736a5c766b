// What lies where in one cross-section of the loaf: the pours and the strokes that made it, walked backwards.
// Anything that is put into a loaf or moves it is a stage; new kinds of stages need nothing else here.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "design/design.h"
#include "flow/flow.h"
#include "foundation/progress.h"
#include "foundation/vec2.h"

namespace foreslice::picture {

/// What a face can show, beginning with the portions in the document's order.
struct Material {
    enum class Kind { portion, line };
    Kind kind = Kind::portion;
    std::size_t index = 0;  ///< of the portion; of the first pour that the line's colourant is sifted over
    std::string name;       ///< of the portion, for people; of a line: its colourant's id
    friend bool operator==(const Material&, const Material&) = default;
};
std::vector<Material> materials_of(const design::Design& design);
/// Index of a portion among them, of a design that validate() accepts.
int portion_material(const design::Design& design, const std::string& portion);
/// Index of the lines of a colourant among them.
int line_material(const design::Design& design, const std::string& colourant);

/// The soap at a point.
struct Bit {
    int material = 0;  ///< index into materials_of()
    int deposit = 0;   ///< differs between what went in at different times, though the material be the same
    friend bool operator==(const Bit&, const Bit&) = default;
};

/// One step of the work. Immutable; safe to use from many threads.
class SectionStage {
  public:
    virtual ~SectionStage() = default;
    /// Either the bit that this stage put at a point of the section as it lay after the stage; or nothing,
    /// and the point becomes the place where the batter there lay before the stage. Where a stage moves
    /// batter it must keep areas, and must carry walls, floor and top onto themselves.
    virtual std::optional<Bit> back(Vec2& point_mm) const = 0;
};

/// A section through a finished loaf, or through one at some time before.
class Section {
  public:
    /// `stages` in the order of the work; the first puts something everywhere.
    Section(double width_mm, double height_mm, std::vector<std::shared_ptr<const SectionStage>> stages)
        : width_mm_(width_mm), height_mm_(height_mm), stages_(std::move(stages)) {}

    double width_mm() const { return width_mm_; }
    double height_mm() const { return height_mm_; }
    /// Points outside are clamped.
    Bit at(Vec2 point_mm) const { return origin(point_mm).bit; }

    struct Origin {
        Bit bit;
        Vec2 point_mm;  ///< where it lay when the stage that put it there was done
    };
    Origin origin(Vec2 point_mm) const;

  private:
    double width_mm_, height_mm_;
    std::vector<std::shared_ptr<const SectionStage>> stages_;
};

/// Whether a design needs a Section for its pours: anything but level layers laid one on the other and drawn
/// through when all are in (those are a LayerStack, which is exact in height and quicker).
bool needs_section(const design::Design& design);

/// The flow maps of the groups of strokes that are drawn before the last pour, in the order of
/// design::stroke_groups().
using EarlyMaps = std::vector<std::shared_ptr<const flow::FlowMap>>;

/// The section at `z_mm` when everything is poured and the last group of strokes is still to come. The design
/// must be one that design::validate() accepts. A pour takes up to a tenth of a second; throws Stopped
/// between pours when asked to.
Section poured_section(const design::Design& design, double z_mm, const EarlyMaps& maps, Progress& progress);
/// The same as soon as `pours` of them are in (at least one, and no part of a group that goes in together),
/// before what is drawn then.
Section section_after(const design::Design& design, std::size_t pours, double z_mm, const EarlyMaps& maps,
                      Progress& progress);
Section poured_section(const design::Design& design, double z_mm, const EarlyMaps& maps);

}  // namespace foreslice::picture
