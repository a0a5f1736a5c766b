// Numbers that say what a cut face is like: how much of each portion shows, how fine the bands are, how much
// of the face has gone muddy, how many feathers, how symmetric, and how strongly neighbours differ. All are
// taken from one lattice of points, finer than the picture's pixels, so that they do not depend on how large
// the picture is drawn.
//
// Below a worked top: bands and feathers are those of the box as drawn, before the top was worked; shares
// include what was spooned on.
//
// Definitions
// - Band thickness at a point: the width of the straight band that has the same horizontal and vertical chord
//   h, v through the point within its portion: h v / sqrt(h^2 + v^2). Exact for straight bands at any angle;
//   for a disc of diameter D it gives D / sqrt 2 in the middle. Chords end at the face's edge. Medians and
//   percentiles are weighted by area.
// - Muddy: bands thinner than `resolved_mm`, what an eye tells apart at arm's length. Visual acuity 1.0 is
// one
//   minute of arc (ISO 8596, from memory); arm's length as 600 mm is common practice, no source.
// - Feather: a connected piece of a portion that begins `feather_start_mm` away from where that portion was
//   poured, reaches at least `feather_reach_mm` away from there and covers at least `feather_area_mm2`. Gaps
//   of up to two cells of the lattice do not part it. Without a wire there are none.
// - Symmetry: the share of the face whose portion also lies at the mirrored place, left for right; 1 for a
//   picture that is its own mirror image, 0 when nothing matches.
// - Boundary: where two portions meet and the bands on both sides can be resolved. Contrast is CIEDE2000.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "colour/colorimetry.h"
#include "flow/flow.h"
#include "foundation/vec2.h"
#include "foundation/worker_pool.h"

namespace foreslice::picture {

inline constexpr int points_a_pixel = 4;       ///< of a face's lattice, on each side
inline constexpr double resolved_mm = 0.1745;  ///< 600 mm * tan(1')
inline constexpr double feather_start_mm = 1.5;
inline constexpr double feather_reach_mm = 4;
inline constexpr double feather_area_mm2 = 1;
/// Boundaries shorter than this (mm, a pair of portions) do not count for the least contrast.
inline constexpr double least_boundary_mm = 5;

/// Which portion lies at every point of a rectangular lattice over a face, the top row first. Blocks of
/// side * side points make a cell; width and height are multiples of the side.
struct PortionLattice {
    int width = 0, height = 0, side = 1, portions = 0;
    Vec2 step_mm;                       ///< between points
    std::vector<std::uint8_t> portion;  ///< [row * width + column]
};

struct FaceMeasures {
    struct OfPortion {
        double poured_percent = 0;  ///< of the batter
        double face_percent = 0;    ///< of this face
        int feathers = 0;
    };
    struct Boundary {
        int one = 0, other = 0;  ///< portions, one < other
        double length_mm = 0;
        double de00 = 0;
    };
    std::vector<OfPortion> portions;
    double median_thickness_mm = 0;    ///< half of the face has thinner bands
    double fine_thickness_mm = 0;      ///< a tenth of the face has thinner bands
    double muddy_percent = 0;          ///< of the face
    int feathers = 0;                  ///< of all portions
    double symmetry = 1;               ///< 0..1
    std::vector<Boundary> boundaries;  ///< the longest first; pairs that nowhere meet are left out
    double mean_contrast_de00 = 0;     ///< weighted by length; 0 without boundaries
    double least_contrast_de00 = 0;    ///< of boundaries of at least least_boundary_mm; 0 without
    double inclusions_percent = 0;     ///< of the face, that seeds, flecks and embeds cover
    double lattice_mm = 0;             ///< distance of the lattice's points: what is finer is not told apart
};

/// Index of the portion at a point of the cross-section before the wire moved.
using PortionAt = std::function<int(Vec2 point_mm)>;

/// The lattice of a face drawn by the flow: the samples of every pixel, spread evenly to four a side.
PortionLattice drawn_lattice(const flow::OriginRaster& origins, const flow::Box& box, int portions,
                             const PortionAt& portion_at, WorkerPool& pool);
/// The lattice of the layers as poured, `side` points to a pixel's side. Its cells are the drawn one's.
PortionLattice poured_lattice(const flow::Box& box, double px_per_mm, int side, int portions,
                              const PortionAt& portion_at, WorkerPool& pool);

/// `poured` is the face before the wire (as many cells; its side may differ), `poured_percent` and `labs`
/// have one entry a portion. The result does not depend on the number of threads.
FaceMeasures measured(const PortionLattice& face, const PortionLattice& poured,
                      const std::vector<double>& poured_percent, const std::vector<colour::Lab>& labs,
                      WorkerPool& pool);

}  // namespace foreslice::picture
