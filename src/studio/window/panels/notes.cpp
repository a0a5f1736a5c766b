// Warnings as sentences: what may happen, and what helps. Clicking one goes to the step where it can be
// mended.
#include <optional>

#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

std::optional<Step> step_of(const std::string& place) {
    const auto begins = [&](const char* with) { return place.rfind(with, 0) == 0; };
    if (begins("/mould") || begins("/batter")) return Step::batter;
    if (begins("/portions")) return Step::tint;
    if (begins("/pours")) return Step::pour;
    if (begins("/strokes")) return Step::wire;
    if (begins("/top")) return Step::top;
    if (begins("/cut") || begins("/hand")) return Step::cut;
    if (begins("/base") || begins("/age")) return Step::cure;
    return std::nullopt;
}

float text_height(const Ui& ui, const std::string& text, float width) {
    return ui.fonts.small
        ->CalcTextSizeA(ui.fonts.small->FontSize, 1e9F, width, text.data(), text.data() + text.size())
        .y;
}

float inner_width(const Ui& ui, float width) {
    return width - 2 * ui.px(18) - ui.px(16) - ui.px(12);
}

}  // namespace

float notes_height(const Studio& studio, float width) {
    const auto& warnings = studio.session.warnings();
    if (warnings.empty()) return 0;
    const Ui& ui = studio.ui;
    float height = ui.px(14) + ui.fonts.bold->FontSize + ui.px(12);
    for (const auto& warning : warnings)
        height += text_height(ui, warning.sentence, inner_width(ui, width)) +
                  text_height(ui, warning.cure, inner_width(ui, width)) + ui.px(14);
    return height + ui.px(6);
}

void draw_notes(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    const auto& warnings = studio.session.warnings();
    if (area.height <= 0 || warnings.empty()) return;
    if (begin_panel("notes", area, ui)) {
        const std::string heading = warnings.size() == 1
                                        ? "One thing to watch"
                                        : std::to_string(warnings.size()) + " things to watch";
        ImGui::PushFont(ui.fonts.bold);
        ImGui::TextUnformatted(heading.c_str());
        ImGui::PopFont();
        for (std::size_t i = 0; i < warnings.size(); ++i) {
            const ImVec2 at = ImGui::GetCursorScreenPos();
            ImDrawList* list = ImGui::GetWindowDrawList();
            const float x = at.x + ui.px(5), y = at.y + ui.px(8);
            list->AddTriangleFilled(ImVec2(x, y - ui.px(6)), ImVec2(x - ui.px(6), y + ui.px(5)),
                                    ImVec2(x + ui.px(6), y + ui.px(5)), dusk::lamp);
            ui.text_at(list, ui.fonts.small_bold, ImVec2(x, y - ui.px(6)), dusk::quay, "!", 0.5F);
            ImGui::SetCursorScreenPos(ImVec2(at.x + ui.px(16), at.y));
            ImGui::BeginGroup();
            ImGui::PushFont(ui.fonts.small);
            ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + inner_width(ui, area.width));
            ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, ui.px(1)));
            ImGui::TextUnformatted(warnings[i].sentence.c_str());
            ImGui::PushStyleColor(ImGuiCol_Text, dusk::fog);
            ImGui::TextUnformatted(warnings[i].cure.c_str());
            ImGui::PopStyleColor();
            ImGui::PopStyleVar();
            ImGui::PopTextWrapPos();
            ImGui::PopFont();
            ImGui::EndGroup();
            ui.note("warning:" + std::to_string(i), warnings[i].sentence);
            const auto step = step_of(warnings[i].place);
            if (step && ImGui::IsItemHovered()) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
            if (step && ImGui::IsItemClicked()) studio.view.step = *step;
        }
    }
    end_panel();
}

}  // namespace foreslice::studio
