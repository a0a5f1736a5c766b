// The top line: whose window this is, which design, whether it is saved, and what can be done with the file.
#include <algorithm>

#include "studio/window/actions.h"
#include "studio/window/panels.h"

namespace foreslice::studio {
namespace {

struct FileButton {
    Action action;
    const char* name;
    const char* words;
    const char* help;
};

constexpr FileButton file_buttons[] = {
    {Action::start_new, "new", "New", "Start a new design (Ctrl+N)"},
    {Action::open, "open", "Open",
     "Open a design, all of a collection, or a shared picture (Ctrl+O); files may be dropped on the window "
     "too"},
    {Action::save, "save", "Save", "Save the design (Ctrl+S)"},
    {Action::save_as, "save-as", "Save as", "Save under another name (Ctrl+Shift+S)"},
    {Action::export_picture, "picture", "Picture",
     "Save the cut face as a PNG with title and legend (Ctrl+E)"},
    {Action::undo, "undo", "Undo", "Undo (Ctrl+Z)"},
    {Action::redo, "redo", "Redo", "Redo (Ctrl+Y)"},
    {Action::look, "look", "Look", "Light or dark, larger or smaller (F9)"},
    {Action::keys, "keys", "Keys", "All keys on one page (F1)"},
};

std::string help_for(const FileButton& button, const Session& session) {
    if (button.action == Action::undo && session.can_undo())
        return "Undo: " + session.undo_label() + " (Ctrl+Z)";
    if (button.action == Action::redo && session.can_redo())
        return "Redo: " + session.redo_label() + " (Ctrl+Y)";
    return button.help;
}

float draw_buttons(const Studio& studio, const Area& area) {
    const Ui& ui = studio.ui;
    const float height = ui.px(34), gap = ui.px(6), padding = ui.px(24);
    float width = ui.px(10);
    for (const auto& button : file_buttons)
        width += ui.text_width(ui.fonts.body, button.words) + padding + gap;
    width += 2 * ui.px(10);
    float x = area.right() - width;
    const float left = x, y = area.y + (area.height - height) / 2;
    for (const auto& button : file_buttons) {
        if (button.action == Action::undo || button.action == Action::look) x += ui.px(10);
        ImGui::SetCursorScreenPos(ImVec2(x, y));
        const bool possible = can_run(button.action, studio);
        const bool lit = button.action == Action::save && studio.session.changed_since_saved();
        const float button_width = ui.text_width(ui.fonts.body, button.words) + padding;
        ImGui::BeginDisabled(!possible);
        if (studio.ui.button(button.name, button.words, lit ? ButtonKind::lit : ButtonKind::quiet,
                             ImVec2(button_width, height)))
            run(button.action, studio);
        studio.ui.help(help_for(button, studio.session));
        ImGui::EndDisabled();
        x += button_width + gap;
    }
    return left;
}

// A bar seen from the cut side, with one wave drawn through it.
void draw_mark(ImDrawList* list, ImVec2 at, float size) {
    const float half = size / 2;
    list->AddRectFilled(at, ImVec2(at.x + size, at.y + size), dusk::paper, size * 0.16F);
    list->AddRectFilled(ImVec2(at.x, at.y + size * 0.62F), ImVec2(at.x + size, at.y + size),
                        dusk::rgb(0x35506b), size * 0.16F, ImDrawFlags_RoundCornersBottom);
    list->AddBezierCubic(ImVec2(at.x + size * 0.1F, at.y + half),
                         ImVec2(at.x + size * 0.35F, at.y - size * 0.1F),
                         ImVec2(at.x + size * 0.62F, at.y + size * 1.15F),
                         ImVec2(at.x + size * 0.9F, at.y + size * 0.42F), dusk::lamp_deep, size * 0.13F);
}

// The design that is looked at: its name large, its file and whether it is saved. Returns where it ends.
float draw_design(const Studio& studio, float x, float middle, float right) {
    const Ui& ui = studio.ui;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const auto& session = studio.session;
    const std::string file = session.file().empty() ? "no file yet" : session.file().filename().string();
    const std::string state = session.changed_since_saved() ? "● not saved"
                              : session.file().empty()      ? ""
                                                            : "saved";
    const std::string name = ui.fitted(ui.fonts.title, session.design().name, right - x - ui.px(60));
    ui.text_at(list, ui.fonts.title, ImVec2(x, middle - ui.fonts.title->FontSize / 2), dusk::chalk, name);
    x += ui.text_width(ui.fonts.title, name) + ui.px(14);
    const float small_y = middle - ui.fonts.small->FontSize / 2 + ui.px(2);
    const std::string known = ui.fitted(ui.fonts.small, file, std::min(ui.px(230), right - x - ui.px(90)));
    ui.text_at(list, ui.fonts.small, ImVec2(x, small_y), dusk::fog, known);
    x += ui.text_width(ui.fonts.small, known) + ui.px(12);
    if (x + ui.text_width(ui.fonts.small_bold, state) < right) {
        ui.text_at(list, ui.fonts.small_bold, ImVec2(x, small_y),
                   session.changed_since_saved() ? dusk::lamp : dusk::fog, state);
        x += ui.text_width(ui.fonts.small_bold, state);
    }
    studio.ui.note_rect("title", ImVec2(0, middle - ui.px(20)), ImVec2(x, middle + ui.px(20)), state);
    return x + ui.px(10);
}

// Those for which there was no room, in a list.
void draw_rest(const Studio& studio, const std::vector<std::size_t>& rest,
               const std::vector<Session::Open>& documents, ImVec2 at, ImVec2 size) {
    Ui& ui = studio.ui;
    ImGui::SetCursorScreenPos(at);
    const std::string words = std::to_string(rest.size()) + " more";
    if (ui.button("design:more", words, ButtonKind::plain, size)) ImGui::OpenPopup("designs");
    ui.help("The other designs that are open (Ctrl+Tab goes round)");
    ImGui::SetNextWindowPos(ImVec2(at.x, at.y + size.y + ui.px(4)));
    if (!ImGui::BeginPopup("designs")) return;
    for (const std::size_t i : rest) {
        const std::string words_of_it = (documents[i].changed ? "● " : "") + documents[i].name;
        if (ui.list_entry("design:" + std::to_string(i), words_of_it, false)) look_at_design(studio, i);
    }
    ImGui::EndPopup();
}

// The others that are open, as many as there is room for; a click looks at one.
void draw_others(const Studio& studio, float x, float middle, float right) {
    Ui& ui = studio.ui;
    const auto documents = studio.session.documents();
    const float height = ui.px(30);
    if (documents.size() > 1 && x + ui.px(28) < right) {
        ImGui::SetCursorScreenPos(ImVec2(x, middle - height / 2));
        if (ui.button("design:close", "×", ButtonKind::quiet, ImVec2(ui.px(26), height)))
            run(Action::close, studio);
        ui.help("Put this design away (Ctrl+W)");
        x += ui.px(32);
    }
    const float more_width = ui.text_width(ui.fonts.body, "000 more") + ui.px(20);
    std::vector<std::size_t> rest;
    for (std::size_t i = 0; i < documents.size(); ++i)
        if (i != studio.session.at()) rest.push_back(i);
    while (!rest.empty()) {
        const std::size_t i = rest.front();
        const std::string words =
            (documents[i].changed ? "● " : "") + ui.fitted(ui.fonts.body, documents[i].name, ui.px(150));
        const float width = ui.text_width(ui.fonts.body, words) + ui.px(20);
        if (x + width + (rest.size() > 1 ? more_width + ui.px(6) : 0) > right) break;
        rest.erase(rest.begin());
        ImGui::SetCursorScreenPos(ImVec2(x, middle - height / 2));
        if (ui.button("design:" + std::to_string(i), words, ButtonKind::plain, ImVec2(width, height)))
            look_at_design(studio, i);
        ui.help(documents[i].file.empty() ? "Look at this design" : documents[i].file.string());
        x += width + ui.px(6);
    }
    if (!rest.empty() && x + more_width <= right)
        draw_rest(studio, rest, documents, ImVec2(x, middle - height / 2), ImVec2(more_width, height));
}

}  // namespace

void draw_title_bar(const Studio& studio, const Area& area) {
    const Ui& ui = studio.ui;
    const float right = draw_buttons(studio, area) - ui.px(14);
    const float middle = area.y + area.height / 2, x = area.x + ui.px(18);
    draw_mark(ImGui::GetWindowDrawList(), ImVec2(x, middle - ui.px(13)), ui.px(26));
    draw_others(studio, draw_design(studio, x + ui.px(38), middle, right), middle, right);
}

}  // namespace foreslice::studio
