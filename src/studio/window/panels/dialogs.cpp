// Everything that asks: files, unsaved changes, recovered work, the list of keys, troubles.
#include <algorithm>
#include <cmath>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "studio/window/actions.h"
#include "studio/window/file_browser.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

void wrapped(const std::string& text) {
    ImGui::PushTextWrapPos(0);
    ImGui::TextUnformatted(text.data(), text.data() + text.size());
    ImGui::PopTextWrapPos();
}

bool dialog_button(const Studio& studio, const char* name, const char* words, bool lit, bool same_line) {
    if (same_line) ImGui::SameLine();
    const float width = studio.ui.text_width(studio.ui.fonts.body, words) + studio.ui.px(40);
    return studio.ui.button(name, words, lit ? ButtonKind::lit : ButtonKind::plain,
                            ImVec2(width, studio.ui.px(36)));
}

void draw_unsaved(const Studio& studio) {
    View& view = studio.view;
    wrapped("“" + studio.session.design().name + "” was changed. Save it before you " + view.after_words +
            "?");
    ImGui::Dummy(ImVec2(0, studio.ui.px(8)));
    if (dialog_button(studio, "unsaved:save", "Save", true, false)) {
        close_dialog(view);
        // Without a file the browser opens and goes on from there.
        if (save_file(studio)) std::exchange(view.after_saving, nullptr)();
    }
    if (dialog_button(studio, "unsaved:lose", "Go on without saving", false, true)) {
        close_dialog(view);
        studio.session.give_up_changes();
        std::exchange(view.after_saving, nullptr)();
    }
    if (dialog_button(studio, "unsaved:cancel", "Stay here", false, true)) {
        view.after_saving = nullptr;
        close_dialog(view);
    }
}

void draw_recovery(const Studio& studio) {
    const auto& found = studio.session.recovery();
    if (!found) {
        close_dialog(studio.view);
        return;
    }
    const std::string when = found->when.empty() ? "" : ", " + found->when;
    wrapped("The studio ended last time before “" + found->design.name +
            "” was saved. Its last changes were kept safe" + when + ".");
    ImGui::Dummy(ImVec2(0, studio.ui.px(8)));
    if (dialog_button(studio, "recovery:take", "Bring them back", true, false)) {
        studio.session.take_recovery();
        close_dialog(studio.view);
    }
    if (dialog_button(studio, "recovery:refuse", "Throw them away", false, true)) {
        studio.session.refuse_recovery();
        close_dialog(studio.view);
    }
}

// Two columns, so that all of it is on the screen at once also in a small window.
void draw_keys(const Studio& studio) {
    Ui& ui = studio.ui;
    std::vector<std::pair<std::string, std::string>> rows;
    for (const ActionInfo& action : all_actions())
        if (*action.words) rows.emplace_back(action.keys, action.words);
    rows.emplace_back("Drag a number", "change it; with Shift finely");
    rows.emplace_back("Click a number", "type it, with its unit");
    rows.emplace_back("Tab, while typing", "the next number");
    rows.emplace_back("Esc, while typing", "the number as it was");
    rows.emplace_back("Arrows, Space", "go to a control, press it");
    rows.emplace_back("Double click", "a point of the wire in or out");
    const std::size_t half = (rows.size() + 1) / 2;
    ImGui::PushStyleVar(ImGuiStyleVar_CellPadding, ImVec2(ui.px(4), ui.px(1)));
    ImGui::PushFont(ui.fonts.small);
    if (ImGui::BeginTable("keys", 4, ImGuiTableFlags_SizingStretchProp)) {
        for (std::size_t i = 0; i < half; ++i)
            for (const std::size_t row : {i, i + half}) {
                if (row >= rows.size()) continue;
                ImGui::TableNextColumn();
                ImGui::PushFont(ui.fonts.small_bold);
                ImGui::TextUnformatted(rows[row].first.c_str());
                ImGui::PopFont();
                ImGui::TableNextColumn();
                ImGui::TextUnformatted(rows[row].second.c_str());
            }
        ImGui::EndTable();
    }
    ImGui::PopFont();
    ImGui::PopStyleVar();
    ImGui::Dummy(ImVec2(0, ui.px(8)));
    if (dialog_button(studio, "keys:close", "Close", true, false)) close_dialog(studio.view);
}

