// The loaf from the side along the lower edge of the paper, its bars, and the knife, which slides along it.
#include <algorithm>
#include <cmath>

#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

constexpr double snap_mm = 1.2;  // nearer than this the knife goes to where a bar begins

struct Strip {
    Area loaf;
    double length_mm = 1;
    float x_of(double z_mm) const { return loaf.x + loaf.width * static_cast<float>(z_mm / length_mm); }
    double z_of(float x) const {
        return std::clamp(static_cast<double>((x - loaf.x) / loaf.width), 0.0, 1.0) * length_mm;
    }
};

// The layers as the side of the loaf would show them if they lay level.
void draw_layers(const Studio& studio, const Strip& strip) {
    const auto& design = studio.session.design();
    const auto areas = design::pour_areas_mm2(design);
    double whole = 0;
    for (const double area : areas) whole += area;
    if (!(whole > 0)) return;
    ImDrawList* list = ImGui::GetWindowDrawList();
    double below = 0;
    for (std::size_t i = 0; i < areas.size(); ++i) {
        const auto colour = colour_of_portion(studio.session, portion_index(design, design.pours[i].portion));
        const float bottom = strip.loaf.bottom() - strip.loaf.height * static_cast<float>(below / whole);
        below += areas[i];
        const float top = strip.loaf.bottom() - strip.loaf.height * static_cast<float>(below / whole);
        list->AddRectFilled(ImVec2(strip.loaf.x, top), ImVec2(strip.loaf.right(), bottom),
                            IM_COL32(colour.r, colour.g, colour.b, 255));
    }
}

void draw_bars(const Studio& studio, const Strip& strip) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const int bars = design::bar_count(design), shown = shown_bar(studio);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float top = strip.loaf.y, bottom = strip.loaf.bottom();
    const auto veil = [&](double from, double to) {
        list->AddRectFilled(ImVec2(strip.x_of(from), top), ImVec2(strip.x_of(to), bottom),
                            (dusk::paper & 0x00ffffffU) | (150U << 24U));
    };
    veil(0, design.cut.trim_mm);
    veil(design.cut.trim_mm + bars * design.cut.bar_thickness_mm, strip.length_mm);
    for (int bar = 1; bar <= bars; ++bar) {
        const double z = design::bar_face_z_mm(design, bar);
        const float x = strip.x_of(z), end = strip.x_of(z + design.cut.bar_thickness_mm);
        list->AddLine(ImVec2(x, top), ImVec2(x, bottom), dusk::paper, ui.px(2));
        if (bar == bars) list->AddLine(ImVec2(end, top), ImVec2(end, bottom), dusk::paper, ui.px(2));
        ui.note_rect("strip-bar:" + std::to_string(bar), ImVec2(x, top), ImVec2(end, bottom),
                     bar == shown ? "shown" : "");
        if (bar == shown)
            list->AddRect(ImVec2(x + ui.px(1), top), ImVec2(end, bottom), dusk::ink, 0, 0, ui.px(2));
    }
}

void draw_knife(const Studio& studio, const Strip& strip, bool lit) {
    const Ui& ui = studio.ui;
    const float x = strip.x_of(shown_z_mm(studio));
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float top = strip.loaf.y - ui.px(9), bottom = strip.loaf.bottom() + ui.px(3);
    list->AddLine(ImVec2(x, top), ImVec2(x, bottom), dusk::paper, ui.px(5));
    list->AddLine(ImVec2(x, top), ImVec2(x, bottom), lit ? dusk::lamp_deep : dusk::ink, ui.px(2.5F));
    list->AddRectFilled(ImVec2(x - ui.px(6), top - ui.px(2)), ImVec2(x + ui.px(6), top + ui.px(6)),
                        lit ? dusk::lamp_deep : dusk::ink, ui.px(3));
}

