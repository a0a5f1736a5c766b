// Step 3: what is poured in which order, shown the way it lies in the mould: the last pour on top.
#include <algorithm>

#include "design/limits.h"
#include "studio/session/edits.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

namespace limits = design::limits;

void draw_move(const Studio& studio, std::size_t pour, bool up) {
    const std::size_t count = studio.session.design().pours.size();
    const bool possible = up ? pour + 1 < count : pour > 0;
    ImGui::BeginDisabled(!possible);
    const std::string name = std::string(up ? "up:" : "down:") + std::to_string(pour);
    if (studio.ui.button(name, up ? "↑" : "↓", ButtonKind::quiet, ImVec2(studio.ui.px(32), studio.ui.px(32))))
        studio.session.edit(with_pour_moved(studio.session.design(), pour, up ? pour + 1 : pour - 1),
                            up ? "pour it later" : "pour it earlier");
    ImGui::EndDisabled();
}

void draw_portion_list(const Studio& studio, std::size_t pour, float width) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const std::size_t portion = portion_index(design, design.pours[pour].portion);
    const std::string shown = portion < design.portions.size() ? portion_name(design.portions[portion])
                                                               : design.pours[pour].portion;
    ImGui::BeginChild(("list" + std::to_string(pour)).c_str(), ImVec2(width, ui.px(32)), false,
                      ImGuiWindowFlags_NoScrollbar);
    const std::string name = "pour:" + std::to_string(pour);
    std::size_t chosen = portion;
    if (ui.begin_list(name, "", shown)) {
        for (std::size_t i = 0; i < design.portions.size(); ++i)
            if (ui.list_entry(name + "/" + design.portions[i].id, portion_name(design.portions[i]),
                              i == portion))
                chosen = i;
        ui.end_list();
    }
    ImGui::EndChild();
    if (chosen == portion || chosen >= design.portions.size()) return;
    auto next = design;
    next.pours[pour].portion = next.portions[chosen].id;
    studio.session.edit(std::move(next), "pour another portion");
}

bool draw_pour_row(const Studio& studio, std::size_t pour) {
    Ui& ui = studio.ui;
    const auto& design = studio.session.design();
    const std::size_t portion = portion_index(design, design.pours[pour].portion);
    ImGui::PushID(static_cast<int>(pour));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ui.text_at(ImGui::GetWindowDrawList(), ui.fonts.small, ImVec2(at.x + ui.px(18), at.y + ui.px(9)),
               dusk::fog, std::to_string(pour + 1), 1);
    ImGui::SetCursorScreenPos(ImVec2(at.x + ui.px(28), at.y + ui.px(4)));
    ui.swatch(colour_of_portion(studio.session, portion), ImVec2(ui.px(30), ui.px(24)));
    ImGui::SameLine();
    ImGui::SetCursorScreenPos(ImVec2(ImGui::GetCursorScreenPos().x, at.y));
    const float buttons = 3 * ui.px(32) + 3 * ui.px(4);
    draw_portion_list(studio, pour, ImGui::GetContentRegionAvail().x - buttons);
    ImGui::SameLine(0, ui.px(4));
    draw_move(studio, pour, true);
    ImGui::SameLine(0, ui.px(4));
    draw_move(studio, pour, false);
    ImGui::SameLine(0, ui.px(4));
    ImGui::BeginDisabled(!pour_can_go(studio.session.design(), pour));
    const bool remove =
        ui.button("pour-out:" + std::to_string(pour), "×", ButtonKind::quiet, ImVec2(ui.px(32), ui.px(32)));
    ui.help("Take this pour out; the portion's other pours take its batter.");
    ImGui::EndDisabled();
    ImGui::PopID();
    if (remove) studio.session.edit(without_pour(studio.session.design(), pour), "take a pour out");
    return remove;
}

