// The document: everything a maker decides about one soap. Plain values, no caches, no pointers between
// parts; copying one is the undo system, hashing its parts is the cache key. Ranges: limits.h.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "batter/recipe.h"
#include "batter/rheology.h"
#include "batter/units.h"
#include "colour/ageing.h"
#include "colour/dose_units.h"
#include "design/inclusions.h"
#include "design/top.h"
#include "flow/flow.h"
#include "foundation/vec2.h"

namespace foreslice::design {

struct Mould {
    double width_mm = 65;    ///< inside, 20..500
    double height_mm = 90;   ///< inside, 10..500
    double length_mm = 280;  ///< inside, 30..3000
    double fill_mm = 80;     ///< level of all the batter at rest, 5..500 and <= height
    friend bool operator==(const Mould&, const Mould&) = default;
};

/// Either a trade word or explicit figures; `rheology()` is what counts.
struct Batter {
    std::optional<batter::Trace> trace = batter::Trace::light;  ///< empty: `explicit_rheology` counts
    batter::Rheology explicit_rheology;                         ///< not saved while there is a trace
    double density_kg_per_m3 = 1016;  ///< 500..1500; 1016 is fresh batter at 33 % lye concentration
    friend bool operator==(const Batter&, const Batter&) = default;
    batter::Rheology rheology() const { return trace ? batter::rheology_of(*trace) : explicit_rheology; }
};

/// An amount in another unit than grams per kg of oils.
struct StatedDose {
    colour::DoseUnit unit = colour::DoseUnit::g_per_kg_batter;
    double amount = 0;  ///< >= 0, comes to at most 200 g per kg of oils
    friend bool operator==(const StatedDose&, const StatedDose&) = default;
};

struct ColourantDose {
    std::string colourant;               ///< id in the colourant library
    double g_per_kg_oils = 0;            ///< 0..200, per kg of the oils in this portion; 0 when `stated`
    std::optional<StatedDose> stated{};  ///< counts instead; g_per_kg_oils_of() in tint.h gives the grams
    std::optional<colour::Dispersion> dispersion{};  ///< empty: not said
    friend bool operator==(const ColourantDose&, const ColourantDose&) = default;
};

struct Portion {
    std::string id;            ///< unique in the design: letters, digits, - and _
    std::string name;          ///< shown to people, UTF-8
    double share_percent = 0;  ///< of the batter; all portions add up to 100
    std::vector<ColourantDose> doses;
    ColourantDose white{"titanium-dioxide", 0};
    /// How thick it is when it is poured: much white, a late pour or a fragrance that hurries trace make a
    /// portion thicker than the batter it was split from. Portions that differ make the flow depend on which
    /// lies where, and every face is then computed on its own.
    std::optional<batter::Trace> trace{};  ///< empty: the batter's
    double times_as_thick = 1;             ///< 0.05..20, on the trace's consistency and yield stress alike
    friend bool operator==(const Portion&, const Portion&) = default;
};

/// What colours the plain bar. Without it: the colourant library's own base.
struct Base {
    std::vector<colour::OilShare> oils;  ///< empty, or shares that add up to 100 %
    double superfat_percent = 5;         ///< 0..30
    std::optional<double> lye_percent;  ///< sodium hydroxide in the lye, 20..50; empty: not said, taken as 33
    bool gelled = false;                ///< whether the loaf goes through gel
    double fragrance_g_per_kg_oils = 0;  ///< 0..100; what is allowed is for its supplier's documents
    double vanillin_percent = 0;         ///< of the fragrance, 0..100
    friend bool operator==(const Base&, const Base&) = default;
};

/// What is weighed, beyond what Base says already (superfat, lye, fragrance): read the two together with
/// recipe_of() in recipe.h.
struct Formula {
    batter::OilBasis basis = batter::OilBasis::percent;
    std::vector<batter::RecipeOil> oils;  ///< empty: those of Base, which else only colour the bar
    batter::Alkali alkali;
    /// By alkali or by oils; empty: by Base::lye_percent.
    std::optional<batter::Water> water{};
    std::vector<batter::Liquid> liquids;
    std::vector<batter::Additive> additives;
    /// The supplier's documented limit of the fragrance, % of the finished product, 0.01..100; empty: not
    /// said.
    std::optional<double> fragrance_limit_percent{};
    friend bool operator==(const Formula&, const Formula&) = default;
};

/// How this soap is made at the bench. Nothing here changes what a face looks like.
struct Bench {
    batter::UnitSystem units = batter::UnitSystem::metric;
    int moulds = 1;               ///< alike, filled from one batch, 1..50
    double liner_mm = 0;          ///< thickness of a liner that the mould's measures leave out, 0..20
    double top_allowance_mm = 0;  ///< mean height of batter for a dome or a textured top, 0..50
    double jug_residue_g = 5;     ///< batter that stays in each jug: an allowance, not a measurement, 0..200
    double spare_percent = 0;     ///< batter made on top, 0..50
    std::string stock_file;       ///< table of prices and stock below the design's folder; empty: none
    friend bool operator==(const Bench&, const Bench&) = default;
};

enum class Side { left, right };

/// How a pour gets into the mould. Each manner but `laid` has its few numbers below; a pour keeps those of
/// the manners it does not use.
enum class PourManner {
    laid,           ///< over a spatula: comes to rest on top and moves nothing
    free_fall,      ///< a stream that plunges in, or heaps up where the batter is too thick for that
    down_the_wall,  ///< all at one wall: a wedge that pushes what is there away from the wall
    tilted,       ///< the mould stands tilted: level while it is poured, a wedge when the mould is set level
    hills,        ///< laid, and its top edge shaped on purpose
    side_by_side  ///< between dividers that stand on what is there and are pulled when all are in
};

struct Fall {
    double height_mm = 150;          ///< from the jug to the surface, 5..1000
    double rate_ml_per_s = 30;       ///< 1..500
    std::vector<double> at_mm = {};  ///< places of the stream from the left wall, 0..50 of them, each gets an
                                     ///< equal part; none: the middle
    friend bool operator==(const Fall&, const Fall&) = default;
};

struct WallPour {
    Side side = Side::left;
    double foot_mm = 20;  ///< how far from the wall the batter lands, 2..500
    friend bool operator==(const WallPour&, const WallPour&) = default;
};

/// Either waves or heights of one's own.
struct Hills {
    double amplitude_mm = 6;              ///< half the height from trough to crest, 0..60
    double wavelength_mm = 30;            ///< crest to crest, 5..1000
    double crest_mm = 15;                 ///< a crest's place from the left wall, 0..500
    std::vector<double> heights_mm = {};  ///< 2..40 heights at even distances from wall to wall, taken from
                                          ///< their mean, -100..100; count instead of the waves
    friend bool operator==(const Hills&, const Hills&) = default;
};

struct Beside {
    std::optional<double> width_mm = std::nullopt;  ///< 2..500; empty: what makes all equally high
    double divider_mm = 1;                          ///< thickness of the sheet to its right, 0..5
    friend bool operator==(const Beside&, const Beside&) = default;
};

/// Powder sifted over a pour once it lies.
struct SiftedLine {
    std::string colourant;      ///< id in the colourant library
    double thickness_mm = 0.2;  ///< 0.05..1
    friend bool operator==(const SiftedLine&, const SiftedLine&) = default;
};

struct Pour {
    std::string portion;  ///< a Portion's id
    std::optional<double>
        part_percent;  ///< of the portion, 0.01..100; empty: an equal part of what its other pours leave
    PourManner manner = PourManner::laid;
    double unevenness_mm =
        0.8;  ///< standard deviation of the layer's top edge, 0..20, seeded by Design::seed
    /// Goes in together with the pour before it, in the same manner: from one jug, in which they were folded
    /// into each other `folds` times; when side by side, in the next room between the dividers.
    bool with_previous = false;
    int folds = 2;  ///< 1..7, of the first of pours that go in together
    Fall fall = {};
    WallPour wall = {};
    double tilt_deg = 15;  ///< -60..60; positive: the right side is raised, so batter runs to the left
    Hills hills = {};
    Beside beside = {};
    /// Yield stress that the batter has reached when its shape has to hold (after a wait), 0..10,000; empty:
    /// the batter's own.
    std::optional<double> firmed_yield_stress_pa = std::nullopt;
    double tapped_percent = 0;  ///< share of the unevenness that tapping the mould takes out, 0..100
    std::optional<SiftedLine> sifted_over = std::nullopt;
    friend bool operator==(const Pour&, const Pour&) = default;
};

/// The wire's path point by point, in the cross-section.
struct Waypoints {
    std::vector<Vec2> points_mm;  ///< of the wire's centre, 2..10,000
    friend bool operator==(const Waypoints&, const Waypoints&) = default;
};

/// Straight passes down and up, moving across by `spacing_mm` between them; enters and leaves through the
/// top. "7 passes" means what a maker counts: seven times the wire is drawn straight through the layers, at
/// seven places, down, up, down and so on. The first pass comes down from the air at `margin_mm` from the
/// start side's wall, and the last of them, when spread evenly, stands at `margin_mm` from the other wall;
/// with a spacing of its own the row may end sooner (it may not reach into the wall). Between passes the wire
/// moves across at its lowest point or, at the upper turns, below the surface. An even count ends with an
/// upward pass, which goes on through the surface into the air. An odd count ends at the floor, and the wire
/// must still come out: drawn back up the line it came down, it would undo that pass (creeping flow runs
/// backwards), so it first moves half a spacing back towards the passes already drawn and is lifted straight
/// out there, between the last two lines. A single pass goes down the middle (with a spacing: at the margin)
/// and is lifted half a spacing further on; without one, half way between the middle and the far margin.
struct Passes {
    int count = 7;                     ///< 1..200 vertical passes
    std::optional<double> spacing_mm;  ///< between passes, >= 0.5; empty: spread evenly between the margins
    double margin_mm = 8;              ///< wall to the centre of the first pass, >= 5/4 of the wire's radius
    double floor_clearance_mm = 4;  ///< floor to the underside of the wire at the lowest point, >= 1/8 wire
    double top_clearance_mm = 8;    ///< rest level to the top of the wire at the upper turns, >= 0
    Side start = Side::left;
    double slant_deg = 0;  ///< of every pass from the vertical, -60..60; positive: the lower end further on
    friend bool operator==(const Passes&, const Passes&) = default;
};

/// From side to side and back, rising from the lowest to the highest turn; in and out through the top.
struct Zigzag {
    int count = 6;                  ///< crossings, 1..100
    double margin_mm = 8;           ///< wall to the centre of the wire at the turns
    double floor_clearance_mm = 4;  ///< as in Passes
    double top_clearance_mm = 8;
    Side start = Side::left;
    friend bool operator==(const Zigzag&, const Zigzag&) = default;
};

enum class LoopShape { loop, figure_eight };

/// A row of upright loops or figure-eights, each begun and ended at its highest point.
struct Loops {
    int count = 3;  ///< 1..50
    LoopShape shape = LoopShape::loop;
    std::optional<double> width_mm;  ///< of one, 2..500; empty: an equal part of the row
    double margin_mm = 8;            ///< wall to the outermost place of the wire's centre
    double floor_clearance_mm = 4;   ///< as in Passes
    double top_clearance_mm = 8;
    Side start = Side::left;
    friend bool operator==(const Loops&, const Loops&) = default;
};

struct Stroke {
    double wire_diameter_mm = 6;  ///< 1..30
    double speed_mm_per_s = 50;   ///< 1..500
    std::variant<Passes, Waypoints, Zigzag, Loops> path = Passes{};
    std::optional<int> after_pours =
        std::nullopt;      ///< drawn when so many pours are in, 1 to all; empty: after all
    flow::Tool tool = {};  ///< one wire, a comb of wires, or a strip (which has no wire diameter)
    friend bool operator==(const Stroke&, const Stroke&) = default;
};

/// How far from perfect the hands are that draw the wire. Zero: every bar gets the same strokes.
struct Hand {
    double wander_mm = 0;  ///< standard deviation of the wire's way off its path, 0..10, seeded, smooth along
                           ///< the loaf
    double sag_mm = 0;     ///< how far the middle of the wire stays behind the hands, 0..20
    friend bool operator==(const Hand&, const Hand&) = default;
};

struct Cut {
    double bar_thickness_mm = 25;  ///< 5..200
    double trim_mm = 5;            ///< taken off each end, >= 0
    friend bool operator==(const Cut&, const Cut&) = default;
};

/// Fields of the file that this version does not know, kept for the next save. Opaque outside
/// design_file.cpp.
struct UnknownFields;

struct Design {
    std::string name = "untitled";
    std::string notes;
    Mould mould;
    Batter batter;
    std::vector<Portion> portions;
    std::vector<Pour> pours;      ///< in order, the first is poured first (lowest)
    std::vector<Stroke> strokes;  ///< in order; may be empty (no wire)
    Hand hand;
    Top top;
    Inclusions inclusions;
    Cut cut;
    Base base;
    Formula recipe;
    Bench bench;
    double age_days = colour::reference_age_days;  ///< at which the bars are shown, 0 (wet batter)..3650
    std::uint64_t seed = 1;                        ///< 0..2^53 - 1
    std::shared_ptr<const UnknownFields> unknown;  ///< not part of equality

