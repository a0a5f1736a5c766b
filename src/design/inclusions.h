// What lies in the soap and is no batter: seeds and flecks by the spoon, embeds by the piece. All are rigid:
// they are carried and turned, never bent. They take the place of the batter that is drawn under them. A
// colour is "#rrggbb" or a portion's id, whose colour they then have (a portion of 0 % will do). Ranges:
// limits.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "foundation/vec2.h"

namespace foreslice::design {

enum class BitShape {
    seed,  ///< an ellipse
    fleck  ///< a shred with corners
};

/// Seeds or flecks stirred into a portion, or strewn over the top. Where each lies is seeded.
struct Scattered {
    std::string name = "seeds";  ///< shown to people
    std::string portion;         ///< a Portion's id; not used by what is strewn over the top
    std::optional<int>
        pour{};           ///< only in this pour (1 is the lowest), 1 to all; empty: wherever its portion is
    bool on_top = false;  ///< strewn over the top instead
    BitShape shape = BitShape::seed;
    double per_cm2 = 3;               ///< on a cut face of that portion, or on the top, 0.01..400
    std::optional<double> percent{};  ///< of that area, 0.01..30; counts instead of the number
    double least_mm = 0.8;            ///< length of the smallest, 0.1..20
    double most_mm = 1.4;             ///< and of the largest
    double roundness = 0.7;           ///< width over length, 0.05..1
    std::string colour = "#24211f";
    friend bool operator==(const Scattered&, const Scattered&) = default;
};

enum class EmbedShape { disc, bar, curve };
enum class EmbedLaid {
    before_drawing,  ///< when all is poured: the wire carries and turns it
    after_drawing    ///< pushed in at the end: stays where it is laid
};

/// A piece as long as the loaf, seen end-on.
struct Embed {
    std::string name = "embed";  ///< shown to people
    EmbedShape shape = EmbedShape::disc;
    EmbedLaid laid = EmbedLaid::before_drawing;
    Vec2 at_mm{};          ///< of its middle, from the left wall and the floor, 0..1000; moved in at walls
    double width_mm = 14;  ///< diameter of a disc, width of a bar, 0.5..300
    double height_mm = 5;  ///< height of a bar, thickness of a curve, 0.3..300
    double angle_deg = 0;  ///< anticlockwise, -180..180
    std::vector<Vec2> points_mm{};  ///< middle line of a curve, 2..60 points, from `at_mm`, -500..500
    std::string colour = "#f4efe4";
    friend bool operator==(const Embed&, const Embed&) = default;
};

/// Distance (mm, negative inside) from an embed's outline to a point given from its middle and turned back by
/// its angle. Exact for discs and curves; for bars, whose corners are sharp, too.
double outside_mm(const Embed& embed, Vec2 from_middle_mm);
/// A curve's middle line, rounded (a Catmull-Rom spline through its points) and shifted so that its bounding
/// box is centred on the embed's middle.
std::vector<Vec2> middle_line_mm(const Embed& embed);
/// Distance (mm) from a point to a line of at least one point.
double distance_to_line_mm(const std::vector<Vec2>& line_mm, Vec2 point_mm);
/// Half the size (mm) of the upright box round an embed turned by `angle_deg`.
Vec2 half_size_mm(const Embed& embed, double angle_deg);

struct Inclusions {
    std::vector<Scattered> scattered;  ///< later ones lie over earlier ones
    std::vector<Embed> embeds;         ///< over what is scattered; later ones over earlier ones
    bool none() const { return scattered.empty() && embeds.empty(); }
    friend bool operator==(const Inclusions&, const Inclusions&) = default;
};

}  // namespace foreslice::design
