// Faults: what keeps a design from being made. Single fields are checked by sending the document through the
// reader, so that a file and a design edited in memory meet the very same rules; what follows here is how the
// fields fit together.
#include "design/validation.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "design/design_file.h"
#include "design/internal/pour_faults.h"
#include "design/internal/top_fields.h"
#include "design/internal/tree.h"
#include "design/internal/ways.h"
#include "design/tint.h"
#include "foundation/error.h"

namespace foreslice::design {
namespace {

class Checker {
  public:
    Checker(const Design& design, const std::string& file) : design_(design), file_(file) {}

    void all() const {
        mould();
        base();
        recipe();
        portions();
        pours();
        const Fail faults = [this](const auto& place, const auto& problem, const auto& allowed) {
            fail(place, problem, allowed);
        };
        check_manners(design_, faults);
        check_top(design_, faults);
        check_inclusions(design_, faults);
        double path_mm = 0;
        for (std::size_t i = 0; i < design_.strokes.size(); ++i) path_mm += stroke(i);
        if (path_mm > flow::max_path_mm)
            fail("/strokes", "the wire's paths are " + plain_number(path_mm) + " mm long together",
                 "at most " + plain_number(flow::max_path_mm) + " mm");
    }

  private:
    [[noreturn]] void fail(const std::string& place, const std::string& problem,
                           const std::string& allowed) const {
        throw InputError(file_, place, problem, allowed);
    }

    void mould() const {
        const Mould& mould = design_.mould;
        if (mould.fill_mm > mould.height_mm)
            fail("/mould/fill_mm",
                 "a fill of " + plain_number(mould.fill_mm) + " mm overflows the mould of " +
                     plain_number(mould.height_mm) + " mm",
                 "5 to " + plain_number(mould.height_mm) + " (the mould's height)");
    }

    void base() const {
        double sum = 0;
        std::set<std::string> oils;
        for (std::size_t i = 0; i < design_.base.oils.size(); ++i) {
            const colour::OilShare& share = design_.base.oils[i];
            const std::string path = path_to("/base/oils", i) + "/oil";
            if (!colour::find_oil(share.oil)) {
                std::string known;
                for (const auto& oil : colour::oil_tints())
                    known += (known.empty() ? "" : ", ") + std::string(oil.id);
                fail(path, "there is no oil " + foreslice::quoted(share.oil), known);
            }
            if (!oils.insert(share.oil).second)
                fail(path, foreslice::quoted(share.oil) + " stands twice", "every oil once");
            sum += share.percent;
        }
        if (!oils.empty() && std::abs(sum - 100) > limits::percent_slack)
            fail("/base/oils", "the oils add up to " + plain_number(sum) + " %", "99.5 to 100.5 % together");
    }

    void recipe() const {
        if (design_.recipe.water && design_.base.lye_percent)
            fail("/recipe/water", "the water is stated here and by /base/lye_percent", "one of the two");
        const double liner_mm = design_.bench.liner_mm;
        const double least_mm = std::min(design_.mould.width_mm, design_.mould.length_mm);
        if (2 * liner_mm > least_mm / 2)
            fail("/bench/liner_mm",
                 "a liner of " + plain_number(liner_mm) + " mm takes most of a mould of " +
                     plain_number(least_mm) + " mm",
                 "0 to " + plain_number(least_mm / 4));
    }

    void portions() const {
        std::set<std::string> ids;
        double sum = 0;
        for (std::size_t i = 0; i < design_.portions.size(); ++i) {
            const Portion& portion = design_.portions[i];
            const std::string path = path_to("/portions", i);
            if (!ids.insert(portion.id).second)
                fail(path + "/id", "there is another portion " + foreslice::quoted(portion.id),
                     "every id once");
            std::set<std::string> colourants;
            for (std::size_t k = 0; k < portion.doses.size(); ++k)
                if (!colourants.insert(portion.doses[k].colourant).second)
                    fail(path_to(path + "/doses", k) + "/colourant",
                         foreslice::quoted(portion.doses[k].colourant) + " is dosed twice in this portion",
                         "every colourant once, with the sum of its doses");
            sum += portion.share_percent;
        }
        if (std::abs(sum - 100) > limits::percent_slack)
            fail("/portions", "the shares add up to " + plain_number(sum) + " %", "99.5 to 100.5 % together");
    }

