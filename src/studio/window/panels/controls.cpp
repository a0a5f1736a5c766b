// The column at the right: a heading that says what this step decides, then its controls.
#include "studio/window/panel_list.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

const char* question_of(Step step) {
    switch (step) {
        case Step::batter:
            return "How large is the loaf, and how thick is the batter when you pour?";
        case Step::tint:
            return "How is the batter split, and what goes into each jug?";
        case Step::pour:
            return "Which portion goes in first, and which on top of it?";
        case Step::wire:
            return "What way does the wire take through the layers?";
        case Step::top:
            return "How is the top left?";
        case Step::cut:
            return "How thick are the bars, and where do you look?";
        case Step::cure:
            break;
    }
    return "What do weeks do to the bars?";
}

}  // namespace

void draw_controls(const Studio& studio, const Area& area) {
    Ui& ui = studio.ui;
    ImGui::PushID(static_cast<int>(studio.view.step));  // each step keeps its own place in the scrolling
    if (begin_panel("controls", area, ui)) {
        ImGui::PushFont(ui.fonts.title);
        ImGui::TextUnformatted(name_of(studio.view.step));
        ImGui::PopFont();
        ui.quiet_text(question_of(studio.view.step));
        switch (studio.view.step) {
            case Step::batter:
                draw_batter(studio);
                break;
            case Step::tint:
                draw_tint(studio);
                break;
            case Step::pour:
                draw_pour(studio);
                break;
            case Step::wire:
                draw_wire(studio);
                break;
            case Step::top:
                draw_top(studio);
                break;
            case Step::cut:
                draw_cut(studio);
                break;
            case Step::cure:
                draw_cure(studio);
                break;
        }
        for (const StepSection& section : all_step_sections())
            if (section.step == studio.view.step) section.draw(studio);
    }
    end_panel();
    ImGui::PopID();
}

}  // namespace foreslice::studio
