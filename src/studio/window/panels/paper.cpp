// The sheet of paper in the middle: tabs for the ways of looking at the design, the page itself, and along
// its lower edge the loaf with the place of the cut.
#include <algorithm>
#include <cmath>

#include "studio/window/actions.h"
#include "studio/window/panel_list.h"
#include "studio/window/panels.h"
#include "studio/window/panels/figure.h"
#include "studio/window/panels/making.h"

namespace foreslice::studio {
namespace {

void draw_sheet(const Ui& ui, const Area& area) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    // Only its rim: filling the whole sheet several times over would cost more than everything else on it.
    for (int i = 1; i <= 5; ++i) {
        const float reach = ui.px(1.5F) * static_cast<float>(i);
        list->AddRect(ImVec2(area.x - reach, area.y - reach + ui.px(3)),
                      ImVec2(area.right() + reach, area.bottom() + reach + ui.px(3)),
                      dusk::rgb(0x000000, static_cast<unsigned>(75 - 14 * i)), ui.px(6) + reach, 0, ui.px(2));
    }
    list->AddRectFilled(ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()), dusk::paper, ui.px(6));
}

float draw_tab(const Studio& studio, std::size_t index, ImVec2 at, float height) {
    Ui& ui = studio.ui;
    const Page& page = all_pages()[index];
    const bool chosen = studio.view.page == index;
    const float width = ui.text_width(ui.fonts.bold, page.words) + ui.px(24);
    ImGui::SetCursorScreenPos(at);
    const std::string name = std::string("page:") + page.id;
    if (ImGui::InvisibleButton(name.c_str(), ImVec2(width, height))) studio.view.page = index;
    const bool over = ImGui::IsItemHovered();
    ui.note(name, chosen ? "chosen" : "");
    ui.help(page.help);
    if (over) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    ImDrawList* list = ImGui::GetWindowDrawList();
    if (over && !chosen)
        list->AddRectFilled(at, ImVec2(at.x + width, at.y + height - ui.px(4)), dusk::paper_shade, ui.px(5));
    ui.text_at(list, chosen ? ui.fonts.bold : ui.fonts.body,
               ImVec2(at.x + width / 2, at.y + (height - ui.fonts.body->FontSize) / 2 - ui.px(2)),
               chosen ? dusk::ink : dusk::ink_soft, page.words, 0.5F);
    if (chosen)
        list->AddRectFilled(ImVec2(at.x + ui.px(12), at.y + height - ui.px(3)),
                            ImVec2(at.x + width - ui.px(12), at.y + height), dusk::lamp_deep, ui.px(1.5F));
    if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible)
        list->AddRect(at, ImVec2(at.x + width, at.y + height), dusk::lamp_deep, ui.px(5), 0, ui.px(2));
    return width;
}

void draw_tabs(const Studio& studio, const Area& area) {
    const Ui& ui = studio.ui;
    float x = area.x + ui.px(12);
    for (std::size_t i = 0; i < all_pages().size(); ++i)
        x += draw_tab(studio, i, ImVec2(x, area.y), area.height) + ui.px(2);
    const char* words = loupe_on(studio) ? "Put the magnifier down" : "Magnifier";
    const float width = ui.text_width(ui.fonts.body, words) + ui.px(20);
    if (area.right() - ui.px(12) - width > x) {
        ImGui::SetCursorScreenPos(ImVec2(area.right() - ui.px(12) - width, area.y + ui.px(2)));
        if (studio.ui.button("loupe", words, ButtonKind::paper, ImVec2(width, area.height - ui.px(8))))
            run(Action::loupe, studio);
        studio.ui.help("A glass at the mouse that shows the face four times as large (F7).");
    }
    const float y = area.bottom() - ui.px(0.5F);
    ImGui::GetWindowDrawList()->AddLine(ImVec2(area.x + ui.px(12), y), ImVec2(area.right() - ui.px(12), y),
                                        dusk::paper_rule, ui.px(1));
}

}  // namespace

void draw_paper(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    draw_sheet(ui, area);
    refresh_textures(studio);
    studio.view.page = std::min(studio.view.page, all_pages().size() - 1);
    if (making_shown(studio)) {
        draw_making(studio, area);
        return;
    }
    const Area tabs{area.x, area.y + ui.px(4), area.width, ui.px(36)};
    draw_tabs(studio, tabs);
    const Page& page = all_pages()[studio.view.page];
    const bool strip = page.with_loaf_strip && studio.session.fault().empty();
    const float strip_height = strip ? ui.px(58) : 0;
    const Area inside{area.x, tabs.bottom(), area.width, area.bottom() - tabs.bottom() - strip_height};
    if (strip) studio.view.page_area = inside;
    page.draw(studio, inside);
    if (strip)
        draw_loaf_strip(
            studio, {area.x + ui.px(22), inside.bottom(), area.width - ui.px(44), strip_height - ui.px(10)});
}

}  // namespace foreslice::studio