    struct Parts {
        double given = 0;
        int open = 0;
        std::size_t last = 0;
    };

    void pours() const {
        std::map<std::string, Parts> parts;
        for (const Spooned& spooned : design_.top.spooned)
            if (find_portion(design_, spooned.portion)) parts[spooned.portion].given += spooned.part_percent;
        for (std::size_t i = 0; i < design_.pours.size(); ++i) {
            const Pour& pour = design_.pours[i];
            if (!find_portion(design_, pour.portion))
                fail(path_to("/pours", i) + "/portion",
                     "there is no portion " + foreslice::quoted(pour.portion), ids());
            Parts& of = parts[pour.portion];
            of.last = i;
            if (pour.part_percent)
                of.given += *pour.part_percent;
            else
                ++of.open;
        }
        for (const auto& [id, of] : parts) pour_parts(id, of);
        for (std::size_t i = 0; i < design_.portions.size(); ++i) {
            const Portion& portion = design_.portions[i];
            if (portion.share_percent > 0 && !parts.contains(portion.id))
                fail(path_to("/portions", i),
                     "portion " + foreslice::quoted(portion.id) + " has a share of " +
                         plain_number(portion.share_percent) + " % but is never poured",
                     "at least one pour of it, or a share of 0");
        }
    }

    void pour_parts(const std::string& id, const Parts& of) const {
        const std::string place = path_to("/pours", of.last) + "/part_percent";
        const std::string together =
            std::string(design_.top.spooned.empty() ? "" : "what is spooned on and ") +
            "the pours of portion " + foreslice::quoted(id) + " take " + plain_number(of.given) + " % of it";
        if (of.given > 100 + limits::percent_slack) fail(place, together, "at most 100 % together");
        if (of.open == 0 && of.given < 100 - limits::percent_slack)
            fail(place, together, "99.5 to 100.5 % together, or one pour without a part to take the rest");
        if (of.open > 0 && of.given > 100 - 0.01)
            fail(place, together + " and leave nothing for the pour without a part",
                 "parts below 100 % together");
    }

    std::string ids() const {
        std::string words;
        for (const Portion& portion : design_.portions) words += (words.empty() ? "" : ", ") + portion.id;
        return words;
    }

    // Length of the stroke's path, mm.
    double stroke(std::size_t index) const {
        const Stroke& stroke = design_.strokes[index];
        const std::string path = path_to("/strokes", index);
        const std::size_t pours = design_.pours.size();
        if (stroke.after_pours && static_cast<std::size_t>(*stroke.after_pours) > pours)
            fail(path + "/after_pours",
                 "the stroke waits for " + std::to_string(*stroke.after_pours) + " pours, but there are " +
                     std::to_string(pours),
                 "1 to " + std::to_string(pours));
        if (level_of_mm(stroke, design_) < limits::fill_mm.least)
            fail(
                path + "/after_pours",
                "only " + plain_number(level_of_mm(stroke, design_)) +
                    " mm of batter are in the mould when this stroke is drawn",
                "after so many pours that they fill at least " + plain_number(limits::fill_mm.least) + " mm");
        tool(stroke, path);
        std::visit([&](const auto& way) { this->way(way, stroke, path); }, stroke.path);
        const double moved_mm = correction_of(stroke, design_).most_mm;
        if (moved_mm > design_.mould.width_mm / 2)
            fail(path,
                 "the way leaves the mould: a point of it lies " + plain_number(moved_mm) +
                     " mm from the nearest place the tool may go",
                 "a way inside the mould; what cuts into a wall by up to half the mould's width is moved");
        const auto points = path_of(stroke, design_);
        double path_mm = 0, reach_mm = 0;
        for (std::size_t i = 1; i < points.size(); ++i) {
            path_mm += length(points[i] - points[i - 1]);
            reach_mm = std::max(reach_mm, length(points[i] - points[0]));
        }
        if (reach_mm < limits::least_reach_mm)
            fail(path, "the wire does not move", "a path that goes at least 1 mm");
        return path_mm;
    }

