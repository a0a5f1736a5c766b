// Before and after in one figure: left of the wiper the layers as poured, right of it the cut face.
#include <algorithm>
#include <cmath>

#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"

namespace foreslice::studio {
namespace {

struct Wiper {
    float share = 0.5F;  ///< of the width
};

void drag_wiper(const Studio& studio, const Figure& face, Wiper& wiper) {
    Ui& ui = studio.ui;
    Figure figure = face;  // with the top that stands above it
    const auto above = static_cast<float>(rise_mm(studio) * face.px_per_mm);
    figure.area.y -= above;
    figure.area.height += above;
    const float reach = ui.px(14), x = figure.area.x + wiper.share * figure.area.width;
    ImGui::SetCursorScreenPos(ImVec2(x - reach, figure.area.y - ui.px(8)));
    ImGui::InvisibleButton("wiper", ImVec2(2 * reach, figure.area.height + ui.px(16)));
    ui.note("wiper", std::to_string(static_cast<int>(std::lround(100 * wiper.share))));
    ui.help("Drag: left of it the layers as poured, right of it the cut face.");
    const bool held = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
    if (held || over) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    if (held && ImGui::IsMouseDragging(0, 0))
        wiper.share = std::clamp((ImGui::GetMousePos().x - figure.area.x) / figure.area.width, 0.0F, 1.0F);
    if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible) {
        if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_LeftArrow))) wiper.share -= 0.05F;
        if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_RightArrow))) wiper.share += 0.05F;
        wiper.share = std::clamp(wiper.share, 0.0F, 1.0F);
    }
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float now = figure.area.x + wiper.share * figure.area.width;
    list->AddLine(ImVec2(now, figure.area.y - ui.px(8)), ImVec2(now, figure.area.bottom() + ui.px(8)),
                  dusk::paper, ui.px(4));
    list->AddLine(ImVec2(now, figure.area.y - ui.px(8)), ImVec2(now, figure.area.bottom() + ui.px(8)),
                  dusk::ink, ui.px(2));
    const ImVec2 knob(now, figure.area.y + figure.area.height / 2);
    list->AddCircleFilled(knob, ui.px(13), held || over ? dusk::lamp : dusk::paper, 32);
    list->AddCircle(knob, ui.px(13), dusk::ink, 32, ui.px(2));
    for (const float side : {-1.0F, 1.0F})
        list->AddTriangleFilled(ImVec2(knob.x + side * ui.px(8), knob.y),
                                ImVec2(knob.x + side * ui.px(3), knob.y - ui.px(4)),
                                ImVec2(knob.x + side * ui.px(3), knob.y + ui.px(4)), dusk::ink);
}

}  // namespace

void draw_page_wiper(const Studio& studio, const Area& page) {
    Ui& ui = studio.ui;
    const Figure figure = largest_figure(studio, inside_page(ui, page));
    want_face(studio, figure.px_per_mm);
    const auto face = studio.session.face();
    Wiper& wiper = studio.view.shelf.at<Wiper>();
    if (face) {
        ImDrawList* list = ImGui::GetWindowDrawList();
        const float x = figure.area.x + wiper.share * figure.area.width;
        list->PushClipRect(ImVec2(page.x, page.y), ImVec2(x, page.bottom()), true);
        draw_bar_image(list, studio.view.poured, face->margin_px, figure.area);
        list->PopClipRect();
        list->PushClipRect(ImVec2(x, page.y), ImVec2(page.right(), page.bottom()), true);
        draw_bar_image(list, studio.view.drawn, face->margin_px, figure.area);
        list->PopClipRect();
    }
    if (draw_fault(studio, page) || !face) return;
    ui.note_rect("face", figure.min(), figure.max());
    drag_wiper(studio, figure, wiper);
    const float after = draw_caption(studio, figure.area, "As poured");
    const char* right = "Cut face";
    const float right_x = figure.area.right() - ui.text_width(ui.fonts.bold, right);
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.bold,
               ImVec2(right_x, figure.area.bottom() + ui.px(22) - ui.fonts.bold->FontSize / 2), dusk::ink,
               right);
    // Beside a narrow figure, where there is no room for it between the words.
    const bool narrow = right_x - after < ui.px(150);
    draw_scale_bar(studio, narrow ? figure.area.right() + ui.px(30) : after + ui.px(30),
                   narrow ? page.right() - ui.px(20) : right_x - ui.px(20), figure.area.bottom() + ui.px(21),
                   figure.px_per_mm);
    draw_sketch_note(studio, figure.area);
    const bool drawn = ImGui::GetMousePos().x > figure.area.x + wiper.share * figure.area.width;
    draw_whence(studio, *face, figure, drawn);
    draw_loupe(studio, face, figure, drawn);
}

}  // namespace foreslice::studio
