// The flow room: creeping flow of a yield-stress batter round a moving wire in the loaf's cross-section, and
// the map that says for every point of a cut face where that bit of batter lay before the wire moved.
// Knows nothing of colours, portions or designs. Lengths mm, times s, stresses Pa; x from the left wall,
// y up from the floor.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

#include "batter/rheology.h"
#include "foundation/progress.h"
#include "foundation/unset_vector.h"
#include "foundation/vec2.h"
#include "foundation/worker_pool.h"

namespace foreslice::flow {

/// The cross-section: no-slip side walls and floor, free-slip flat top at the rest level.
struct Box {
    double width_mm = 65;
    double height_mm = 80;  ///< rest level of the batter, not the mould's edge

    friend bool operator==(const Box&, const Box&) = default;
};

/// What is drawn through the batter: one round wire, a comb of equal wires in a level row that move together,
/// or a flat strip with rounded edges. Held so that it does not turn.
struct Tool {
    enum class Kind { wire, comb, strip } kind = Kind::wire;
    int wires = 3;            ///< of a comb, 1 to 40
    double spacing_mm = 15;   ///< of a comb, middle to middle, at least 1.5 diameters
    double width_mm = 20;     ///< of a strip, at least its thickness
    double thickness_mm = 1;  ///< of a strip, >= 0.5; thinner than a grid cell acts like a cell
    double angle_deg = 0;     ///< of a strip from the horizontal, anticlockwise, -90 to 90

    friend bool operator==(const Tool&, const Tool&) = default;
};

/// One continuous movement of a tool.
struct Stroke {
    double wire_diameter_mm = 6;
    double speed_mm_per_s = 50;
    std::vector<Vec2> path_mm;  ///< of the tool's middle; parts above the rest level are in air
    Tool tool = {};             ///< a strip does not use the wire's diameter

    friend bool operator==(const Stroke&, const Stroke&) = default;
};

struct Resolution {
    int cells_across = 96;            ///< grid cells over the width; cells are nearly square
    double position_spacing_mm = 2;   ///< how far apart along the path the flow is solved afresh
    double map_tolerance_mm = 0.025;  ///< allowed interpolation error of the tabulated map

    friend bool operator==(const Resolution&, const Resolution&) = default;
};

/// Batters that are not equally thick, as they lie before the first stroke.
struct Materials {
    std::vector<batter::Rheology> rheologies;  ///< 1 to 255
    std::function<int(Vec2)> at;  ///< which of them lies at a point (mm) of the box; many threads may ask
    std::uint64_t key = 0;        ///< differs whenever `at` gives anything else
};

/// What a solve for a yield-stress batter achieved, the worst over all positions.
struct SolveReport {
    int positions = 0;          ///< positions of the wire that were solved afresh
    int most_iterations = 0;    ///< 1 for a Newtonian batter
    double worst_residual = 0;  ///< last relative change of the velocity field between iterations
    bool converged = true;      ///< every position met its tolerance
};

/// The flow at one instant, for probes and tests.
class Instant {
  public:
    virtual ~Instant() = default;
    virtual Vec2 wire_centre_mm() const = 0;  ///< middle of the tool
    virtual Vec2 wire_velocity_mm_per_s() const = 0;
    virtual bool wire_in_batter() const = 0;
    /// Velocity of the batter (mm/s) at a point in the box.
    virtual Vec2 velocity_mm_per_s(Vec2 point_mm) const = 0;
    /// Stream function (mm^2/s); u = d psi/dy, v = -d psi/dx; zero on the walls and floor.
    virtual double stream_function_mm2_per_s(Vec2 point_mm) const = 0;
    /// Force that the hand must apply to the tool, N per metre of its length along the loaf.
    virtual Vec2 force_on_wire_n_per_m() const = 0;
};

/// Origins of the batter seen in each pixel of a raster, several samples where the map stretches so much that
/// one does not do: k*k samples lie row by row on a square lattice inside the pixel. Row 0 is the top row.
struct OriginRaster {
    int width_px = 0;
    int height_px = 0;
    double px_per_mm = 0;
    UnsetVector<std::uint32_t> first;  ///< width*height + 1 offsets into the samples below
    UnsetVector<float> x_mm, y_mm;     ///< origins; samples of one pixel have equal weight
    std::vector<float> log_stretch;  ///< a pixel: natural log of the greatest stretch of the map there (>= 0)
};

/// The flow of a sequence of strokes and its backward map. Immutable once made; safe to use from many
/// threads.
class FlowMap {
  public:
    virtual ~FlowMap() = default;
    /// Where the batter now at `point_mm` lay before the first stroke. Points outside the box are clamped to
    /// it.
    virtual Vec2 origin_mm(Vec2 point_mm) const = 0;
    /// The same for many points at once, in place: much quicker when neighbours follow one another.
    virtual void to_origins_mm(Vec2* points_mm, std::size_t count) const {
        for (std::size_t k = 0; k < count; ++k) points_mm[k] = origin_mm(points_mm[k]);
    }
    /// Total length of the strokes, mm.
    virtual double path_length_mm() const = 0;
    /// The flow when the wire has done the share `fraction` (0..1) of the whole path length.
    virtual std::unique_ptr<Instant> at_fraction(double fraction) const = 0;
    virtual const SolveReport& report() const = 0;
};

/// Solves and tabulates stroke by stroke and keeps the pieces, so that an edit of one stroke, or of one pass
/// of it, computes only what changed. One engine serves many designs; its methods may be called from one
/// thread at a time (each call uses the whole pool inside).
class FlowEngine {
  public:
    explicit FlowEngine(WorkerPool& pool);
    ~FlowEngine();
    FlowEngine(const FlowEngine&) = delete;
    FlowEngine& operator=(const FlowEngine&) = delete;

    /// Throws InputError for impossible input (sizes <= 0 or not finite, wire wider than the box, fewer than
    /// two points, a wire that would cut into a wall or the floor, more work than `max_path_mm`), Stopped
    /// when asked to.
    std::shared_ptr<const FlowMap> map(const Box& box, const batter::Rheology& rheology,
                                       const std::vector<Stroke>& strokes, const Resolution& resolution,
                                       Progress& progress);

    /// The same for batters that differ: which lies where is carried along the flow, and the flow follows it.
    /// Runs are solved one after another. What each does depends on all before it and on where the batters
    /// lay.
    std::shared_ptr<const FlowMap> map(const Box& box, const Materials& materials,
                                       const std::vector<Stroke>& strokes, const Resolution& resolution,
                                       Progress& progress);

    /// Origins for every pixel of the box at the given scale, top row first.
    OriginRaster origins(const FlowMap& map, const Box& box, double px_per_mm, Progress& progress);

  private:
    struct Store;
    WorkerPool& worker_pool() const;
    std::unique_ptr<Store> store_;
};

/// Longest total path accepted, mm (some 250 passes of a deep mould): bounds time and memory.
inline constexpr double max_path_mm = 20000;

}  // namespace foreslice::flow
