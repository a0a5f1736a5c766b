// From a tree of the current version to a document.
#include "design/design_file.h"
#include "design/internal/colour_fields.h"
#include "design/internal/pour_tree.h"
#include "design/internal/recipe_tree.h"
#include "design/internal/top_fields.h"
#include "design/internal/tree.h"
#include "foundation/text_file.h"

namespace foreslice::design {
namespace {

// Carries the collection of unknown fields along.
struct Reading {
    UnknownFields unknown;

    void keep_unknown(const std::string& address, const Fields& fields) {
        Json rest = fields.unknown();
        if (!rest.empty()) unknown.by_address[address] = {fields.place().path(), std::move(rest)};
    }
};

Mould read_mould(const Place& place, Reading& reading) {
    Fields fields(place);
    Mould mould;
    mould.width_mm = fields.number("width_mm", limits::mould_width_mm);
    mould.height_mm = fields.number("height_mm", limits::mould_height_mm);
    mould.length_mm = fields.number("length_mm", limits::mould_length_mm);
    mould.fill_mm = fields.number("fill_mm", limits::fill_mm);
    reading.keep_unknown("mould", fields);
    return mould;
}

batter::Trace read_trace(const Place& place) {
    return batter::all_traces[place.one_of(names_of(batter::all_traces))];
}

Batter read_batter(const Place& place, Reading& reading) {
    Fields fields(place);
    Batter batter;
    const auto trace = fields.find("trace");
    if (trace) {
        batter.trace = read_trace(*trace);
        for (const char* key : {"consistency_pa_sn", "flow_index", "yield_stress_pa"})
            if (const auto figure = fields.find(key))
                figure->fail("this figure stands beside a trace",
                             "either \"trace\" or the figures, not both");
    } else {
        batter.trace = std::nullopt;
        const std::string either =
            "either \"trace\" or all of consistency_pa_sn, flow_index, yield_stress_pa";
        auto& rheology = batter.explicit_rheology;
        rheology.consistency_pa_sn = fields.at("consistency_pa_sn", either).number(limits::consistency_pa_sn);
        rheology.flow_index = fields.at("flow_index", either).number(limits::flow_index);
        rheology.yield_stress_pa = fields.at("yield_stress_pa", either).number(limits::yield_stress_pa);
    }
    batter.density_kg_per_m3 =
        fields.number_or("density_kg_per_m3", limits::density_kg_per_m3, batter.density_kg_per_m3);
    reading.keep_unknown("batter", fields);
    return batter;
}

void read_dispersion(ColourantDose& dose, Fields& fields, const std::string& address, Reading& reading) {
    const auto place = fields.find("dispersion");
    if (!place) return;
    Fields inside(*place);
    dose.dispersion = read_dispersion(inside);
    reading.keep_unknown(address + "/dispersion", inside);
}

Base read_base(const Place& place, Reading& reading) {
    Fields fields(place);
    Base base = read_base(fields);
    reading.keep_unknown("base", fields);
    return base;
}

Portion read_portion(const Place& place, Addresses& addresses, Reading& reading) {
    Fields fields(place);
    Portion portion;
    portion.id = fields.at("id", "1 to 64 letters, digits, - and _").id();
    const std::string address = addresses.next(portion.id);
    const auto name = fields.find("name");
    portion.name = name ? name->text(limits::name_length) : portion.id;
    portion.share_percent = fields.number("share_percent", limits::share_percent);
    if (const auto doses = fields.find("doses")) {
        Addresses dose_addresses(address + "/doses");
        for (const Place& item : doses->items(0, limits::doses, "doses")) {
            Fields dose(item);
            portion.doses.push_back(read_dose(dose));
            const std::string dose_address = dose_addresses.next(portion.doses.back().colourant);
            read_dispersion(portion.doses.back(), dose, dose_address, reading);
            reading.keep_unknown(dose_address, dose);
        }
    }
    if (const auto white = fields.find("white")) {
        Fields dose(*white);
        portion.white = read_dose(dose);
        read_dispersion(portion.white, dose, address + "/white", reading);
        reading.keep_unknown(address + "/white", dose);
    }
    if (const auto trace = fields.find("trace")) portion.trace = read_trace(*trace);
    portion.times_as_thick =
        fields.number_or("times_as_thick", limits::times_as_thick, portion.times_as_thick);
    reading.keep_unknown(address, fields);
    return portion;
}

Pour read_pour(const Place& place, Addresses& addresses, Reading& reading) {
    Fields fields(place);
    Pour pour;
    pour.portion = fields.at("portion", "the id of a portion").id();
    if (const auto part = fields.find("part_percent")) pour.part_percent = part->number(limits::part_percent);
    pour.unevenness_mm = fields.number_or("unevenness_mm", limits::unevenness_mm, pour.unevenness_mm);
    const std::string address = addresses.next(pour.portion);
    read_manner(fields, pour, [&](const std::string& name, const Fields& own) {
        reading.keep_unknown(address + "/" + name, own);
    });
    reading.keep_unknown(address, fields);
    return pour;
}

Passes read_passes(const Place& place, const std::string& address, Reading& reading) {
    Fields fields(place);
    Passes passes;
    passes.count = static_cast<int>(fields.at("count", "a whole number from " + words_of(limits::pass_count))
                                        .whole_number(limits::pass_count));
    if (const auto spacing = fields.find("spacing_mm"))
        passes.spacing_mm = spacing->number(limits::pass_spacing_mm);
    passes.margin_mm = fields.number_or("margin_mm", limits::pass_margin_mm, passes.margin_mm);
    passes.floor_clearance_mm =
        fields.number_or("floor_clearance_mm", limits::floor_clearance_mm, passes.floor_clearance_mm);
    passes.top_clearance_mm =
        fields.number_or("top_clearance_mm", limits::top_clearance_mm, passes.top_clearance_mm);
    if (const auto start = fields.find("start"))
        passes.start = start->one_of({"left", "right"}) == 0 ? Side::left : Side::right;
    passes.slant_deg = fields.number_or("slant_deg", limits::slant_deg, passes.slant_deg);
    reading.keep_unknown(address + "/passes", fields);
    return passes;
}

Waypoints read_waypoints(const Place& place) {
    Waypoints waypoints;
    for (const Place& item : place.items(2, limits::waypoints, "points, each [x, y] in mm")) {
        const auto pair = item.items(2, 2, "numbers: x from the left wall, y from the floor, in mm");
        waypoints.points_mm.push_back(
            {pair[0].number(limits::waypoint_mm), pair[1].number(limits::waypoint_mm)});
    }
    return waypoints;
}

// What zigzags and loops have in common with passes.
template <typename Way>
void read_reach(Fields& fields, Way& way) {
    way.margin_mm = fields.number_or("margin_mm", limits::pass_margin_mm, way.margin_mm);
    way.floor_clearance_mm =
        fields.number_or("floor_clearance_mm", limits::floor_clearance_mm, way.floor_clearance_mm);
    way.top_clearance_mm =
        fields.number_or("top_clearance_mm", limits::top_clearance_mm, way.top_clearance_mm);
    if (const auto start = fields.find("start"))
        way.start = start->one_of({"left", "right"}) == 0 ? Side::left : Side::right;
}

Zigzag read_zigzag(const Place& place, const std::string& address, Reading& reading) {
    Fields fields(place);
    Zigzag zigzag;
    zigzag.count =
        static_cast<int>(fields.at("count", "a whole number from " + words_of(limits::zigzag_count))
                             .whole_number(limits::zigzag_count));
    read_reach(fields, zigzag);
    reading.keep_unknown(address + "/zigzag", fields);
    return zigzag;
}

Loops read_loops(const Place& place, const std::string& address, Reading& reading) {
    Fields fields(place);
    Loops loops;
    loops.count = static_cast<int>(fields.at("count", "a whole number from " + words_of(limits::loop_count))
                                       .whole_number(limits::loop_count));
    if (const auto shape = fields.find("shape"))
        loops.shape =
            shape->one_of({"loop", "figure-eight"}) == 0 ? LoopShape::loop : LoopShape::figure_eight;
    if (const auto width = fields.find("width_mm")) loops.width_mm = width->number(limits::loop_width_mm);
    read_reach(fields, loops);
    reading.keep_unknown(address + "/loops", fields);
    return loops;
}

flow::Tool read_tool(Fields& of_stroke, const Place& stroke, const std::string& address, Reading& reading) {
    flow::Tool tool;
    const auto comb = of_stroke.find("comb"), strip = of_stroke.find("strip");
    if (comb && strip) stroke.fail("the stroke has both \"comb\" and \"strip\"", "one of them, or neither");
    if (comb) {
        Fields fields(*comb);
        tool.kind = flow::Tool::Kind::comb;
        tool.wires =
            static_cast<int>(fields.at("wires", "a whole number from " + words_of(limits::comb_wires))
                                 .whole_number(limits::comb_wires));
        tool.spacing_mm = fields.number_or("spacing_mm", limits::comb_spacing_mm, tool.spacing_mm);
        reading.keep_unknown(address + "/comb", fields);
    }
    if (strip) {
        Fields fields(*strip);
        tool.kind = flow::Tool::Kind::strip;
        tool.width_mm = fields.number_or("width_mm", limits::strip_width_mm, tool.width_mm);
        tool.thickness_mm = fields.number_or("thickness_mm", limits::strip_thickness_mm, tool.thickness_mm);
        tool.angle_deg = fields.number_or("angle_deg", limits::strip_angle_deg, tool.angle_deg);
        reading.keep_unknown(address + "/strip", fields);
    }
    return tool;
}

Stroke read_stroke(const Place& place, const std::string& address, Reading& reading) {
    Fields fields(place);
    Stroke stroke;
    stroke.wire_diameter_mm =
        fields.number_or("wire_diameter_mm", limits::wire_diameter_mm, stroke.wire_diameter_mm);
    stroke.speed_mm_per_s = fields.number_or("speed_mm_per_s", limits::speed_mm_per_s, stroke.speed_mm_per_s);
    stroke.tool = read_tool(fields, place, address, reading);
    const auto passes = fields.find("passes"), waypoints = fields.find("waypoints_mm"),
               zigzag = fields.find("zigzag"), loops = fields.find("loops");
    const int ways = int{passes.has_value()} + int{waypoints.has_value()} + int{zigzag.has_value()} +
                     int{loops.has_value()};
    if (ways != 1)
        place.fail(ways == 0 ? "the stroke has no path" : "the stroke has both of two paths or more",
                   "either \"passes\", \"zigzag\", \"loops\" or \"waypoints_mm\"");
    if (passes)
        stroke.path = read_passes(*passes, address, reading);
    else if (zigzag)
        stroke.path = read_zigzag(*zigzag, address, reading);
    else if (loops)
        stroke.path = read_loops(*loops, address, reading);
    else
        stroke.path = read_waypoints(*waypoints);
    if (const auto after = fields.find("after_pours"))
        stroke.after_pours = static_cast<int>(after->whole_number(limits::after_pours));
    reading.keep_unknown(address, fields);
    return stroke;
}

Hand read_hand(const Place& place, Reading& reading) {
    Fields fields(place);
    Hand hand;
    hand.wander_mm = fields.number_or("wander_mm", limits::wander_mm, hand.wander_mm);
    hand.sag_mm = fields.number_or("sag_mm", limits::sag_mm, hand.sag_mm);
    reading.keep_unknown("hand", fields);
    return hand;
}

Cut read_cut(const Place& place, Reading& reading) {
    Fields fields(place);
    Cut cut;
    cut.bar_thickness_mm =
        fields.number_or("bar_thickness_mm", limits::bar_thickness_mm, cut.bar_thickness_mm);
    cut.trim_mm = fields.number_or("trim_mm", limits::trim_mm, cut.trim_mm);
    reading.keep_unknown("cut", fields);
    return cut;
}

void read_lists(Fields& fields, Design& design, Reading& reading) {
    Addresses portion_addresses("portions");
    for (const Place& item :
         fields.at("portions", "a list of portions").items(1, limits::portions, "portions"))
        design.portions.push_back(read_portion(item, portion_addresses, reading));
    Addresses pour_addresses("pours");
    for (const Place& item :
         fields.at("pours", "a list of pours, the lowest first").items(1, limits::pours, "pours"))
        design.pours.push_back(read_pour(item, pour_addresses, reading));
    if (const auto strokes = fields.find("strokes"))
        for (const Place& item : strokes->items(0, limits::strokes, "strokes")) {
            const std::string address = "strokes/" + std::to_string(design.strokes.size());
            design.strokes.push_back(read_stroke(item, address, reading));
        }
}

void read_extras(Fields& fields, Design& design, Reading& reading) {
    const auto keep = [&](const std::string& address, const Fields& own) {
        reading.keep_unknown(address, own);
    };
    if (const auto place = fields.find("top")) {
        Fields top(*place);
        design.top = read_top(top, keep);
        keep("top", top);
    }
    if (const auto place = fields.find("inclusions")) {
        Fields inclusions(*place);
        design.inclusions = read_inclusions(inclusions, keep);
        keep("inclusions", inclusions);
    }
}

}  // namespace

std::string Addresses::next(const std::string& name) {
    return list_ + "/" + name + "#" + std::to_string(seen_[name]++);
}

Design design_from_tree(const Json& tree, const std::string& file) {
    Fields fields(Place(tree, "", file));
    for (const char* known : {"format", "version"}) fields.find(known);  // migrate() saw to them
    Reading reading;
    Design design;
    if (const auto name = fields.find("name")) design.name = name->text(limits::name_length);
    if (const auto notes = fields.find("notes")) design.notes = notes->text(limits::notes_length);
    design.mould = read_mould(fields.at("mould", "an object with the mould's inside measures"), reading);
    if (const auto batter = fields.find("batter")) design.batter = read_batter(*batter, reading);
    read_lists(fields, design, reading);
    if (const auto hand = fields.find("hand")) design.hand = read_hand(*hand, reading);
    read_extras(fields, design, reading);
    if (const auto cut = fields.find("cut")) design.cut = read_cut(*cut, reading);
    if (const auto base = fields.find("base")) design.base = read_base(*base, reading);
    const auto keep = [&reading](const std::string& address, const Fields& own) {
        reading.keep_unknown(address, own);
    };
    if (const auto recipe = fields.find("recipe")) design.recipe = read_recipe(*recipe, keep);
    if (const auto bench = fields.find("bench")) design.bench = read_bench(*bench, keep);
    design.age_days = fields.number_or("age_days", limits::age_days, design.age_days);
    if (const auto seed = fields.find("seed")) design.seed = seed->whole_number(limits::seed);
    reading.keep_unknown("", fields);
    if (!reading.unknown.by_address.empty())
        design.unknown = std::make_shared<const UnknownFields>(std::move(reading.unknown));
    return design;
}

std::vector<std::string> unknown_paths(const Design& design) {
    std::vector<std::string> paths;
    if (!design.unknown) return paths;
    for (const auto& [address, members] : design.unknown->by_address)
        for (const auto& [key, value] : members.fields.items()) paths.push_back(path_to(members.path, key));
    return paths;
}

Design parse(std::string_view json, const std::string& name) {
    Json tree = json_from_text(json, name);
    migrate(tree, name);
    return design_from_tree(tree, name);
}

Design load(const std::filesystem::path& path) {
    return parse(read_file(path, limits::file_bytes), path.string());
}

}  // namespace foreslice::design