void draw_part(const Studio& studio, std::size_t pour) {
    Ui& ui = studio.ui;
    auto next = studio.session.design();
    const std::string number = std::to_string(pour);
    bool fixed = next.pours[pour].part_percent.has_value();
    if (ui.check("part-fixed:" + number, "a set part of its portion", fixed)) {
        const auto areas = design::pour_areas_mm2(next);
        double whole = 0;
        for (std::size_t i = 0; i < areas.size(); ++i)
            if (next.pours[i].portion == next.pours[pour].portion) whole += areas[i];
        const double now = whole > 0 ? 100 * areas[pour] / whole : 100;
        next.pours[pour].part_percent = fixed ? std::optional<double>(now) : std::nullopt;
        studio.session.edit(std::move(next),
                            fixed ? "set the part of a pour" : "let a pour take what is left");
        return;
    }
    if (!fixed) return;
    const Quantity part{"part:" + number,
                        "Part",
                        Unit::percent,
                        limits::part_percent.least,
                        limits::part_percent.most,
                        0,
                        100,
                        1,
                        1,
                        "How much of this portion goes in with this pour."};
    double value = *next.pours[pour].part_percent;
    const Edited edited = ui.quantity(part, value);
    next.pours[pour].part_percent = value;
    apply(studio, edited, std::move(next), "part of a pour", part.name);
}

void draw_unevenness(const Studio& studio) {
    Ui& ui = studio.ui;
    auto next = studio.session.design();
    if (next.pours.empty()) return;
    double uneven = next.pours.front().unevenness_mm;
    const Quantity quantity{"unevenness",
                            "Unevenness",
                            Unit::mm,
                            limits::unevenness_mm.least,
                            limits::unevenness_mm.most,
                            0,
                            4,
                            0.1,
                            1,
                            "How far the top of each layer strays from level; no hand pours dead flat."};
    const Edited edited = ui.quantity(quantity, uneven);
    if (edited.changed)
        for (auto& pour : next.pours) pour.unevenness_mm = uneven;
    apply(studio, edited, std::move(next), "unevenness of the layers", quantity.name);
    if (ui.button("another-hand", "Pour it again with another hand", ButtonKind::plain, ImVec2(-1, 0))) {
        auto again = studio.session.design();
        again.seed = again.seed >= 9007199254740991ULL ? 1 : again.seed + 1;
        studio.session.edit(std::move(again), "another hand");
    }
    ui.help("The same recipe with other chance unevenness (hand " +
            std::to_string(studio.session.design().seed) + " now).");
}

}  // namespace

void draw_pour(const Studio& studio) {
    Ui& ui = studio.ui;
    const std::size_t count = studio.session.design().pours.size();
    ui.section("Layers, top to bottom");
    for (std::size_t i = count; i-- > 0;)
        if (draw_pour_row(studio, i)) return;
    ImGui::BeginDisabled(count >= limits::pours);
    if (ui.begin_list("pour-add", "", "Pour once more…")) {
        std::string chosen;
        for (const auto& portion : studio.session.design().portions)
            if (ui.list_entry("pour-add/" + portion.id, portion_name(portion), false)) chosen = portion.id;
        ui.end_list();
        if (!chosen.empty())
            studio.session.edit(with_new_pour(studio.session.design(), chosen), "pour once more");
    }
    ImGui::EndDisabled();
    draw_pour_manner(studio);
    bool any = false;
    for (std::size_t i = studio.session.design().pours.size(); i-- > 0;) {
        if (!pour_can_go(studio.session.design(), i)) continue;  // the only pour of a portion takes all of it
        if (!any) ui.section("How a portion is divided over its pours");
        any = true;
        const auto& design = studio.session.design();
        const std::size_t portion = portion_index(design, design.pours[i].portion);
        if (portion >= design.portions.size()) continue;
        ImGui::TextUnformatted(
            (std::to_string(i + 1) + "  " + portion_name(design.portions[portion])).c_str());
        ImGui::PushID(static_cast<int>(1000 + i));
        draw_part(studio, i);
        ImGui::PopID();
    }
    ui.section("By hand");
    draw_unevenness(studio);
}

}  // namespace foreslice::studio
