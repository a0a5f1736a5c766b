// What several panels need.
#include "studio/window/panels.h"

namespace foreslice::studio {

bool begin_panel(const char* name, const Area& area, Ui& ui) {
    ui.note_rect(name, ImVec2(area.x, area.y), ImVec2(area.right(), area.bottom()));
    ImGui::SetCursorScreenPos(ImVec2(area.x, area.y));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(18), ui.px(14)));
    ImGui::PushStyleColor(ImGuiCol_ChildBg, dusk::quay);
    const bool visible = ImGui::BeginChild(name, ImVec2(area.width, area.height), true);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
    return visible;
}

void end_panel() {
    ImGui::EndChild();
}

void apply(const Studio& studio, Edited edited, design::Design next, const std::string& words,
           const std::string& field) {
    if (edited.changed) studio.session.edit(std::move(next), words, field);
    if (edited.closed) studio.session.close_step();
}

ShownUnits units_of(const design::Design& design) {
    const bool us = design.bench.units == batter::UnitSystem::us;
    return {us, us};
}

const char* name_of(Step step) {
    switch (step) {
        case Step::batter:
            return "Batter";
        case Step::tint:
            return "Split and tint";
        case Step::pour:
            return "Pour";
        case Step::wire:
            return "Draw the wire";
        case Step::top:
            return "Top";
        case Step::cut:
            return "Cut";
        case Step::cure:
            break;
    }
    return "Cure";
}

std::string portion_name(const design::Portion& portion) {
    return portion.name.empty() ? portion.id : portion.name;
}

colour::EncodedSrgb colour_of_portion(const Session& session, std::size_t portion) {
    if (portion < session.colours().size())
        return colour::encoded(seen_so(session.colours()[portion], session.seeing()));
    return {128, 128, 128};
}

}  // namespace foreslice::studio
