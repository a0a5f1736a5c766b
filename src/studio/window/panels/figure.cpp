#include "studio/window/panels/figure.h"

#include <algorithm>
#include <cmath>

#include "picture/top_view.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {

bool Figure::under_mouse() const {
    return ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem) &&
           ImGui::IsMouseHoveringRect(min(), max());
}

Area inside_page(const Ui& ui, const Area& page) {
    return {page.x + ui.px(22), page.y + ui.px(12), page.width - ui.px(44), page.height - ui.px(24)};
}

double rise_mm(const Studio& studio) {
    const auto face = studio.session.face();
    if (!face || !face->drawn.top) return 0;
    const double width_px = face->drawn_bar.width_px - 2 * face->margin_px;
    const double height_px = face->drawn_bar.height_px - 2 * face->margin_px;
    if (width_px <= 0) return 0;
    const auto& mould = face->order.design.mould;
    const double thickness_mm = face->order.design.cut.bar_thickness_mm;
    const double behind_mm = thickness_mm * picture::rise_per_depth(thickness_mm);
    const double rise_mm = mould.width_mm * height_px / width_px - mould.fill_mm + behind_mm;
    // In steps, so that a face of another scale, rounded to other pixels, does not ask for a third.
    return std::max(0.0, 2 * std::ceil(rise_mm / 2));
}

Figure largest_figure(const Studio& studio, const Area& inside, bool handles) {
    const Ui& ui = studio.ui;
    const auto& mould = studio.session.design().mould;
    const float caption = ui.px(40), above = ui.px(handles ? 34 : 8);
    const double wide = std::max(20.0F, inside.width),
                 high = std::max(20.0F, inside.height - caption - above);
    const double rise = rise_mm(studio);
    const double scale = std::min(wide / mould.width_mm, high / (mould.fill_mm + rise));
    Figure out;
    out.px_per_mm = std::max(0.125, std::floor(scale * 8) / 8);
    const auto width = static_cast<float>(std::round(mould.width_mm * out.px_per_mm));
    const auto height = static_cast<float>(std::round(mould.fill_mm * out.px_per_mm));
    const auto top = static_cast<float>(rise * out.px_per_mm);
    const float slack = inside.height - caption - above - top - height;
    out.area = {std::round(inside.x + (inside.width - width) / 2),
                std::round(inside.y + above + top + slack / 2), width, height};
    return out;
}

void want_face(const Studio& studio, double px_per_mm) {
    studio.session.show(shown_bar(studio), std::clamp(px_per_mm, picture::least_px_per_mm, 12.0),
                        studio.view.cut_z_mm);
}

void keep_face(const Studio& studio, const Area& page) {
    const auto face = studio.session.face();
    want_face(studio,
              face ? face->order.px_per_mm : largest_figure(studio, inside_page(studio.ui, page)).px_per_mm);
}

void refresh_textures(const Studio& studio) {
    const auto face = studio.session.face();
    if (!face) return;
    const std::uint64_t stamp = face->number * 2 + (face->sketch ? 0 : 1);
    if (stamp == studio.view.textures_of) return;
    studio.view.textures_of = stamp;
    studio.view.drawn.upload(face->drawn_bar);
    studio.view.poured.upload(face->poured_bar);
}

void draw_bar_image(ImDrawList* list, const Texture& texture, int margin_px, const Area& figure,
                    float alpha) {
    if (texture.empty()) return;
    const float inner_width = static_cast<float>(texture.width_px() - 2 * margin_px);
    if (inner_width <= 0) return;
    const float scale = figure.width / inner_width;
    const float side = scale * static_cast<float>(margin_px);
    const float height = scale * static_cast<float>(texture.height_px());
    list->AddImage(texture.id(), ImVec2(figure.x - side, figure.bottom() + side - height),
                   ImVec2(figure.right() + side, figure.bottom() + side), ImVec2(0, 0), ImVec2(1, 1),
                   IM_COL32(255, 255, 255, static_cast<int>(255 * alpha)));
}

float draw_caption(const Studio& studio, const Area& figure, const std::string& title) {
    const Ui& ui = studio.ui;
    const float y = figure.bottom() + ui.px(22) - ui.fonts.bold->FontSize / 2;
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.bold, ImVec2(figure.x, y), dusk::ink, title);
    return figure.x + ui.text_width(ui.fonts.bold, title);
}