void draw_look(const Studio& studio) {
    Ui& ui = studio.ui;
    Settings& settings = studio.session.settings();
    ui.section("Light");
    const int look = ui.choice("look", {"dusk", "morning"}, settings.morning ? 1 : 0);
    if (look >= 0) {
        settings.morning = look == 1;
        studio.view.look_changed = true;
        studio.session.save_settings();
    }
    ui.section("Size of writing and controls");
    const auto now = static_cast<int>(
        std::lround(100 * (settings.scale > 0 ? settings.scale : static_cast<double>(ui.scale))));
    static constexpr int sizes[] = {75, 100, 125, 150, 200, 250, 300, 400};
    std::vector<std::string> words;
    int chosen = -1;
    for (int i = 0; i < static_cast<int>(std::size(sizes)); ++i) {
        words.push_back(std::to_string(sizes[i]) + " %");
        if (sizes[i] == now) chosen = i;
    }
    const int size = ui.choice("size", words, chosen);
    if (size >= 0) {
        settings.scale = sizes[size] / 100.0;
        studio.view.wanted_scale = static_cast<float>(settings.scale);
        studio.session.save_settings();
    }
    ui.quiet_text("Ctrl with plus and minus do the same in smaller steps.");
    ImGui::Dummy(ImVec2(0, ui.px(8)));
    if (dialog_button(studio, "look:close", "Close", true, false)) close_dialog(studio.view);
}

void draw_trouble(const Studio& studio) {
    wrapped(studio.view.trouble);
    ImGui::Dummy(ImVec2(0, studio.ui.px(8)));
    if (dialog_button(studio, "trouble:close", "Close", true, false)) close_dialog(studio.view);
}

void draw_inside(const Studio& studio) {
    switch (studio.view.dialog) {
        case Dialog::open:
        case Dialog::save_as:
        case Dialog::export_picture:
        case Dialog::send:
            draw_browser(studio);
            break;
        case Dialog::unsaved:
            draw_unsaved(studio);
            break;
        case Dialog::recovery:
            draw_recovery(studio);
            break;
        case Dialog::keys:
            draw_keys(studio);
            break;
        case Dialog::look:
            draw_look(studio);
            break;
        case Dialog::trouble:
            draw_trouble(studio);
            break;
        case Dialog::swatches:
            draw_swatches(studio);
            break;
        case Dialog::none:
            break;
    }
}

bool is_wide(Dialog dialog) {
    return dialog == Dialog::open || dialog == Dialog::save_as || dialog == Dialog::export_picture ||
           dialog == Dialog::send || dialog == Dialog::swatches || dialog == Dialog::keys;
}

}  // namespace

const char* title_of(Dialog dialog) {
    switch (dialog) {
        case Dialog::open:
            return "Open a design";
        case Dialog::save_as:
            return "Save the design as";
        case Dialog::export_picture:
            return "Save the face as a picture";
        case Dialog::send:
            return "Send it to a collection";
        case Dialog::unsaved:
            return "This design has changes that are not saved";
        case Dialog::recovery:
            return "Unsaved work was found";
        case Dialog::keys:
            return "Keys";
        case Dialog::look:
            return "Size and look";
        case Dialog::trouble:
            return "That did not work";
        case Dialog::swatches:
            return "A picture was dropped";
        case Dialog::none:
            break;
    }
    return "";
}

void draw_dialogs(const Studio& studio) {
    View& view = studio.view;
    Ui& ui = studio.ui;
    constexpr const char* id = "dialog";
    if (std::exchange(view.dialog_opens, false)) ImGui::OpenPopup(id);
    if (view.dialog == Dialog::none) return put_chooser_away(studio);
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    const float width = std::min(screen.x * 0.92F, ui.px(is_wide(view.dialog) ? 760 : 620));
    ImGui::SetNextWindowPos(ImVec2(screen.x / 2, screen.y * 0.5F), ImGuiCond_Always, ImVec2(0.5F, 0.5F));
    ImGui::SetNextWindowSize(ImVec2(width, 0));
    ImGui::SetNextWindowSizeConstraints(ImVec2(width, 0), ImVec2(width, screen.y * 0.94F));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(24), ui.px(20)));
    const bool open = ImGui::BeginPopupModal(
        id, nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove);
    ImGui::PopStyleVar();
    if (!open) return;
    const Dialog before = view.dialog;
    ImGui::PushFont(ui.fonts.title);
    wrapped(title_of(view.dialog));
    ImGui::PopFont();
    draw_inside(studio);
    const bool escaped = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false);
    if (escaped && view.dialog == before && view.dialog != Dialog::recovery) {
        view.after_saving = nullptr;
        close_dialog(view);
    }
    // A dialog that led to another one keeps the pop-up open for it.
    if (view.dialog == Dialog::none)
        ImGui::CloseCurrentPopup();
    else
        view.dialog_opens = false;
    ImGui::EndPopup();
}

}  // namespace foreslice::studio
