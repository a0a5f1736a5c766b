#include "design/internal/top_fields.h"
#include "design/internal/list_fields.h"

namespace foreslice::design {
namespace {

const std::vector<std::string> tool_names{"spatula", "fork"};
const std::vector<std::string> motion_names{"along", "to-crest", "peaks", "across"};

Spooned read_spooned(Fields& fields) {
    Spooned spooned;
    spooned.portion = fields.at("portion", "a portion's id").id();
    spooned.part_percent = fields.number_or("part_percent", limits::part_percent, spooned.part_percent);
    if (const auto at = fields.find("at_mm")) spooned.at_mm = at->number(limits::across_mm);
    spooned.width_mm = fields.number_or("width_mm", limits::spooned_width_mm, spooned.width_mm);
    spooned.lump_mm = fields.number_or("lump_mm", limits::lump_mm, spooned.lump_mm);
    return spooned;
}

TopStroke read_stroke(Fields& fields) {
    TopStroke stroke;
    if (const auto tool = fields.find("tool")) stroke.tool = static_cast<TopTool>(tool->one_of(tool_names));
    if (const auto motion = fields.find("motion"))
        stroke.motion = static_cast<TopMotion>(motion->one_of(motion_names));
    stroke.height_mm = fields.number_or("height_mm", limits::top_height_mm, stroke.height_mm);
    stroke.spacing_mm = fields.number_or("spacing_mm", limits::top_spacing_mm, stroke.spacing_mm);
    stroke.lean = fields.number_or("lean", limits::lean, stroke.lean);
    if (const auto crest = fields.find("crest_mm")) stroke.crest_mm = crest->number(limits::across_mm);
    return stroke;
}

Glitter read_glitter(Fields& fields) {
    Glitter glitter;
    glitter.colourant = fields.at("colourant", "the id of a colourant").id();
    glitter.cover_percent =
        fields.number_or("cover_percent", limits::glitter_cover_percent, glitter.cover_percent);
    glitter.size_mm = fields.number_or("size_mm", limits::glitter_size_mm, glitter.size_mm);
    return glitter;
}

Json tree_of(const Spooned& spooned) {
    Json tree = Json::object();
    tree["portion"] = spooned.portion;
    tree["part_percent"] = json_number(spooned.part_percent);
    if (spooned.at_mm) tree["at_mm"] = json_number(*spooned.at_mm);
    tree["width_mm"] = json_number(spooned.width_mm);
    tree["lump_mm"] = json_number(spooned.lump_mm);
    return tree;
}

Json tree_of(const TopStroke& stroke) {
    Json tree = Json::object();
    tree["tool"] = tool_names[static_cast<std::size_t>(stroke.tool)];
    tree["motion"] = motion_names[static_cast<std::size_t>(stroke.motion)];
    tree["height_mm"] = json_number(stroke.height_mm);
    tree["spacing_mm"] = json_number(stroke.spacing_mm);
    tree["lean"] = json_number(stroke.lean);
    if (stroke.crest_mm) tree["crest_mm"] = json_number(*stroke.crest_mm);
    return tree;
}

Json tree_of(const Glitter& glitter) {
    Json tree = Json::object();
    tree["colourant"] = glitter.colourant;
    tree["cover_percent"] = json_number(glitter.cover_percent);
    tree["size_mm"] = json_number(glitter.size_mm);
    return tree;
}

}  // namespace

Top read_top(Fields& fields, const KeepUnknown& keep) {
    Top top;
    const ListReader list(fields, "top", keep);
    list("spooned", limits::spooned, "heaps that are spooned on", read_spooned, top.spooned);
    list("strokes", limits::top_strokes, "ways of working the top", read_stroke, top.strokes);
    list("glitter", limits::glitters, "kinds of glitter", read_glitter, top.glitter);
    if (const auto firmed = fields.find("firmed_yield_stress_pa"))
        top.firmed_yield_stress_pa = firmed->number(limits::firmed_yield_stress_pa);
    return top;
}

Json tree_of(const Top& top, const RestoreUnknown& restore) {
    Json tree = Json::object();
    const auto list = [&](const char* name, const auto& values) {
        for (std::size_t i = 0; i < values.size(); ++i) {
            Json item = tree_of(values[i]);
            restore(member_address("top", name, i), item);
            tree[name].push_back(std::move(item));
        }
    };
    list("spooned", top.spooned);
    list("strokes", top.strokes);
    list("glitter", top.glitter);
    if (top.firmed_yield_stress_pa) tree["firmed_yield_stress_pa"] = json_number(*top.firmed_yield_stress_pa);
    return tree;
}

}  // namespace foreslice::design
