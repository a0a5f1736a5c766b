// The whole family as bars on shelves, all at one scale, with names.
#pragma once

#include <string>
#include <vector>

#include "design/design.h"
#include "foundation/progress.h"
#include "picture/face.h"
#include "picture/image.h"
#include "picture/likeness.h"

namespace foreslice::picture {

inline constexpr double least_lineup_px_per_mm = 1, most_lineup_px_per_mm = 12;

struct LineupBar {
    Image bar;                 ///< as bar_picture() makes it, at twice the line-up's scale
    double thickness_mm = 25;  ///< of the bar, seen from the side
    std::string name, note;
};

/// Bars standing on shelves before a wall. `px_per_mm` is the scale of the finished picture.
Image lineup_picture(const std::string& heading, const std::string& note, const std::vector<LineupBar>& bars,
                     double px_per_mm);

/// A soap of the family, drawn.
struct FamilyFace {
    LineupBar bar;
    FaceSignature signature{};
    flow::SolveReport solve;
};
/// The middle bar of each design. Throws as FaceMaker::make() does.
FamilyFace family_face(FaceMaker& maker, const design::Design& design, double px_per_mm,
                       const flow::Resolution& resolution, Progress& progress);
/// The bar in the middle of the loaf, 1-based.
int middle_bar_of(const design::Design& design);

/// Two soaps whose faces are hard to tell apart across a table.
struct AlikePair {
    std::size_t a = 0, b = 0;
    double unlike_de00 = 0;
};
/// Pairs that differ by less than `within_de00`, the closest first.
std::vector<AlikePair> alike_pairs(const std::vector<FaceSignature>& faces, double within_de00);

}  // namespace foreslice::picture