void slide_knife(const Studio& studio, const Strip& strip) {
    Ui& ui = studio.ui;
    const float reach = ui.px(10);
    ImGui::SetCursorScreenPos(ImVec2(strip.loaf.x, strip.loaf.y - reach));
    ImGui::InvisibleButton("loaf-strip", ImVec2(strip.loaf.width, strip.loaf.height + reach));
    ui.note("loaf-strip", ui.shown(shown_z_mm(studio), Unit::mm, 1));
    ui.help("Slide the cut along the loaf; the face is the one that it opens.");
    const bool held = ImGui::IsItemActive(), over = ImGui::IsItemHovered();
    if (held || over) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    if (held) put_knife(studio, strip.z_of(ImGui::GetMousePos().x));
    draw_knife(studio, strip, held || over);
}

float draw_steps(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    const int bars = std::max(1, design::bar_count(studio.session.design())), bar = shown_bar(studio);
    std::string words = "bar " + std::to_string(bar) + " of " + std::to_string(bars);
    const std::string where = ui.shown(shown_z_mm(studio), Unit::mm, 1) + " along";
    const float end = ui.px(28), middle = ui.px(112), y = area.y + (area.height - ui.px(32)) / 2;
    const float x = area.right() - 2 * end - middle;
    ImGui::SetCursorScreenPos(ImVec2(x, y));
    ImGui::BeginDisabled(bar <= 1 && !studio.view.cut_z_mm);
    if (ui.button("bar:less", "‹", ButtonKind::paper, ImVec2(end, ui.px(32))))
        run(Action::earlier_bar, studio);
    ImGui::EndDisabled();
    ImDrawList* list = ImGui::GetWindowDrawList();
    ui.text_at(list, ui.fonts.small_bold, ImVec2(x + end + middle / 2, y - ui.px(1)), dusk::ink, words, 0.5F);
    ui.text_at(list, ui.fonts.small, ImVec2(x + end + middle / 2, y + ui.px(16)), dusk::ink_soft, where,
               0.5F);
    ui.note_rect("bar", ImVec2(x + end, y), ImVec2(x + end + middle, y + ui.px(32)), words);
    ImGui::SetCursorScreenPos(ImVec2(x + end + middle, y));
    ImGui::BeginDisabled(bar >= bars);
    if (ui.button("bar:more", "›", ButtonKind::paper, ImVec2(end, ui.px(32)))) run(Action::later_bar, studio);
    ImGui::EndDisabled();
    return x;
}

}  // namespace

void put_knife(const Studio& studio, double z_mm) {
    const auto& design = studio.session.design();
    const int bars = design::bar_count(design);
    studio.view.bar = std::clamp(
        1 + static_cast<int>(std::floor((z_mm - design.cut.trim_mm) / design.cut.bar_thickness_mm)), 1,
        std::max(1, bars));
    studio.view.cut_z_mm = std::round(2 * z_mm) / 2;
    for (int near = 1; near <= bars; ++near)
        if (std::abs(z_mm - design::bar_face_z_mm(design, near)) < snap_mm) {
            studio.view.bar = near;
            studio.view.cut_z_mm.reset();
        }
}

void draw_loaf_strip(const Studio& studio, const Area& area) {
    const float right = draw_steps(studio, area);
    const Ui& ui = studio.ui;
    const char* title = "The loaf";
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.small,
               ImVec2(area.x, area.y + (area.height - ui.fonts.small->FontSize) / 2), dusk::ink_soft, title);
    const float left = area.x + ui.text_width(ui.fonts.small, title) + ui.px(16);
    const float height = ui.px(26);
    const Strip strip{
        {left, area.y + (area.height - height) / 2 + ui.px(3), right - ui.px(18) - left, height},
        studio.session.design().mould.length_mm};
    if (strip.loaf.width < ui.px(60)) return;
    draw_layers(studio, strip);
    draw_bars(studio, strip);
    slide_knife(studio, strip);
}

}  // namespace foreslice::studio
