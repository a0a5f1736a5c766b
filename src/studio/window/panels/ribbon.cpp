// The order of work as a row of small pictures along a quay: the loaf at each step, the lit one being the
// step whose controls are shown. Beside each stands what that step says now, so the whole recipe reads from
// left to right. Along the groove below them the making runs.
#include <cmath>

#include "studio/window/panels.h"
#include "studio/window/panels/making.h"

namespace foreslice::studio {
namespace {

std::string counted(std::size_t n, const char* one, const char* many) {
    return std::to_string(n) + " " + (n == 1 ? one : many);
}

std::string batter_words(const design::Design& design) {
    const std::string trace =
        design.batter.trace ? std::string(batter::name_of(*design.batter.trace)) : "own figures";
    const auto width = shown_number(design.mould.width_mm, Unit::mm, 0, units_of(design));
    return trace + ", " + format_number(width.value, width.decimals) + " × " +
           format_quantity(design.mould.fill_mm, Unit::mm, 0, units_of(design));
}

std::string wire_words(const design::Design& design) {
    if (design.strokes.empty()) return "no wire";
    const auto& first = design.strokes.front();
    const std::string wire =
        first.tool.kind == flow::Tool::Kind::strip
            ? format_quantity(first.tool.width_mm, Unit::mm, 1, units_of(design)) + " strip"
        : first.tool.kind == flow::Tool::Kind::comb
            ? "comb of " + std::to_string(first.tool.wires)
            : format_quantity(first.wire_diameter_mm, Unit::mm, 1, units_of(design)) + " wire";
    if (design.strokes.size() > 1) return counted(design.strokes.size(), "stroke", "strokes") + ", " + wire;
    if (const auto* passes = std::get_if<design::Passes>(&first.path))
        return counted(static_cast<std::size_t>(passes->count), "pass", "passes") + ", " + wire;
    if (const auto* zigzag = std::get_if<design::Zigzag>(&first.path))
        return counted(static_cast<std::size_t>(zigzag->count), "crossing", "crossings") + ", " + wire;
    if (const auto* loops = std::get_if<design::Loops>(&first.path))
        return counted(static_cast<std::size_t>(loops->count), "loop", "loops") + ", " + wire;
    return counted(std::get<design::Waypoints>(first.path).points_mm.size(), "point", "points") + ", " + wire;
}

std::string top_words(const design::Design& design) {
    const design::Top& top = design.top;
    if (top.plain()) return "as it settles";
    static constexpr const char* motions[] = {"drawn along", "to a crest", "in peaks", "side to side"};
    std::string words = top.spooned.empty() ? "" : "spooned";
    const auto add = [&](const char* word) { words.append(words.empty() ? "" : ", ").append(word); };
    if (!top.strokes.empty()) add(motions[static_cast<std::size_t>(top.strokes.back().motion)]);
    if (!top.glitter.empty()) add("glitter");
    return words;
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
        case Step::top:
            return top_words(design);
        case Step::cure:
            return design.age_days < 1 ? "wet" : "after " + format_number(design.age_days, 0) + " days";
        case Step::cut:
            break;
    }
    if (!session.fault().empty()) return "";
    return counted(static_cast<std::size_t>(design::bar_count(design)), "bar", "bars") + " of " +
           format_quantity(design.cut.bar_thickness_mm, Unit::mm, 1, units_of(design));
}

const char* script_name(Step step) {
    static constexpr const char* names[] = {"step:batter", "step:tint", "step:pour", "step:wire",
                                            "step:top",    "step:cut",  "step:cure"};
    return names[static_cast<int>(step)];
}

void draw_tile(const Studio& studio, Step step, const Area& tile, bool lit, bool over) {
    const Ui& ui = studio.ui;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const auto around = [&](float reach, ImU32 colour, float thick) {
        list->AddRect(ImVec2(tile.x - reach, tile.y - reach),
                      ImVec2(tile.right() + reach, tile.bottom() + reach), colour, ui.px(5) + reach, 0,
                      thick);
    };
    if (lit)
        for (int ring = 1; ring <= 4; ++ring)
            around(ui.px(1.5F) * static_cast<float>(ring), (dusk::lamp & 0x00ffffffU) | (50U << 24U),
                   ui.px(2));
    draw_step_picture(studio, step, tile);
    around(0, lit ? dusk::lamp : over ? dusk::fog : dusk::quay_edge, ui.px(lit ? 2 : 1));
}

void draw_stop(const Studio& studio, Step step, const Area& cell) {
    Ui& ui = studio.ui;
    ImGui::SetCursorScreenPos(ImVec2(cell.x, cell.y));
    if (ImGui::InvisibleButton(script_name(step), ImVec2(cell.width, cell.height))) {
        studio.view.step = step;
        stop_making(studio);
    }
    const bool lit = studio.view.step == step, over = ImGui::IsItemHovered();
    const std::string words = words_for(step, studio.session);
    ui.note(script_name(step), lit ? "chosen" : "");
    if (over) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible)
        ImGui::GetWindowDrawList()->AddRect(ImVec2(cell.x, cell.y), ImVec2(cell.right(), cell.bottom()),
                                            dusk::lamp, ui.px(6), 0, ui.px(2));
    const bool narrow = cell.width < ui.px(150);
    const float side = ui.px(narrow ? 40 : 50), middle = cell.y + cell.height / 2;
    const Area tile{cell.x + ui.px(8), middle - side / 2, side, side};
    draw_tile(studio, step, tile, lit, over);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float text = tile.right() + ui.px(narrow ? 6 : 10), room = cell.right() - text - ui.px(4);
    ImFont* font = narrow ? ui.fonts.small_bold : lit ? ui.fonts.bold : ui.fonts.body;
    const float name_y = narrow ? middle - font->FontSize / 2 : middle - ui.px(19);
    ui.text_at(list, font, ImVec2(text, name_y), lit ? dusk::lamp_lit : dusk::chalk,
               ui.fitted(font, name_of(step), room));
    if (narrow) {
        ui.help(words);
        return;
    }
    ui.text_at(list, ui.fonts.small, ImVec2(text, middle + ui.px(2)), dusk::fog,
               ui.fitted(ui.fonts.small, words, room));
}

}  // namespace

void draw_ribbon(const Studio& studio, const Area& area) {
    const Ui& ui = studio.ui;
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()), dusk::quay, ui.px(8));
    const float groove = ui.px(24), width = (area.width - ui.px(8)) / static_cast<float>(all_steps.size());
    const float height = area.height - groove;
    for (std::size_t i = 0; i < all_steps.size(); ++i) {
        const Area cell{area.x + ui.px(4) + std::floor(width * static_cast<float>(i)), area.y + ui.px(3),
                        std::floor(width), height - ui.px(2)};
        draw_stop(studio, all_steps[i], cell);
    }
    draw_making_groove(studio, area);
}

}  // namespace foreslice::studio
