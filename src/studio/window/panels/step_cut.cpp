// Step 5: the cut, with the loaf seen from the side and its bars to choose from.
#include <algorithm>
#include <cmath>

#include "design/limits.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;

void draw_loaf(const Studio& studio) {
    Ui& ui = studio.ui;
    if (!studio.session.fault().empty()) return;
    const auto& design = studio.session.design();
    const int bars = std::max(1, design::bar_count(design));
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(72);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const auto x_of = [&](double z_mm) {
        return at.x + width * static_cast<float>(z_mm / design.mould.length_mm);
    };
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, ImVec2(at.x + width, at.y + height), dusk::well, ui.px(5));
    for (int bar = 1; bar <= bars; ++bar) {
        const double z = design.cut.trim_mm + (bar - 1) * design.cut.bar_thickness_mm;
        const ImVec2 min(x_of(z) + 1, at.y + ui.px(4));
        const ImVec2 max(std::max(x_of(z + design.cut.bar_thickness_mm) - 1, min.x + 1),
                         at.y + height - ui.px(4));
        ImGui::SetCursorScreenPos(min);
        const std::string name = "cut-bar:" + std::to_string(bar);
        if (ImGui::InvisibleButton(name.c_str(), ImVec2(max.x - min.x, max.y - min.y))) studio.view.bar = bar;
        ui.note(name);
        const bool chosen = bar == shown_bar(studio), over = ImGui::IsItemHovered();
        list->AddRectFilled(min, max, chosen ? dusk::lamp : over ? dusk::slate_lit : dusk::slate, ui.px(3));
        if (max.x - min.x > ui.px(18))
            ui.text_at(list, chosen ? ui.fonts.small_bold : ui.fonts.small,
                       ImVec2((min.x + max.x) / 2, (min.y + max.y) / 2 - ui.fonts.small->FontSize / 2),
                       chosen ? dusk::rgb(0x201708) : dusk::chalk, std::to_string(bar), 0.5F);
    }
    ImGui::SetCursorScreenPos(ImVec2(at.x, at.y + height));
    ImGui::Dummy(ImVec2(width, ui.px(2)));
}

void draw_name(const Studio& studio) {
    auto next = studio.session.design();
    const Edited name = studio.ui.text_field("design-name", "", next.name, "Name of the design");
    apply(studio, name, std::move(next), "name of the design", "design-name");
}

}  // namespace

void draw_cut(const Studio& studio) {
    Ui& ui = studio.ui;
    ui.section("Bars");
    {
        auto next = studio.session.design();
        const Quantity thickness{"cut:thickness",
                                 "Bar thickness",
                                 Unit::mm,
                                 limits::bar_thickness_mm.least,
                                 limits::bar_thickness_mm.most,
                                 10,
                                 60,
                                 0.5,
                                 1,
                                 "Along the loaf, from cut to cut. Thin bars let a little light through."};
        const Edited edited = ui.quantity(thickness, next.cut.bar_thickness_mm);
        apply(studio, edited, std::move(next), "bar thickness", thickness.name);
    }
    auto next = studio.session.design();
    const Quantity trim{"cut:trim",
                        "Off each end",
                        Unit::mm,
                        limits::trim_mm.least,
                        limits::trim_mm.most,
                        0,
                        30,
                        1,
                        1,
                        "The end walls disturb the pattern; what is trimmed there is not shown."};
    const Edited edited = ui.quantity(trim, next.cut.trim_mm);
    apply(studio, edited, std::move(next), "trimming", trim.name);
    ui.section("The loaf from the side");
    draw_loaf(studio);
    const auto& design = studio.session.design();
    if (studio.session.fault().empty()) {
        const int bars = design::bar_count(design);
        const double left =
            design.mould.length_mm - 2 * design.cut.trim_mm - bars * design.cut.bar_thickness_mm;
        ui.quiet_text(std::to_string(bars) + (bars == 1 ? " bar; " : " bars; ") +
                      format_quantity(std::max(0.0, left), Unit::mm, 1) + " of the loaf is left over.");
    }
    ui.section("On the label");
    draw_name(studio);
    draw_age(studio);
}

}  // namespace foreslice::studio
