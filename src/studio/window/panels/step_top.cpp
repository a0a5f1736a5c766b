// Step 5: how the top is left: batter spooned on in a heap, the surface worked with a tool, glitter strewn
// over.
#include <algorithm>
#include <string>
#include <utility>

#include "design/limits.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;

void edit_top(const Studio& studio, design::Design next, const std::string& words) {
    studio.session.edit(std::move(next), words);
}

void draw_tapping(const Studio& studio) {
    auto next = studio.session.design();
    const Quantity tapping{
        "top:tapped",
        "Tapped level",
        Unit::percent,
        limits::tapped_percent.least,
        limits::tapped_percent.most,
        0,
        100,
        5,
        0,
        "How much of the unevenness of the layers tapping the mould on the table takes out."};
    double value = next.pours.back().tapped_percent;
    const Edited edited = studio.ui.quantity(tapping, value);
    for (auto& pour : next.pours) pour.tapped_percent = value;
    apply(studio, edited, std::move(next), "tapping the mould", tapping.name);
}

/// One number of an entry of the top; `find` finds it in a design.
template <class Find>
void draw_number(const Studio& studio, const Quantity& quantity, const std::string& words, Find&& find) {
    auto next = studio.session.design();
    const Edited edited = studio.ui.quantity(quantity, find(next.top));
    apply(studio, edited, std::move(next), words, quantity.name);
}

bool draw_out(const Studio& studio, const std::string& name) {
    return studio.ui.button(name, "Do without it", ButtonKind::plain, ImVec2(-1, 0));
}

void draw_spooned(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("Spooned on");
    for (std::size_t i = 0; i < studio.session.design().top.spooned.size(); ++i) {
        const std::string n = std::to_string(i);
        draw_number(studio,
                    {"spooned:part:" + n, "Kept back", Unit::percent, limits::part_percent.least,
                     limits::part_percent.most, 0, 60, 1, 0,
                     "How much of this portion is kept back from its pours and spooned on."},
                    "batter spooned on", [i](auto& top) -> double& { return top.spooned[i].part_percent; });
        draw_number(studio,
                    {"spooned:width:" + n, "Heap", Unit::mm, limits::spooned_width_mm.least,
                     limits::spooned_width_mm.most, 4, 80, 1, 0,
                     "Width of the heap across the mould before it slumps."},
                    "width of the heap", [i](auto& top) -> double& { return top.spooned[i].width_mm; });
        if (!draw_out(studio, "spooned:out:" + n)) continue;
        auto next = studio.session.design();
        next.top.spooned.erase(next.top.spooned.begin() + static_cast<std::ptrdiff_t>(i));
        edit_top(studio, std::move(next), "spoon nothing on");
        return;
    }
    if (!ui.begin_list("spooned:add", "", "Spoon batter on…")) return;
    std::string chosen;
    for (const auto& portion : studio.session.design().portions)
        if (ui.list_entry("spooned:add/" + portion.id, portion_name(portion), false)) chosen = portion.id;
    ui.end_list();
    if (chosen.empty()) return;
    auto next = studio.session.design();
    next.top.spooned.emplace_back();
    next.top.spooned.back().portion = chosen;
    edit_top(studio, std::move(next), "spoon batter on");
}

void draw_stroke(const Studio& studio, std::size_t i) {
    Ui& ui = studio.ui;
    const auto& stroke = studio.session.design().top.strokes[i];
    const std::string n = std::to_string(i);
    const int tool = ui.choice("top:tool:" + n, {"spatula", "fork"}, static_cast<int>(stroke.tool));
    const int motion = ui.choice("top:motion:" + n, {"along", "to a crest", "peaks", "across"},
                                 static_cast<int>(stroke.motion));
    if (tool >= 0 || motion >= 0) {
        auto next = studio.session.design();
        if (tool >= 0) next.top.strokes[i].tool = static_cast<design::TopTool>(tool);
        if (motion >= 0) next.top.strokes[i].motion = static_cast<design::TopMotion>(motion);
        edit_top(studio, std::move(next), "work the top another way");
        return;
    }
    draw_number(
        studio,
        {"top:height:" + n, "Ridges", Unit::mm, limits::top_height_mm.least, limits::top_height_mm.most, 0,
         20, 0.5, 1, "From furrow to ridge; what the batter cannot hold sinks back."},
        "height of the ridges", [i](auto& top) -> double& { return top.strokes[i].height_mm; });
    draw_number(studio,
                {"top:spacing:" + n, "Apart", Unit::mm, limits::top_spacing_mm.least,
                 limits::top_spacing_mm.most, 2, 40, 1, 0, "From ridge to ridge, or from peak to peak."},
                "spacing of the ridges", [i](auto& top) -> double& { return top.strokes[i].spacing_mm; });
    if (!draw_out(studio, "top:out:" + n)) return;
    auto next = studio.session.design();
    next.top.strokes.erase(next.top.strokes.begin() + static_cast<std::ptrdiff_t>(i));
    edit_top(studio, std::move(next), "leave the top unworked");
}

void draw_strokes(const Studio& studio) {
    studio.ui.section("Worked with a tool");
    for (std::size_t i = 0; i < studio.session.design().top.strokes.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        draw_stroke(studio, i);
        ImGui::PopID();
    }
    ImGui::BeginDisabled(studio.session.design().top.strokes.size() >= limits::top_strokes);
    if (studio.ui.button("top:add", "Work the top", ButtonKind::plain, ImVec2(-1, 0))) {
        auto next = studio.session.design();
        next.top.strokes.emplace_back();
        edit_top(studio, std::move(next), "work the top");
    }
    ImGui::EndDisabled();
}

void draw_glitter(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("Strewn over");
    for (std::size_t i = 0; i < studio.session.design().top.glitter.size(); ++i) {
        const std::string n = std::to_string(i);
        const auto* colourant =
            studio.session.colour_library().find(studio.session.design().top.glitter[i].colourant);
        draw_number(studio,
                    {"glitter:cover:" + n, colourant ? colourant->name : "Glitter", Unit::percent,
                     limits::glitter_cover_percent.least, limits::glitter_cover_percent.most, 0, 30, 1, 1,
                     "How much of the top its flakes cover."},
                    "glitter on the top", [i](auto& top) -> double& { return top.glitter[i].cover_percent; });
        if (!draw_out(studio, "glitter:out:" + n)) continue;
        auto next = studio.session.design();
        next.top.glitter.erase(next.top.glitter.begin() + static_cast<std::ptrdiff_t>(i));
        edit_top(studio, std::move(next), "strew nothing");
        return;
    }
    if (!ui.begin_list("glitter:add", "", "Strew glitter or mica…")) return;
    std::string chosen;
    for (const auto& colourant : studio.session.colour_library().colourants())
        if (ui.list_entry("glitter:add/" + colourant.id, colourant.name, false)) chosen = colourant.id;
    ui.end_list();
    if (chosen.empty()) return;
    auto next = studio.session.design();
    next.top.glitter.emplace_back();
    next.top.glitter.back().colourant = chosen;
    edit_top(studio, std::move(next), "strew glitter");
}

}  // namespace

void draw_top(const Studio& studio) {
    if (studio.session.design().pours.empty()) return;
    draw_spooned(studio);
    draw_strokes(studio);
    draw_glitter(studio);
    studio.ui.section("Before that");
    draw_tapping(studio);
}

}  // namespace foreslice::studio