    void tool(const Stroke& stroke, const std::string& path) const {
        const double width = design_.mould.width_mm, level = level_of_mm(stroke, design_);
        const bool strip = stroke.tool.kind == flow::Tool::Kind::strip;
        const double thickest = std::min(limits::most_wire_per_width * width, 0.999 * level);
        if (!strip && stroke.wire_diameter_mm > thickest)
            fail(path + "/wire_diameter_mm",
                 "a wire of " + plain_number(stroke.wire_diameter_mm) + " mm is too thick for this mould",
                 "1 to " + plain_number(thickest) + " (half the mould's width, and less than the fill)");
        const flow::Tool& tool = stroke.tool;
        if (strip && tool.thickness_mm > std::min(tool.width_mm, thickest))
            fail(path + "/strip/thickness_mm",
                 "a strip of " + plain_number(tool.thickness_mm) + " mm is too thick",
                 "0.5 to " + plain_number(std::min(tool.width_mm, thickest)) +
                     " (its width, and half the mould's)");
        const double closest = 1.5 * stroke.wire_diameter_mm;
        if (tool.kind == flow::Tool::Kind::comb && tool.wires > 1 && tool.spacing_mm < closest)
            fail(path + "/comb/spacing_mm",
                 "the comb's wires stand only " + plain_number(tool.spacing_mm) + " mm apart",
                 "at least " + plain_number(closest) + " (1.5 times their diameter)");
        const Room room = room_of(stroke, design_);
        if (room.most_x_mm < room.least_x_mm)
            fail(path + (strip ? "/strip/width_mm" : "/comb/wires"),
                 std::string(strip ? "the strip" : "the comb") + " is too wide for this mould",
                 "a tool narrower than " + plain_number(width) + " mm, less its clearance");
        if (room.least_y_mm > level)
            fail(path + (strip ? "/strip/width_mm" : "/comb/wires"),
                 "the tool is higher than the batter is deep",
                 "a strip that reaches less than " + plain_number(level) + " mm up");
    }

    void way(const Passes& passes, const Stroke& stroke, const std::string& of_stroke) const {
        const std::string path = of_stroke + "/passes";
        margin(passes.margin_mm, passes.spacing_mm ? 2.0 : 1.0, stroke, path);
        Passes row = passes;
        row.margin_mm += half_row_mm(stroke);
        const double spacing = pass_spacing_mm(row, design_);
        if (spacing < limits::pass_spacing_mm.least)
            fail(path + "/count",
                 plain_number(passes.count) + " passes would stand " + plain_number(spacing) + " mm apart",
                 "fewer passes or a smaller margin, so that they stand at least 0.5 mm apart");
        clearances(passes, stroke, path);
    }

    void way(const Zigzag& zigzag, const Stroke& stroke, const std::string& of_stroke) const {
        margin(zigzag.margin_mm, 1, stroke, of_stroke + "/zigzag");
        clearances(zigzag, stroke, of_stroke + "/zigzag");
    }

    void way(const Loops& loops, const Stroke& stroke, const std::string& of_stroke) const {
        margin(loops.margin_mm, 1, stroke, of_stroke + "/loops");
        clearances(loops, stroke, of_stroke + "/loops");
    }

    // Points that lie in a wall or the floor are moved (path_of), and a warning says so.
    void way(const Waypoints&, const Stroke&, const std::string&) const {}