void draw_scale_bar(const Studio& studio, float x, float right, float y, double px_per_mm) {
    const Ui& ui = studio.ui;
    const bool inches = ui.units.inches;
    const double unit_mm = inches ? 25.4 : 1;
    const double room = static_cast<double>(
        std::min(ui.px(130), right - x - ui.px(8) - ui.text_width(ui.fonts.small, "100 mm")));
    double length = 0;
    for (const double candidate : {0.125, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0})
        if (candidate * unit_mm * px_per_mm <= room && (inches || candidate >= 1)) length = candidate;
    if (length == 0) return;
    const auto width = static_cast<float>(std::round(length * unit_mm * px_per_mm));
    const std::string words = format_number(length, 3) + (inches ? " in" : " mm");
    const float tick = ui.px(4), thick = ui.px(1.5F);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(ImVec2(x, y), ImVec2(x + width, y + thick), dusk::ink);
    list->AddRectFilled(ImVec2(x, y - tick), ImVec2(x + thick, y + tick + thick), dusk::ink);
    list->AddRectFilled(ImVec2(x + width - thick, y - tick), ImVec2(x + width, y + tick + thick), dusk::ink);
    ui.text_at(list, ui.fonts.small, ImVec2(x + width + ui.px(8), y - ui.fonts.small->FontSize / 2),
               dusk::ink, words);
    studio.ui.note_rect("scale-bar", ImVec2(x, y - tick), ImVec2(x + width, y + tick), words);
}

void draw_tool(const Ui& ui, ImDrawList* list, const Figure& figure, const flow::ToolShape& shape, ImVec2 at,
               bool filled) {
    const auto radius =
        std::max(ui.px(shape.round() ? 3 : 1.5F), static_cast<float>(shape.radius_mm() * figure.px_per_mm));
    const auto placed = [&](Vec2 offset) {
        return ImVec2(at.x + static_cast<float>(offset.x * figure.px_per_mm),
                      at.y - static_cast<float>(offset.y * figure.px_per_mm));
    };
    for (const auto& core : shape.cores()) {
        const ImVec2 a = placed(core.a), b = placed(core.b);
        if (!shape.round()) {
            list->AddLine(a, b, dusk::ink, 2 * radius + ui.px(3));
            if (filled) list->AddLine(a, b, dusk::lamp, 2 * radius);
            continue;
        }
        if (filled) list->AddCircleFilled(a, radius, dusk::lamp, 24);
        list->AddCircle(a, radius, dusk::ink, 24, ui.px(1.5F));
    }
}

void draw_tag(const Ui& ui, ImVec2 at, const std::string& words) {
    const float width = ui.text_width(ui.fonts.small_bold, words) + ui.px(20), height = ui.px(24);
    at.x -= width / 2;
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, ImVec2(at.x + width, at.y + height), dusk::rgb(0x141d28, 215), height / 2);
    ui.text_at(list, ui.fonts.small_bold,
               ImVec2(at.x + width / 2, at.y + (height - ui.fonts.small->FontSize) / 2), dusk::rgb(0xece6d8),
               words, 0.5F);
}

void draw_sketch_note(const Studio& studio, const Area& figure) {
    if (!studio.session.face_status().sketch) return;
    draw_tag(studio.ui, ImVec2(figure.x + figure.width / 2, figure.y + studio.ui.px(12)),
             "sketch · a finer one is coming");
}

bool draw_fault(const Studio& studio, const Area& page) {
    const std::string& sentence = studio.session.fault();
    if (sentence.empty()) return false;
    const Ui& ui = studio.ui;
    ImDrawList* list = ImGui::GetWindowDrawList();
    // The old picture stays, but nobody should take it for the design as it stands.
    list->AddRectFilled(ImVec2(page.x, page.y), ImVec2(page.right(), page.bottom()),
                        (dusk::paper & 0x00ffffffU) | (225U << 24U), ui.px(6));
    const float width = std::min(page.width * 0.7F, ui.px(460));
    ImGui::SetCursorScreenPos(ImVec2(page.x + (page.width - width) / 2, page.y + page.height * 0.36F));
    ImGui::BeginGroup();
    ImGui::PushStyleColor(ImGuiCol_Text, dusk::ink);
    ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
    ImGui::PushFont(ui.fonts.bold);
    ImGui::TextUnformatted("This cannot be made as it stands");
    ImGui::PopFont();
    ImGui::TextUnformatted(sentence.c_str());
    ImGui::PopTextWrapPos();
    ImGui::PopStyleColor();
    ImGui::EndGroup();
    return true;
}

}  // namespace foreslice::studio
