// The order of work as a row of lamps along a quay: the lit one is the step whose controls are shown. Under
// each name stands what that step says now, so the whole recipe reads from left to right.
#include <cmath>

#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

std::string counted(std::size_t n, const char* one, const char* many) {
    return std::to_string(n) + " " + (n == 1 ? one : many);
}

std::string batter_words(const design::Design& design) {
    const std::string trace =
        design.batter.trace ? std::string(batter::name_of(*design.batter.trace)) + " trace" : "own figures";
    return trace + ", " + format_quantity(design.mould.width_mm, Unit::none, 1) + " × " +
           format_quantity(design.mould.fill_mm, Unit::mm, 1);
}

std::string wire_words(const design::Design& design) {
    if (design.strokes.empty()) return "no wire";
    const auto& first = design.strokes.front();
    const std::string wire = first.tool.kind == flow::Tool::Kind::strip
                                 ? format_quantity(first.tool.width_mm, Unit::mm, 1) + " strip"
                             : first.tool.kind == flow::Tool::Kind::comb
                                 ? "comb of " + std::to_string(first.tool.wires)
                                 : format_quantity(first.wire_diameter_mm, Unit::mm, 1) + " wire";
    if (design.strokes.size() > 1) return counted(design.strokes.size(), "stroke", "strokes") + ", " + wire;
    if (const auto* passes = std::get_if<design::Passes>(&first.path))
        return counted(static_cast<std::size_t>(passes->count), "pass", "passes") + ", " + wire;
    if (const auto* zigzag = std::get_if<design::Zigzag>(&first.path))
        return counted(static_cast<std::size_t>(zigzag->count), "crossing", "crossings") + ", " + wire;
    if (const auto* loops = std::get_if<design::Loops>(&first.path))
        return counted(static_cast<std::size_t>(loops->count), "loop", "loops") + ", " + wire;
    return counted(std::get<design::Waypoints>(first.path).points_mm.size(), "point", "points") + ", " + wire;
}

std::string words_for(Step step, const Session& session) {
    const auto& design = session.design();
    switch (step) {
        case Step::batter:
            return batter_words(design);
        case Step::tint:
            return counted(design.portions.size(), "portion", "portions");
        case Step::pour:
            return counted(design.pours.size(), "layer", "layers");
        case Step::wire:
            return wire_words(design);
        case Step::cut:
            break;
    }
    if (!session.fault().empty()) return "";
    return counted(static_cast<std::size_t>(design::bar_count(design)), "bar", "bars") + " of " +
           format_quantity(design.cut.bar_thickness_mm, Unit::mm, 1);
}

const char* script_name(Step step) {
    static constexpr const char* names[] = {"step:batter", "step:tint", "step:pour", "step:wire", "step:cut"};
    return names[static_cast<int>(step)];
}

void draw_lamp(const Ui& ui, ImDrawList* list, ImVec2 centre, int number, bool lit, bool over) {
    const float radius = ui.px(15);
    if (lit) {
        for (int ring = 4; ring >= 1; --ring)
            list->AddCircleFilled(centre, radius + ui.px(2.5F) * static_cast<float>(ring),
                                  dusk::rgb(0xe6a94f, 16), 40);
    }
    list->AddCircleFilled(centre, radius, lit ? dusk::lamp : over ? dusk::slate_lit : dusk::slate, 40);
    list->AddCircle(centre, radius, lit ? dusk::lamp_lit : dusk::mist, 40, ui.px(1.5F));
    ui.text_at(list, ui.fonts.bold, ImVec2(centre.x, centre.y - ui.fonts.bold->FontSize / 2),
               lit ? dusk::rgb(0x201708) : dusk::chalk, std::to_string(number), 0.5F);
}

void draw_stop(const Studio& studio, Step step, const Area& cell) {
    Ui& ui = studio.ui;
    ImGui::SetCursorScreenPos(ImVec2(cell.x, cell.y));
    if (ImGui::InvisibleButton(script_name(step), ImVec2(cell.width, cell.height))) studio.view.step = step;
    const bool lit = studio.view.step == step, over = ImGui::IsItemHovered();
    const std::string words = words_for(step, studio.session);
    ui.note(script_name(step), lit ? "chosen" : "");
    if (over) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float middle = cell.y + cell.height / 2, x = cell.x + ui.px(26);
    draw_lamp(ui, list, ImVec2(x, middle), static_cast<int>(step) + 1, lit, over);
    const float text = x + ui.px(28), room = cell.right() - text - ui.px(6);
    ui.text_at(list, lit ? ui.fonts.bold : ui.fonts.body, ImVec2(text, middle - ui.px(18)),
               lit ? dusk::lamp_lit : dusk::chalk, ui.fitted(ui.fonts.bold, name_of(step), room));
    ui.text_at(list, ui.fonts.small, ImVec2(text, middle + ui.px(3)), dusk::fog,
               ui.fitted(ui.fonts.small, words, room));
    if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible)
        list->AddRect(ImVec2(cell.x, cell.y + ui.px(4)), ImVec2(cell.right(), cell.bottom() - ui.px(4)),
                      dusk::lamp, ui.px(6), 0, ui.px(2));
}

}  // namespace

void draw_ribbon(const Studio& studio, const Area& area) {
    const Ui& ui = studio.ui;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 min(area.x, area.y), max(area.right(), area.bottom());
    list->AddRectFilled(min, max, dusk::quay, ui.px(8));
    const float width = area.width / static_cast<float>(all_steps.size());
    const float middle = area.y + area.height / 2;
    for (std::size_t i = 0; i < all_steps.size(); ++i) {
        const Area cell{area.x + std::floor(width * static_cast<float>(i)), area.y, std::floor(width),
                        area.height};
        if (i > 0)
            list->AddTriangleFilled(ImVec2(cell.x - ui.px(4), middle - ui.px(6)),
                                    ImVec2(cell.x + ui.px(3), middle),
                                    ImVec2(cell.x - ui.px(4), middle + ui.px(6)), dusk::quay_edge);
        draw_stop(studio, all_steps[i], cell);
    }
}

}  // namespace foreslice::studio