    friend bool operator==(const Design& a, const Design& b) {
        return a.name == b.name && a.notes == b.notes && a.mould == b.mould && a.batter == b.batter &&
               a.portions == b.portions && a.pours == b.pours && a.strokes == b.strokes && a.hand == b.hand &&
               a.top == b.top && a.inclusions == b.inclusions && a.cut == b.cut && a.base == b.base &&
               a.recipe == b.recipe && a.bench == b.bench && a.age_days == b.age_days && a.seed == b.seed;
    }
};

/// The cross-section that the flow room sees: what is poured, without what is spooned on the top later.
flow::Box box_of(const Design& design);
/// The path asked for: generators written out, entry from and exit into the air added when a path starts or
/// ends inside the batter. The first and last points have the tool wholly in air. One point or none when a
/// waypoint path is empty.
std::vector<Vec2> wanted_path_of(const Stroke& stroke, const Design& design);
/// The path a stroke really takes: points of the one asked for that would bring the tool into a wall or the
/// floor are moved to the nearest place it may go (a quarter of its radius away).
std::vector<Vec2> path_of(const Stroke& stroke, const Design& design);
/// What path_of() moved.
struct PathCorrection {
    std::size_t points = 0;
    double most_mm = 0;
    bool from_wall = false, from_floor = false;
};
PathCorrection correction_of(const Stroke& stroke, const Design& design);
/// Height (mm) of the tool's middle at which it is clear of the batter: level then + its lower half + 1 mm.
double height_in_air_mm(const Stroke& stroke, const Design& design);
/// Distance between neighbouring passes, mm; may come out zero or negative for a design that validate()
/// refuses.
double pass_spacing_mm(const Passes& passes, const Design& design);
/// x (mm) of every pass in the order drawn and, for an odd count, of the lift at the end.
std::vector<double> pass_positions_mm(const Passes& passes, const Design& design);
/// How many pours are in when a stroke is drawn.
std::size_t pours_before(const Stroke& stroke, const Design& design);
/// Level (mm) of the batter when so many pours are in; when all are: the fill height less what is kept back
/// for the top.
double level_after_mm(const Design& design, std::size_t pours);
/// The same when a stroke is drawn.
double level_of_mm(const Stroke& stroke, const Design& design);
/// The strokes that are drawn when everything is poured.
std::vector<flow::Stroke> flow_strokes_of(const Design& design);

/// Strokes drawn one after another while so many pours are in.
struct StrokeGroup {
    std::size_t pours = 0;
    std::vector<flow::Stroke> strokes;
};
/// All strokes in the order in which they are drawn. The last group is drawn after all pours or is not there.
std::vector<StrokeGroup> stroke_groups(const Design& design);
/// The cross-section that a group is drawn in: as full as the mould is then.
flow::Box box_after(const Design& design, std::size_t pours);
/// How many whole bars the loaf gives.
int bar_count(const Design& design);
/// Distance (mm) from the loaf's start to the front face of bar `bar` (1-based, not checked).
double bar_face_z_mm(const Design& design, int bar);
/// Per pour, the area it takes in the cross-section, mm^2; with the sifted lines and what is spooned on they
/// sum to width * fill.
std::vector<double> pour_areas_mm2(const Design& design);
/// The same per heap that is spooned on.
std::vector<double> spooned_areas_mm2(const Design& design);
/// Yield stress (Pa) that holds the worked top.
double top_yield_stress_pa(const Design& design);
/// Whether something shows on the top: it is worked, or something is strewn over it.
bool shows_top(const Design& design);
/// Area of the line sifted over a pour, mm^2; 0 without one.
double line_area_mm2(const Design& design, const Pour& pour);
/// One past the last pour that goes in together with pour `first`.
std::size_t end_of_group(const Design& design, std::size_t first);
/// Yield stress (Pa) that holds a pour's shape.
double holding_yield_stress_pa(const Design& design, const Pour& pour);
/// "laid", "free-fall" and so on, as in the file.
const std::vector<std::string>& manner_names();
/// What a portion flows like: its own trace or the batter's, times as thick as it says.
batter::Rheology rheology_of(const Portion& portion, const Design& design);
/// The same of the portion that a pour takes.
batter::Rheology rheology_of(const Pour& pour, const Design& design);
/// What all of them flow like where they do not differ.
batter::Rheology shared_rheology(const Design& design);
/// Whether portions are not all equally thick.
bool portions_differ(const Design& design);
const Portion* find_portion(const Design& design, const std::string& id);
/// Its index; the number of portions when there is none of that id.
std::size_t portion_index(const Design& design, const std::string& id);

}  // namespace foreslice::design
