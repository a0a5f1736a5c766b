// Risks: the design can be made, but something about it tends to go wrong. Thresholds marked "common
// practice" have no published source; the others are worked out beside their use.
#include <algorithm>
#include <cmath>
#include <optional>

#include "batter/rheology.h"
#include "colour/pigment.h"
#include "design/internal/pour_risks.h"
#include "design/internal/top_fields.h"
#include "design/internal/tree.h"
#include "design/internal/warnings_colour.h"
#include "design/internal/ways.h"
#include "design/limits.h"
#include "design/tint.h"
#include "design/validation.h"
#include "foundation/error.h"
#include "foundation/numbers.h"

namespace foreslice::design {
namespace {

constexpr double gravity_m_per_s2 = 9.80665;
constexpr double least_freeboard_mm = 3;       // common practice
constexpr double least_layer_mm = 5;           // common practice: thinner ones do not survive the next pour
constexpr double holding_yield_stress_pa = 1;  // a 1 Pa batter holds the weight difference of a white layer
constexpr double least_difference_de00 = 6;    // neighbours closer than this read as one band at arm's length
constexpr double creeping_reynolds = 1;        // inertia counts above it
constexpr double least_gap_mm = 0.5;           // wire to wall or floor
constexpr double much_white_g_per_kg = 5;      // common practice: from about here on rivers are reported
constexpr double much_white_percent = 60;
constexpr double white_density_kg_per_m3 = 4230;  // rutile, handbook value
constexpr double oils_per_batter = 0.70;          // kg of oils in a kg of batter at 33 % lye: 1000 / 1428 g

class Watcher {
  public:
    Watcher(const Design& design, const colour::ColourantLibrary& library)
        : design_(design), library_(library), areas_(pour_areas_mm2(design)) {}

    std::vector<Warning> all() {
        for (const std::string& path : unknown_paths(design_))
            warn(path, "This field is not known to this version; it is kept but changes nothing.",
                 "Check its spelling, or leave it for the program that wrote it.");
        mould();
        batter();
        doses();
        rivers();
        warn_of_colours(design_, library_, found_);
        layers();
        const Warn risks = [this](const std::string& place, const std::string& sentence,
                                  const std::string& cure) { warn(place, sentence, cure); };
        watch_manners(design_, risks);
        neighbours();
        for (std::size_t i = 0; i < design_.strokes.size(); ++i) stroke(i);
        movement();
        watch_top(design_, risks);
        watch_inclusions(design_, risks);
        cut();
        return std::move(found_);
    }

  private:
    void warn(std::string place, std::string sentence, std::string cure) {
        found_.push_back({std::move(place), std::move(sentence), std::move(cure)});
    }

    void mould() {
        const double free_mm = design_.mould.height_mm - design_.mould.fill_mm;
        if (free_mm < least_freeboard_mm)
            warn("/mould/fill_mm",
                 "Only " + rounded_number(free_mm, 1) +
                     " mm are free above the batter, and the wire lifts some over the edge.",
                 "Fill " + rounded_number(least_freeboard_mm - free_mm, 1) +
                     " mm less or take a higher mould.");
    }

    void batter() {
        const batter::Rheology rheology = design_.batter.rheology();
        if (design_.pours.size() > 1 && rheology.yield_stress_pa < holding_yield_stress_pa)
            warn("/batter",
                 "Batter this thin (yield stress " + plain_number(rheology.yield_stress_pa) +
                     " Pa) does not hold layers: a heavier colour sinks and edges run together before it "
                     "sets.",
                 "Blend on to light trace before pouring the layers.");
    }

    void doses() {
        for (std::size_t i = 0; i < design_.portions.size(); ++i) {
            const Portion& portion = design_.portions[i];
            const std::string path = path_to("/portions", i);
            for (std::size_t k = 0; k < portion.doses.size(); ++k)
                dose(portion, portion.doses[k], path_to(path + "/doses", k));
            dose(portion, portion.white, path + "/white");
        }
    }

    void dose(const Portion& portion, const ColourantDose& dose, const std::string& path) {
        const colour::Colourant* colourant = library_.find(dose.colourant);
        const double grams = g_per_kg_oils_of(dose, design_, library_);
        if (!colourant || grams <= colourant->usual_most_g_per_kg_oils) return;
        const std::string most = plain_number(colourant->usual_most_g_per_kg_oils);
        warn(path + "/" +
                 std::string(key_of(dose.stated ? dose.stated->unit : colour::DoseUnit::g_per_kg_oils)),
             (dose.stated ? rounded_number(grams, 1) : plain_number(grams)) + " g of " + colourant->name +
                 " per kg of oils in " + portion.name + " is above the usual most of " + most +
                 " g: coloured lather, thickening and brittle cuts are likely.",
             "Stay at or below " + most + " g per kg of oils, or take a stronger colourant.");
    }

