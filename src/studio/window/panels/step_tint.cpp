// Step 2: the portions, their shares, and what goes into each jug.
#include <algorithm>
#include <cmath>

#include "design/limits.h"
#include "design/tint.h"
#include "studio/session/edits.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;

// A jug as a tile: its colour, its name, its share.
void draw_jug(const Studio& studio, std::size_t index, float width) {
    Ui& ui = studio.ui;
    const auto& portion = studio.session.design().portions[index];
    const bool chosen = studio.view.portion == index;
    const float height = ui.px(46);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const std::string name = "portion:" + portion.id;
    if (ImGui::InvisibleButton(name.c_str(), ImVec2(width, height))) studio.view.portion = index;
    ui.note(name, chosen ? "chosen" : "");
    offer_portion(studio, index);
    ui.help("A click shows what goes in; drag it onto a layer to pour this portion there.");
    const bool over = ImGui::IsItemHovered();
    if (over) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 end(at.x + width, at.y + height);
    list->AddRectFilled(at, end, chosen ? dusk::slate : over ? dusk::slate_deep : dusk::well, ui.px(6));
    if (chosen) list->AddRect(at, end, dusk::lamp, ui.px(6), 0, ui.px(2));
    const auto colour = colour_of_portion(studio.session, index);
    const ImVec2 patch(at.x + ui.px(7), at.y + ui.px(7)), patch_end(patch.x + ui.px(34), end.y - ui.px(7));
    list->AddRectFilled(patch, patch_end, IM_COL32(colour.r, colour.g, colour.b, 255), ui.px(4));
    list->AddRect(patch, patch_end, dusk::rgb(0xffffff, 60), ui.px(4));
    const float x = patch_end.x + ui.px(9), room = end.x - x - ui.px(6);
    ImFont* font = chosen ? ui.fonts.small_bold : ui.fonts.small;
    ui.text_at(list, font, ImVec2(x, at.y + ui.px(6)), dusk::chalk,
               ui.fitted(font, portion_name(portion), room));
    ui.text_at(list, ui.fonts.small, ImVec2(x, at.y + ui.px(24)), dusk::fog,
               format_quantity(portion.share_percent, Unit::percent, 1));
}

void draw_share(const Studio& studio, std::size_t index) {
    double share = studio.session.design().portions[index].share_percent;
    const std::string name = "share";
    const Quantity quantity{name,
                            "Share of the batter",
                            Unit::percent,
                            0.5,
                            99.5,
                            0,
                            60,
                            0.5,
                            1,
                            "The other portions give or take in proportion, so that all add up to 100 %."};
    const Edited edited = studio.ui.quantity(quantity, share);
    apply(studio, edited, with_share(studio.session.design(), index, share),
          "share of " + portion_name(studio.session.design().portions[index]),
          "share:" + std::to_string(index));
}

void draw_colourant_list(const Studio& studio, std::size_t index) {
    Ui& ui = studio.ui;
    if (!ui.begin_list("add-colourant", "", "Add a colourant…")) return;
    const auto& portion = studio.session.design().portions[index];
    std::string chosen;
    for (const auto& colourant : studio.session.colour_library().colourants()) {
        const bool has = colourant.id == portion.white.colourant ||
                         std::any_of(portion.doses.begin(), portion.doses.end(),
                                     [&](const auto& dose) { return dose.colourant == colourant.id; });
        if (has) continue;
        if (ui.list_entry("add-colourant/" + colourant.id, colourant.name + "   " + colourant.kind, false))
            chosen = colourant.id;
        ui.help(colourant.provenance);
    }
    ui.end_list();
    if (chosen.empty()) return;
    const double dose = studio.session.colour_library().find(chosen)->usual_most_g_per_kg_oils / 5;
    studio.session.edit(with_colourant(studio.session.design(), index, chosen, dose), "add " + chosen);
}

void draw_jug_inside(const Studio& studio, std::size_t index) {
    Ui& ui = studio.ui;
    const std::string id = studio.session.design().portions[index].id;
    const std::string title = portion_name(studio.session.design().portions[index]);
    ui.section(ui.fitted(ui.fonts.bold, title, ImGui::GetContentRegionAvail().x - ui.px(40)).c_str());
    ImGui::PushID(id.c_str());
    draw_age_swatches(studio, index);
    draw_doses(studio, index);
    draw_colourant_list(studio, index);
    draw_reach(studio, index);
    draw_share(studio, index);
    auto renamed = studio.session.design();
    const Edited edited = ui.text_field("portion-name", "Name", renamed.portions[index].name);
    apply(studio, edited, std::move(renamed), "name of a portion", "name:" + id);
    ImGui::PopID();
}

}  // namespace

void draw_tint(const Studio& studio) {
    Ui& ui = studio.ui;
    const std::size_t count = studio.session.design().portions.size();
    if (count == 0) return;
    studio.view.portion = std::min(studio.view.portion, count - 1);
    ui.section("Portions");
    const float half = std::floor((ImGui::GetContentRegionAvail().x - ui.px(8)) / 2);
    for (std::size_t i = 0; i < count; ++i) {
        if (i % 2 != 0) ImGui::SameLine(0, ui.px(8));
        draw_jug(studio, i, half);
    }
    draw_jug_inside(studio, studio.view.portion);
    ImGui::Dummy(ImVec2(0, ui.px(4)));
    ImGui::BeginDisabled(count >= limits::portions);
    if (ui.button("portion:add", "Another portion", ButtonKind::plain, ImVec2(half, 0))) {
        studio.session.edit(with_new_portion(studio.session.design()), "another portion");
        studio.view.portion = studio.session.design().portions.size() - 1;
    }
    ImGui::EndDisabled();
    ImGui::SameLine(0, ui.px(8));
    ImGui::BeginDisabled(count < 2);
    if (ui.button("portion:out", "Do without this one", ButtonKind::plain, ImVec2(half, 0)))
        studio.session.edit(without_portion(studio.session.design(), studio.view.portion),
                            "do without a portion");
    ui.help("Takes the portion and its pours out; the others share its batter.");
    ImGui::EndDisabled();
    if (studio.view.portion >= studio.session.design().portions.size()) return;
    draw_themes(studio);
    draw_match(studio, studio.view.portion);
    draw_light(studio);
}

}  // namespace foreslice::studio