    void margin(double margin_mm, double half_widths, const Stroke& stroke, const std::string& path) const {
        const double nearest = room_of(stroke, design_).least_x_mm - half_row_mm(stroke);
        const double most = half_widths > 1 ? design_.mould.width_mm - nearest
                                            : design_.mould.width_mm / 2 - half_row_mm(stroke);
        if (margin_mm > most + touch_mm)
            fail(path + "/margin_mm", "a margin of " + plain_number(margin_mm) + " mm does not fit",
                 plain_number(nearest) + " (5/4 of the wire's radius) to " + plain_number(most));
    }

    template <typename Way>
    void clearances(const Way& way, const Stroke& stroke, const std::string& path) const {
        const Heights ends = heights_of(way.floor_clearance_mm, way.top_clearance_mm, stroke, design_);
        if (ends.lower_mm < ends.upper_mm) return;
        const double free_mm = ends.upper_mm - ends.lower_mm + way.floor_clearance_mm + way.top_clearance_mm;
        fail(path + "/floor_clearance_mm",
             "clearances of " + plain_number(way.floor_clearance_mm) + " mm at the floor and " +
                 plain_number(way.top_clearance_mm) + " mm at the top leave the wire no way to go",
             "less than " + plain_number(free_mm) + " mm together (fill less the wire)");
    }

    const Design& design_;
    const std::string& file_;
};

void check_colourant(const std::string& id, const std::string& place, const colour::ColourantLibrary& library,
                     const std::string& file) {
    if (library.find(id)) return;
    constexpr std::size_t most_named = 16;
    const auto& all = library.colourants();
    std::string known;
    for (std::size_t i = 0; i < std::min(all.size(), most_named); ++i)
        known += (i == 0 ? "" : ", ") + all[i].id;
    if (all.size() > most_named) known += " and " + std::to_string(all.size() - most_named) + " more";
    throw InputError(file, place, "the library has no colourant " + foreslice::quoted(id), known);
}

void check_dose(const ColourantDose& dose, const std::string& place, const Design& design,
                const colour::ColourantLibrary& library, const std::string& file) {
    check_colourant(dose.colourant, place + "/colourant", library, file);
    const double grams = g_per_kg_oils_of(dose, design, library);
    if (dose.stated && !limits::dose_g_per_kg_oils.holds(grams))
        throw InputError(file, place + "/" + std::string(key_of(dose.stated->unit)),
                         "the dose comes to " + plain_number(std::round(grams)) + " g per kg of oils",
                         words_of(limits::dose_g_per_kg_oils) + " g per kg of oils");
}

}  // namespace

void validate(const Design& design, const std::string& file_name) {
    design_from_tree(tree_of(design), file_name);
    Checker(design, file_name).all();
}

void validate(const Design& design, const colour::ColourantLibrary& library, const std::string& file_name) {
    validate(design, file_name);
    for (std::size_t i = 0; i < design.portions.size(); ++i) {
        const Portion& portion = design.portions[i];
        const std::string path = path_to("/portions", i);
        for (std::size_t k = 0; k < portion.doses.size(); ++k)
            check_dose(portion.doses[k], path_to(path + "/doses", k), design, library, file_name);
        if (portion.white.g_per_kg_oils > 0 || portion.white.stated)
            check_dose(portion.white, path + "/white", design, library, file_name);
    }
    for (std::size_t i = 0; i < design.top.glitter.size(); ++i)
        check_colourant(design.top.glitter[i].colourant, path_to("/top/glitter", i) + "/colourant", library,
                        file_name);
    for (std::size_t i = 0; i < design.pours.size(); ++i)
        if (const auto& line = design.pours[i].sifted_over)
            check_colourant(line->colourant, path_to("/pours", i) + "/sifted_over/colourant", library,
                            file_name);
}

}  // namespace foreslice::design