    void rivers() {
        double white_percent = 0;
        for (const Portion& portion : design_.portions)
            if (g_per_kg_oils_of(portion.white, design_, library_) >= much_white_g_per_kg)
                white_percent += portion.share_percent;
        if (white_percent > much_white_percent)
            warn(
                "/portions",
                rounded_number(white_percent, 1) +
                    " % of the batter is heavily whitened: where it gels with much water, "
                    "glycerine rivers show in the white.",
                "Mix the lye stronger (36 % or more), pour cooler, keep it from gelling, or use less white.");
    }

    double depth_mm(std::size_t pour) const { return areas_[pour] / design_.mould.width_mm; }

    // Rather than a plume, a wedge at a wall, a part of a marbled jug or a stripe between dividers.
    bool is_layer(std::size_t pour) const {
        const PourManner manner = design_.pours[pour].manner;
        const bool spread =
            manner == PourManner::laid || manner == PourManner::tilted || manner == PourManner::hills;
        return spread && !design_.pours[pour].with_previous && end_of_group(design_, pour) == pour + 1;
    }

    void layers() {
        for (std::size_t i = 0; i < design_.pours.size(); ++i)
            if (depth_mm(i) < least_layer_mm && is_layer(i))
                warn(path_to("/pours", i),
                     "The layer of " + name_of(i) + " is " + rounded_number(depth_mm(i), 1) +
                         " mm deep; layers under about 5 mm tend to break up under the next pour.",
                     "Give it a larger share, or lay it as a fine line from a squeeze bottle.");
    }

    std::string name_of(std::size_t pour) const {
        const Portion* portion = find_portion(design_, design_.pours[pour].portion);
        return portion ? portion->name : design_.pours[pour].portion;
    }

    std::optional<colour::PortionColour> colour_of_pour(std::size_t pour) const {
        const Portion* portion = find_portion(design_, design_.pours[pour].portion);
        if (!portion) return std::nullopt;
        return colour_of(*portion, design_, library_);
    }

    // How much denser than plain batter (kg/m3) a pour is through its white.
    double extra_density_kg_per_m3(std::size_t pour) const {
        const Portion* portion = find_portion(design_, design_.pours[pour].portion);
        const double white =
            portion ? g_per_kg_oils_of(portion->white, design_, library_) * 1e-3 * oils_per_batter
                    : 0;  // kg per kg
        const double plain = design_.batter.density_kg_per_m3;
        return (1 + white) / (1 / plain + white / white_density_kg_per_m3) - plain;
    }

    void neighbours() {
        std::optional<colour::PortionColour> below;
        for (std::size_t i = 0; i < design_.pours.size(); ++i) {
            const auto colour = colour_of_pour(i);
            if (i > 0 && design_.pours[i].portion != design_.pours[i - 1].portion) {
                sinking(i);
                if (below && colour) alike(i, colour::ciede2000(below->lab, colour->lab));
            }
            below = colour;
        }
    }

    // The layer pushes down with drho g h; batter below that yields lets it sink.
    void sinking(std::size_t i) {
        const double heavier = extra_density_kg_per_m3(i) - extra_density_kg_per_m3(i - 1);
        const double stress_pa = heavier * gravity_m_per_s2 * depth_mm(i) * 1e-3;
        if (stress_pa > 0.05 && stress_pa > design_.batter.rheology().yield_stress_pa)
            warn(path_to("/pours", i),
                 name_of(i) + " is " + rounded_number(heavier, 1) +
                     " kg per cubic metre heavier than the layer below it "
                     "through its white, more than batter this thin can carry: it sinks in places.",
                 "Blend to light trace, use less white, or pour it below its neighbour.");
    }

    void alike(std::size_t i, double de00) {
        if (de00 < least_difference_de00)
            warn(path_to("/pours", i),
                 name_of(i) + " and " + name_of(i - 1) + " below it differ by only " +
                     rounded_number(de00, 1) + " (CIEDE2000): they will look like one layer.",
                 "Lighten one with white, change its dose, or put another portion between them.");
    }

