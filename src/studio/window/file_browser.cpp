#include "studio/window/file_browser.h"

#include <algorithm>
#include <cstdlib>
#include <system_error>
#include <utility>

#include "design/design_file.h"
#include "design/shared_picture.h"
#include "foundation/error.h"
#include "studio/session/collection_sending.h"
#include "studio/window/actions.h"
#include "studio/window/panels.h"
#include "studio/window/system_dialog.h"

namespace foreslice::studio {
namespace fs = std::filesystem;
namespace {

fs::path home_folder() {
    for (const char* name : {"HOME", "USERPROFILE"})
        if (const char* value = std::getenv(name); value && *value) return value;
    std::error_code ignored;
    return fs::current_path(ignored);
}

bool belongs(const fs::directory_entry& entry, Dialog dialog, bool& folder) {
    std::error_code error;
    const std::string name = entry.path().filename().string();
    folder = entry.is_directory(error);
    if (name.empty() || name.front() == '.') return false;
    if (folder) return true;
    const bool collection = name.ends_with(collection_suffix);
    if (dialog == Dialog::send) return collection;
    if (dialog == Dialog::export_picture) return name.ends_with(".png");
    if (dialog == Dialog::open && name.ends_with(".png")) return design::carries_design(entry.path());
    return name.ends_with(".json") && (dialog == Dialog::open || !collection);
}

std::string suggested_name(const Session& session, Dialog dialog) {
    std::string stem = file_stem_for(session.design().name);
    if (!session.file().empty()) {
        stem = session.file().filename().string();
        if (stem.ends_with(design::file_ending))
            stem.resize(stem.size() - design::file_ending.size());
        else
            stem = session.file().stem().string();
    }
    if (dialog == Dialog::save_as) return stem.append(design::file_ending);
    return stem + ".png";
}

// Under the name that the maker gave it on the board, if any.
void send_variant(const Studio& studio, const fs::path& collection) {
    const Variant* variant = studio.session.board().find(studio.view.browser.variant);
    if (!variant) return;
    design::Design design = variant->design;
    if (variant->named) design.name = variant->name;
    studio.session.send_to_collection(std::move(design), collection);
}

void accept(const Studio& studio) {
    View& view = studio.view;
    Browser& browser = view.browser;
    const fs::path path = chosen_path(browser);
    std::error_code error;
    if (fs::is_directory(path, error)) {
        enter_folder(browser, path, view.dialog);
        if (view.dialog == Dialog::open) browser.path.clear();
        return;
    }
    const Dialog dialog = view.dialog;
    if (dialog == Dialog::send) {
        close_dialog(view);
        send_variant(studio, path);
        return;
    }
    if (dialog != Dialog::open && !browser.replace_asked && fs::exists(path, error) &&
        path != studio.session.file()) {
        browser.replace_asked = true;
        return;
    }
    close_dialog(view);
    try {
        if (dialog == Dialog::open) {
            open_file(studio, path);
        } else if (dialog == Dialog::save_as) {
            studio.session.save_as(path);
            if (view.after_saving) std::exchange(view.after_saving, nullptr)();
        } else {
            studio.session.export_picture(path, browser.px_per_mm);
        }
    } catch (const InputError& problem) {
        view.after_saving = nullptr;
        show_trouble(view, problem.what());
    }
}

struct ChooserOrder {
    SystemDialog::For what;
    fs::path suggested;
};

// A collection that is there is opened, to add to it: a chooser that saves would ask whether to replace it.
ChooserOrder chooser_order(const Studio& studio) {
    const Browser& browser = studio.view.browser;
    const fs::path path = chosen_path(browser);
    std::error_code error;
    const bool adding = studio.view.dialog == Dialog::send && fs::is_regular_file(path, error);
    if (studio.view.dialog == Dialog::open || adding)
        return {SystemDialog::For::open, (adding ? path.parent_path() : browser.folder) / ""};
    return {SystemDialog::For::save, path};
}

// The desktop's own chooser, which then fills the path in and goes on.
void draw_system_dialog(const Studio& studio) {
    Ui& ui = studio.ui;
    Browser& browser = studio.view.browser;
    SystemDialog& dialog = studio.view.shelf.at<SystemDialog>();
    if (dialog.running()) {
        ui.quiet_text("The desktop's own file chooser is open.");
        const auto answer = dialog.poll();
        if (dialog.failed()) browser.problem = "The desktop offers no file chooser after all.";
        if (!answer || answer->empty()) return;
        browser.path = answer->string();
        browser.replace_asked = true;  // it has asked already
        accept(studio);
        return;
    }
    static const bool offered = SystemDialog::offered();
    if (!offered) return;
    if (!ui.button("dialog:system", "Ask the desktop", ButtonKind::plain, ImVec2(ui.px(150), ui.px(36))))
        return;
    const ChooserOrder order = chooser_order(studio);
    if (!dialog.start(order.what, title_of(studio.view.dialog), order.suggested))
        browser.problem = "The desktop's file chooser could not be started.";
}

void draw_places(const Studio& studio, float width, float height) {
    Ui& ui = studio.ui;
    Browser& browser = studio.view.browser;
    const Dialog dialog = studio.view.dialog;
    const bool designs = dialog == Dialog::open || dialog == Dialog::save_as;
    ImGui::BeginChild("places", ImVec2(width, height));
    if (ui.button("place:home", "Home", ButtonKind::quiet, ImVec2(-1, 0)))
        enter_folder(browser, home_folder(), dialog);
    if (ui.button("place:up", "↑ Folder above", ButtonKind::quiet, ImVec2(-1, 0)) &&
        browser.folder.has_parent_path())
        enter_folder(browser, browser.folder.parent_path(), dialog);
    if (designs && !studio.session.settings().recent.empty()) {
        ui.section("Recent");
        const auto recent = studio.session.settings().recent;
        for (std::size_t i = 0; i < recent.size(); ++i) {
            ImGui::PushID(static_cast<int>(i));
            const std::string name =
                ui.fitted(ui.fonts.body, recent[i].filename().string(), width - ui.px(24));
            if (ui.list_entry("recent:" + std::to_string(i), name, false)) browser.path = recent[i].string();
            ui.help(recent[i].string());
            ImGui::PopID();
        }
    }
    ImGui::EndChild();
}

void draw_entries(const Studio& studio, float height) {
    Ui& ui = studio.ui;
    Browser& browser = studio.view.browser;
    const Dialog dialog = studio.view.dialog;
    ImGui::PushStyleColor(ImGuiCol_ChildBg, dusk::well);
    ImGui::BeginChild("entries", ImVec2(0, height), true);
    ImGui::PopStyleColor();
    if (!browser.problem.empty()) ui.quiet_text(browser.problem);
    if (browser.entries.empty() && browser.problem.empty())
        ui.quiet_text(dialog == Dialog::export_picture ? "No pictures here yet."
                      : dialog == Dialog::send         ? "No collection here yet; the name below begins one."
                                                       : "No designs in this folder.");
    fs::path enter;
    for (std::size_t i = 0; i < browser.entries.size(); ++i) {
        const FolderEntry& entry = browser.entries[i];
        ImGui::PushID(static_cast<int>(i));
        const std::string shown = entry.folder ? entry.name + " /" : entry.name;
        if (ui.list_entry("file:" + entry.name, shown, browser.path == entry.name)) {
            if (entry.folder)
                enter = browser.folder / entry.name;
            else
                browser.path = entry.name;
            browser.replace_asked = false;
        }
        if (!entry.folder && ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(0)) {
            browser.path = entry.name;
            if (studio.view.dialog == Dialog::open) accept(studio);
        }
        ImGui::PopID();
        if (studio.view.dialog == Dialog::none) break;
    }
    ImGui::EndChild();
    if (!enter.empty()) enter_folder(browser, enter, dialog);
}

}  // namespace

void enter_folder(Browser& browser, const fs::path& folder, Dialog dialog) {
    std::error_code error;
    browser.entries.clear();
    browser.problem.clear();
    browser.replace_asked = false;
    browser.folder = fs::absolute(folder, error).lexically_normal();
    if (browser.folder.has_filename() == false && browser.folder.has_parent_path())
        browser.folder = browser.folder.parent_path();
    auto at = fs::directory_iterator(browser.folder, fs::directory_options::skip_permission_denied, error);
    if (error) browser.problem = "This folder cannot be read: " + error.message() + ".";
    constexpr std::size_t most_entries = 2000;
    for (; !error && at != fs::directory_iterator() && browser.entries.size() < most_entries;
         at.increment(error)) {
        bool is_folder = false;
        if (belongs(*at, dialog, is_folder))
            browser.entries.push_back({at->path().filename().string(), is_folder});
    }
    std::sort(browser.entries.begin(), browser.entries.end(), [](const FolderEntry& a, const FolderEntry& b) {
        return a.folder != b.folder ? a.folder : a.name < b.name;
    });
}

void put_chooser_away(const Studio& studio) {
    SystemDialog& dialog = studio.view.shelf.at<SystemDialog>();
    if (dialog.running()) dialog.stop();
}

void browse(const Studio& studio, Dialog dialog) {
    put_chooser_away(studio);
    Browser& browser = studio.view.browser;
    fs::path folder = browser.folder;
    if (!studio.session.file().empty()) {
        std::error_code error;
        folder = fs::absolute(studio.session.file(), error).parent_path();
    } else if (folder.empty()) {
        folder = studio.session.settings().recent.empty()
                     ? home_folder()
                     : studio.session.settings().recent.front().parent_path();
    }
    if (dialog == Dialog::send) {
        const fs::path likely = likely_collection(studio.session.settings().collection, folder);
        folder = likely.parent_path();
        browser.path = likely.filename().string();
    } else {
        browser.path = dialog == Dialog::open ? "" : suggested_name(studio.session, dialog);
    }
    const std::string path = browser.path;
    enter_folder(browser, folder, dialog);
    browser.path = path;
    open_dialog(studio.view, dialog);
}

fs::path chosen_path(const Browser& browser) {
    const std::string& text = browser.path;
    if (text.rfind("~/", 0) == 0) return home_folder() / text.substr(2);
    const fs::path path(text);
    return path.is_absolute() ? path : browser.folder / path;
}

void draw_browser(const Studio& studio) {
    Ui& ui = studio.ui;
    View& view = studio.view;
    Browser& browser = view.browser;
    const bool opening = view.dialog == Dialog::open;
    ui.quiet_text(browser.folder.string());
    const float height = ui.px(300), places = ui.px(210);
    draw_places(studio, places, height);
    ImGui::SameLine();
    draw_entries(studio, height);
    if (view.dialog == Dialog::none) return;
    if (ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
    const Edited edited = ui.text_field("path", "", browser.path, "Name or path of a file");
    if (edited.changed) browser.replace_asked = false;
    // Also when the suggested name is taken as it stands.
    const bool entered =
        ImGui::IsItemDeactivated() && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter), false);
    if (view.dialog == Dialog::export_picture) {
        const Quantity scale{"picture:scale",
                             "Pixels per millimetre",
                             Unit::none,
                             2,
                             24,
                             4,
                             24,
                             1,
                             0,
                             "12 pixels per millimetre print at about 300 dots per inch."};
        ui.quantity(scale, browser.px_per_mm);
    }
    if (browser.replace_asked)
        ui.quiet_text("There is a file of this name already. Press the button once more to replace it.");
    const char* word = opening                       ? "Open"
                       : view.dialog == Dialog::send ? "Send it there"
                       : browser.replace_asked       ? "Replace it"
                                                     : "Save";
    ImGui::BeginDisabled(browser.path.empty());
    if (ui.button("dialog:accept", word, ButtonKind::lit, ImVec2(ui.px(150), ui.px(36))) ||
        (entered && !browser.path.empty()))
        accept(studio);
    ImGui::EndDisabled();
    ImGui::SameLine();
    if (ui.button("dialog:cancel", "Cancel", ButtonKind::plain, ImVec2(ui.px(120), ui.px(36)))) {
        view.after_saving = nullptr;
        close_dialog(view);
        return;
    }
    ImGui::SameLine();
    draw_system_dialog(studio);
}

}  // namespace foreslice::studio
