// From a document to a tree and to text.
#include "design/design_file.h"
#include "design/internal/colour_fields.h"
#include "design/internal/pour_tree.h"
#include "design/internal/recipe_tree.h"
#include "design/internal/top_fields.h"
#include "design/internal/tree.h"
#include "foundation/text_file.h"

namespace foreslice::design {
namespace {

// Puts back what the reader kept, behind the known fields.
void restore_unknown(Json& object, const Design& design, const std::string& address) {
    if (!design.unknown) return;
    const auto found = design.unknown->by_address.find(address);
    if (found == design.unknown->by_address.end()) return;
    for (const auto& [key, value] : found->second.fields.items())
        if (!object.contains(key)) object[key] = value;
}

Json tree_of_mould(const Design& design) {
    Json tree = Json::object();
    tree["width_mm"] = json_number(design.mould.width_mm);
    tree["height_mm"] = json_number(design.mould.height_mm);
    tree["length_mm"] = json_number(design.mould.length_mm);
    tree["fill_mm"] = json_number(design.mould.fill_mm);
    restore_unknown(tree, design, "mould");
    return tree;
}

Json tree_of_batter(const Design& design) {
    Json tree = Json::object();
    const Batter& batter = design.batter;
    if (batter.trace) {
        tree["trace"] = std::string(batter::name_of(*batter.trace));
    } else {
        tree["consistency_pa_sn"] = json_number(batter.explicit_rheology.consistency_pa_sn);
        tree["flow_index"] = json_number(batter.explicit_rheology.flow_index);
        tree["yield_stress_pa"] = json_number(batter.explicit_rheology.yield_stress_pa);
    }
    tree["density_kg_per_m3"] = json_number(batter.density_kg_per_m3);
    restore_unknown(tree, design, "batter");
    return tree;
}

Json tree_of_dose(const ColourantDose& dose, const Design& design, const std::string& address) {
    Json tree = tree_of(dose);
    if (dose.dispersion) {
        Json inside = design::tree_of(*dose.dispersion);
        restore_unknown(inside, design, address + "/dispersion");
        tree["dispersion"] = std::move(inside);
    }
    restore_unknown(tree, design, address);
    return tree;
}

Json tree_of_portion(const Portion& portion, const Design& design, const std::string& address) {
    Json tree = Json::object();
    tree["id"] = portion.id;
    tree["name"] = portion.name;
    tree["share_percent"] = json_number(portion.share_percent);
    Addresses addresses(address + "/doses");
    Json& doses = tree["doses"] = Json::array();
    for (const ColourantDose& dose : portion.doses) {
        doses.push_back(tree_of_dose(dose, design, addresses.next(dose.colourant)));
    }
    tree["white"] = tree_of_dose(portion.white, design, address + "/white");
    if (portion.trace) tree["trace"] = std::string(batter::name_of(*portion.trace));
    if (portion.times_as_thick != 1) tree["times_as_thick"] = json_number(portion.times_as_thick);
    restore_unknown(tree, design, address);
    return tree;
}

Json tree_of_pour(const Pour& pour, const Design& design, const std::string& address) {
    Json tree = Json::object();
    tree["portion"] = pour.portion;
    if (pour.part_percent) tree["part_percent"] = json_number(*pour.part_percent);
    tree["manner"] = manner_names()[static_cast<std::size_t>(pour.manner)];
    tree["unevenness_mm"] = json_number(pour.unevenness_mm);
    write_manner(tree, pour, [&](const std::string& name, Json& own) {
        restore_unknown(own, design, address + "/" + name);
    });
    restore_unknown(tree, design, address);
    return tree;
}

Json tree_of_passes(const Passes& passes, const Design& design, const std::string& address) {
    Json tree = Json::object();
    tree["count"] = passes.count;
    if (passes.spacing_mm) tree["spacing_mm"] = json_number(*passes.spacing_mm);
    tree["margin_mm"] = json_number(passes.margin_mm);
    tree["floor_clearance_mm"] = json_number(passes.floor_clearance_mm);
    tree["top_clearance_mm"] = json_number(passes.top_clearance_mm);
    tree["start"] = passes.start == Side::left ? "left" : "right";
    if (passes.slant_deg != 0) tree["slant_deg"] = json_number(passes.slant_deg);
    restore_unknown(tree, design, address + "/passes");
    return tree;
}

template <typename Way>
void add_reach(Json& tree, const Way& way) {
    tree["margin_mm"] = json_number(way.margin_mm);
    tree["floor_clearance_mm"] = json_number(way.floor_clearance_mm);
    tree["top_clearance_mm"] = json_number(way.top_clearance_mm);
    tree["start"] = way.start == Side::left ? "left" : "right";
}

Json tree_of_zigzag(const Zigzag& zigzag, const Design& design, const std::string& address) {
    Json tree = Json::object();
    tree["count"] = zigzag.count;
    add_reach(tree, zigzag);
    restore_unknown(tree, design, address + "/zigzag");
    return tree;
}

Json tree_of_loops(const Loops& loops, const Design& design, const std::string& address) {
    Json tree = Json::object();
    tree["count"] = loops.count;
    tree["shape"] = loops.shape == LoopShape::loop ? "loop" : "figure-eight";
    if (loops.width_mm) tree["width_mm"] = json_number(*loops.width_mm);
    add_reach(tree, loops);
    restore_unknown(tree, design, address + "/loops");
    return tree;
}

// A single wire needs no field.
void add_tool(Json& tree, const flow::Tool& tool, const Design& design, const std::string& address) {
    if (tool.kind == flow::Tool::Kind::comb) {
        Json& comb = tree["comb"] = Json::object();
        comb["wires"] = tool.wires;
        comb["spacing_mm"] = json_number(tool.spacing_mm);
        restore_unknown(comb, design, address + "/comb");
    } else if (tool.kind == flow::Tool::Kind::strip) {
        Json& strip = tree["strip"] = Json::object();
        strip["width_mm"] = json_number(tool.width_mm);
        strip["thickness_mm"] = json_number(tool.thickness_mm);
        strip["angle_deg"] = json_number(tool.angle_deg);
        restore_unknown(strip, design, address + "/strip");
    }
}

Json tree_of_stroke(const Stroke& stroke, const Design& design, const std::string& address) {
    Json tree = Json::object();
    tree["wire_diameter_mm"] = json_number(stroke.wire_diameter_mm);
    tree["speed_mm_per_s"] = json_number(stroke.speed_mm_per_s);
    add_tool(tree, stroke.tool, design, address);
    if (const auto* passes = std::get_if<Passes>(&stroke.path)) {
        tree["passes"] = tree_of_passes(*passes, design, address);
    } else if (const auto* zigzag = std::get_if<Zigzag>(&stroke.path)) {
        tree["zigzag"] = tree_of_zigzag(*zigzag, design, address);
    } else if (const auto* loops = std::get_if<Loops>(&stroke.path)) {
        tree["loops"] = tree_of_loops(*loops, design, address);
    } else {
        Json& points = tree["waypoints_mm"] = Json::array();
        for (const Vec2 point : std::get<Waypoints>(stroke.path).points_mm)
            points.push_back(Json::array({json_number(point.x), json_number(point.y)}));
    }
    if (stroke.after_pours) tree["after_pours"] = *stroke.after_pours;
    restore_unknown(tree, design, address);
    return tree;
}

// Left out while the hand is steady and nothing else is known of it, as in files of before.
void add_hand(Json& tree, const Design& design) {
    Json hand = Json::object();
    if (design.hand.wander_mm != 0) hand["wander_mm"] = json_number(design.hand.wander_mm);
    if (design.hand.sag_mm != 0) hand["sag_mm"] = json_number(design.hand.sag_mm);
    restore_unknown(hand, design, "hand");
    if (!hand.empty()) tree["hand"] = std::move(hand);
}

void add_extras(Json& tree, const Design& design) {
    const auto restore = [&](const std::string& address, Json& own) {
        restore_unknown(own, design, address);
    };
    Json top = tree_of(design.top, restore);
    restore("top", top);
    if (!top.empty()) tree["top"] = std::move(top);
    Json inclusions = tree_of(design.inclusions, restore);
    restore("inclusions", inclusions);
    if (!inclusions.empty()) tree["inclusions"] = std::move(inclusions);
}

void add_lists(Json& tree, const Design& design) {
    Addresses portion_addresses("portions");
    Json& portions = tree["portions"] = Json::array();
    for (const Portion& portion : design.portions)
        portions.push_back(tree_of_portion(portion, design, portion_addresses.next(portion.id)));
    Addresses pour_addresses("pours");
    Json& pours = tree["pours"] = Json::array();
    for (const Pour& pour : design.pours)
        pours.push_back(tree_of_pour(pour, design, pour_addresses.next(pour.portion)));
    Json& strokes = tree["strokes"] = Json::array();
    for (std::size_t i = 0; i < design.strokes.size(); ++i)
        strokes.push_back(tree_of_stroke(design.strokes[i], design, "strokes/" + std::to_string(i)));
}

}  // namespace

Json tree_of(const Design& design) {
    Json tree = Json::object();
    tree["format"] = format_id;
    tree["version"] = file_version;
    tree["name"] = design.name;
    tree["notes"] = design.notes;
    tree["mould"] = tree_of_mould(design);
    tree["batter"] = tree_of_batter(design);
    add_lists(tree, design);
    add_hand(tree, design);
    add_extras(tree, design);
    Json cut = Json::object();
    cut["bar_thickness_mm"] = json_number(design.cut.bar_thickness_mm);
    cut["trim_mm"] = json_number(design.cut.trim_mm);
    restore_unknown(cut, design, "cut");
    tree["cut"] = std::move(cut);
    Json base = tree_of(design.base);
    restore_unknown(base, design, "base");
    if (!base.empty()) tree["base"] = std::move(base);
    const auto restore = [&design](const std::string& address, Json& own) {
        restore_unknown(own, design, address);
    };
    if (Json recipe = tree_of(design.recipe, restore); !recipe.empty()) tree["recipe"] = std::move(recipe);
    if (Json bench = tree_of(design.bench, restore); !bench.empty()) tree["bench"] = std::move(bench);
    if (design.age_days != Design{}.age_days) tree["age_days"] = json_number(design.age_days);
    tree["seed"] = design.seed;
    restore_unknown(tree, design, "");
    return tree;
}

std::string to_json(const Design& design) {
    return text_from_json(tree_of(design));
}

void save(const Design& design, const std::filesystem::path& path) {
    write_file_atomically(path, to_json(design));
}

}  // namespace foreslice::design