    void stroke(std::size_t i) {
        const Stroke& stroke = design_.strokes[i];
        const std::string path = path_to("/strokes", i);
        const double reynolds = batter::reynolds_number(
            design_.batter.rheology(), design_.batter.density_kg_per_m3,
            stroke.tool.kind == flow::Tool::Kind::strip ? stroke.tool.width_mm : stroke.wire_diameter_mm,
            stroke.speed_mm_per_s);
        if (reynolds > creeping_reynolds)
            warn(path + "/speed_mm_per_s",
                 "At " + plain_number(stroke.speed_mm_per_s) +
                     " mm/s the wire stirs batter this thin into eddies "
                     "(Reynolds number " +
                     rounded_number(reynolds, 1) + "), which the picture leaves out.",
                 "Move at about " +
                     plain_number(std::floor(stroke.speed_mm_per_s * creeping_reynolds / reynolds)) +
                     " mm/s or blend the batter thicker.");
        if (const auto* passes = std::get_if<Passes>(&stroke.path))
            this->passes(*passes, stroke, path + "/passes");
        else if (const auto* waypoints = std::get_if<Waypoints>(&stroke.path))
            this->waypoints(*waypoints, stroke, path + "/waypoints_mm");
        correction(stroke, path);
        clearance(stroke, path);
    }

    void correction(const Stroke& stroke, const std::string& path) {
        const PathCorrection moved = correction_of(stroke, design_);
        if (moved.points == 0) return;
        const std::string where = !moved.from_floor  ? "the wall"
                                  : !moved.from_wall ? "the floor"
                                                     : "wall and floor";
        warn(path,
             "At " + std::to_string(moved.points) + (moved.points == 1 ? " point" : " points") +
                 " of its way the tool would cut into " + where + "; " +
                 (moved.points == 1 ? "it is" : "they are") + " moved by up to " +
                 rounded_number(std::max(0.1, moved.most_mm), 1) +
                 " mm, to a quarter of the tool's radius from it.",
             "Leave more room there, or take a thinner or narrower tool, if the way should be another.");
    }

    void passes(const Passes& passes, const Stroke& stroke, const std::string& path) {
        const double spacing = pass_spacing_mm(passes, design_);
        if (passes.count > 1 && spacing < stroke.wire_diameter_mm && stroke.tool == flow::Tool{})
            warn(path,
                 "The passes stand " + rounded_number(spacing, 1) +
                     " mm apart, less than the wire is thick: "
                     "the colours go muddy.",
                 "Draw fewer passes or take a thinner wire.");
    }

    void waypoints(const Waypoints& waypoints, const Stroke& stroke, const std::string& path) {
        const auto& points = waypoints.points_mm;
        const double clear_mm = height_in_air_mm(stroke, design_) - 1;
        if (points.front().y < clear_mm)
            warn(path_to(path, 0),
                 "The path starts inside the batter; the wire is put straight down to that point.",
                 "Start the path above " + rounded_number(clear_mm, 1) + " mm.");
        if (points.back().y < clear_mm)
            warn(
                path_to(path, points.size() - 1),
                "The path ends inside the batter; the wire is lifted straight out from there, and that "
                "draws a "
                "line of its own (or undoes the last one, if it came down the same way).",
                "End the path above " + rounded_number(clear_mm, 1) + " mm, where the wire should come out.");
    }

    void clearance(const Stroke& stroke, const std::string& path) {
        const Room room = room_of(stroke, design_);
        const double spare = limits::least_gap_per_radius *
                             (stroke.tool.kind == flow::Tool::Kind::strip ? stroke.tool.thickness_mm
                                                                          : stroke.wire_diameter_mm) /
                             2;
        double gap = design_.mould.width_mm;
        for (const Vec2 point : path_of(stroke, design_))
            gap = std::min({gap, point.x - room.least_x_mm + spare, room.most_x_mm - point.x + spare,
                            point.y - room.least_y_mm + spare});
        if (gap < least_gap_mm)
            warn(path,
                 "The wire comes within " + rounded_number(std::max(0.0, gap), 1) +
                     " mm of the mould: it scrapes the liner and leaves a drag mark.",
                 "Keep it at least half a millimetre away.");
    }

    void movement() {
        for (const Stroke& stroke : design_.strokes)
            for (const Vec2 point : path_of(stroke, design_))
                if (point.y < height_in_air_mm(stroke, design_) - 1) return;
        warn("/strokes", "No wire goes through the batter: the bars show the layers as they were poured.",
             "Add a stroke if they should be drawn.");
    }

    void cut() {
        if (bar_count(design_) < 1)
            warn("/cut", "The loaf gives no whole bar after trimming.", "Cut thinner bars or trim less.");
    }

    const Design& design_;
    const colour::ColourantLibrary& library_;
    std::vector<double> areas_;
    std::vector<Warning> found_;
};

}  // namespace

std::vector<Warning> warnings(const Design& design, const colour::ColourantLibrary& library) {
    return Watcher(design, library).all();
}

}  // namespace foreslice::design
