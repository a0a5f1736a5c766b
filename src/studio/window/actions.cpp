#include "studio/window/actions.h"

#include <algorithm>
#include <utility>

#include "foundation/error.h"
#include "studio/session/edits.h"
#include "studio/window/file_browser.h"
#include "studio/window/panel_list.h"
#include "studio/window/panels/board_parts.h"
#include "studio/window/panels/figure.h"
#include "studio/window/panels/making.h"

namespace foreslice::studio {
namespace {

constexpr Chord plain(SDL_Keycode key) {
    return {key, false, false, false};
}
constexpr Chord ctrl(SDL_Keycode key, bool shift = false) {
    return {key, true, shift, false};
}
constexpr Chord alt(SDL_Keycode key) {
    return {key, false, false, true};
}

void change_step(View& view, int by) {
    const int last = static_cast<int>(all_steps.size()) - 1;
    view.step = static_cast<Step>(std::clamp(static_cast<int>(view.step) + by, 0, last));
}

void change_bar(const Studio& studio, int by) {
    const int bars = std::max(1, design::bar_count(studio.session.design()));
    // From a place inside a bar, back to its own face first.
    const bool back_to_face = by < 0 && studio.view.cut_z_mm.has_value();
    studio.view.bar = std::clamp(shown_bar(studio) + (back_to_face ? 0 : by), 1, bars);
    studio.view.cut_z_mm.reset();
}

void run_on_board(Action action, const Studio& studio) {
    const int chosen = chosen_variant(studio);
    switch (action) {
        case Action::board_pin:
            return pin_design(studio);
        case Action::board_orders:
            return try_orders(studio);
        case Action::board_compare:
            return look_at_board(studio, BoardDesk::Side::compare);
        case Action::board_open:
            return open_variant(studio, chosen);
        case Action::board_name:
            return rename_variant(studio, chosen);
        case Action::board_star:
            return star_variant(studio, chosen);
        case Action::board_send:
            studio.view.browser.variant = chosen;
            return browse(studio, Dialog::send);
        case Action::board_take_off:
            return take_off_variant(studio, chosen);
        default:
            return look_at_board(studio, BoardDesk::Side::board);
    }
}

void change_scale(const Studio& studio, float scale) {
    studio.view.wanted_scale = std::clamp(scale, 0.75F, 4.0F);
    studio.session.settings().scale = static_cast<double>(studio.view.wanted_scale);
    studio.session.save_settings();
}

void looked_at_another(const Studio& studio) {
    View& view = studio.view;
    view.bar = 0;
    view.cut_z_mm.reset();
    view.portion = view.pour = view.stroke = view.waypoint = 0;
    if (studio.session.recovery()) open_dialog(view, Dialog::recovery);
}

void start_new(const Studio& studio) {
    studio.session.start_beside(starter_design());
    looked_at_another(studio);
}

void close_design(const Studio& studio) {
    with_changes_settled(studio, "put this design away", [studio] {
        studio.session.put_away();
        looked_at_another(studio);
    });
}

// Design by design, as long as one of them has changes that are not saved.
void quit(const Studio& studio) {
    const auto documents = studio.session.documents();
    for (std::size_t i = 0; i < documents.size(); ++i) {
        if (!documents[i].changed) continue;
        look_at_design(studio, i);
        with_changes_settled(studio, "close the studio", [studio] { quit(studio); });
        return;
    }
    if (!studio.session.recovery()) studio.session.discard_autosave();
    studio.view.quit = true;
}

}  // namespace

const std::vector<ActionInfo>& all_actions() {
    static const std::vector<ActionInfo> actions{
        {Action::start_new, "new design", "Ctrl+N", ctrl(SDLK_n), true},
        {Action::open, "open a design", "Ctrl+O", ctrl(SDLK_o), true},
        {Action::close, "put the design away", "Ctrl+W", ctrl(SDLK_w), true},
        {Action::next_design, "the next open design", "Ctrl+Tab", ctrl(SDLK_TAB), true},
        {Action::save, "save", "Ctrl+S", ctrl(SDLK_s), true},
        {Action::save_as, "save under another name", "Ctrl+Shift+S", ctrl(SDLK_s, true), true},
        {Action::export_picture, "save the face as a picture", "Ctrl+E", ctrl(SDLK_e), true},
        {Action::undo, "undo", "Ctrl+Z", ctrl(SDLK_z), false},
        {Action::redo, "redo", "Ctrl+Y or Ctrl+Shift+Z", ctrl(SDLK_y), false},
        {Action::redo, "", "", ctrl(SDLK_z, true), false},
        {Action::earlier_step, "the step before", "Alt+Left", alt(SDLK_LEFT), true},
        {Action::later_step, "the next step", "Alt+Right", alt(SDLK_RIGHT), true},
        {Action::earlier_bar, "the bar before", "Page up", plain(SDLK_PAGEUP), true},
        {Action::later_bar, "the next bar", "Page down", plain(SDLK_PAGEDOWN), true},
        {Action::larger, "everything larger", "Ctrl + plus", ctrl(SDLK_PLUS), true},
        {Action::larger, "", "", ctrl(SDLK_EQUALS), true},
        {Action::larger, "", "", ctrl(SDLK_EQUALS, true), true},
        {Action::larger, "", "", ctrl(SDLK_KP_PLUS), true},
        {Action::smaller, "everything smaller", "Ctrl + minus", ctrl(SDLK_MINUS), true},
        {Action::smaller, "", "", ctrl(SDLK_KP_MINUS), true},
        {Action::usual_size, "usual size", "Ctrl + 0", ctrl(SDLK_0), true},
        {Action::play, "play the making, or hold it still", "F5", plain(SDLK_F5), true},
        {Action::next_page, "another way to look", "F6", plain(SDLK_F6), true},
        {Action::loupe, "magnifier", "F7", plain(SDLK_F7), true},
        {Action::board, "the compare board", "Ctrl+B", ctrl(SDLK_b), true},
        {Action::board_pin, "pin the design to the board", "F8", plain(SDLK_F8), true},
        {Action::board_orders, "try every order of the layers", "Ctrl+T", ctrl(SDLK_t), true},
        {Action::board_compare, "two of the board compared", "Ctrl+D", ctrl(SDLK_d), true},
        {Action::board_open, "the chosen one as the design", "Ctrl+Enter", ctrl(SDLK_RETURN), true},
        {Action::board_name, "name the chosen one", "F2", plain(SDLK_F2), true},
        {Action::board_star, "star the chosen one", "Ctrl+K", ctrl(SDLK_k), true},
        {Action::board_send, "send it to a collection", "Ctrl+L", ctrl(SDLK_l), true},
        {Action::board_take_off, "take the chosen one off", "Delete", plain(SDLK_DELETE), false},
        {Action::look, "size and look of the studio", "F9", plain(SDLK_F9), true},
        {Action::keys, "this list of keys", "F1", plain(SDLK_F1), true},
        {Action::quit, "close the studio", "Ctrl+Q", ctrl(SDLK_q), true},
    };
    return actions;
}

bool can_run(Action action, const Studio& studio) {
    switch (action) {
        case Action::undo:
            return studio.session.can_undo();
        case Action::redo:
            return studio.session.can_redo();
        case Action::save:
            return studio.session.changed_since_saved() || studio.session.file().empty();
        case Action::export_picture:
        case Action::board_pin:
            return studio.session.fault().empty();
        case Action::board_compare:
            return studio.session.board().variants.size() >= 2;
        case Action::board_open:
        case Action::board_name:
        case Action::board_star:
        case Action::board_send:
        case Action::board_take_off:
            return chosen_variant(studio) != 0;
        default:
            return true;
    }
}

void run(Action action, const Studio& studio) {
    if (!can_run(action, studio)) return;
    View& view = studio.view;
    switch (action) {
        case Action::start_new:
            start_new(studio);
            break;
        case Action::open:
            browse(studio, Dialog::open);
            break;
        case Action::close:
            close_design(studio);
            break;
        case Action::next_design:
            look_at_design(studio, (studio.session.at() + 1) % studio.session.documents().size());
            break;
        case Action::save:
            save_file(studio);
            break;
        case Action::save_as:
            browse(studio, Dialog::save_as);
            break;
        case Action::export_picture:
            browse(studio, Dialog::export_picture);
            break;
        case Action::undo:
            studio.session.undo();
            break;
        case Action::redo:
            studio.session.redo();
            break;
        case Action::keys:
            open_dialog(view, Dialog::keys);
            break;
        case Action::look:
            open_dialog(view, Dialog::look);
            break;
        case Action::board:
        case Action::board_pin:
        case Action::board_orders:
        case Action::board_compare:
        case Action::board_open:
        case Action::board_name:
        case Action::board_star:
        case Action::board_send:
        case Action::board_take_off:
            run_on_board(action, studio);
            break;
        case Action::loupe:
            loupe_on(studio) = !loupe_on(studio);
            break;
        case Action::play:
            making_shown(studio) ? stop_making(studio) : play_making(studio, 0);
            break;
        case Action::next_page:
            stop_making(studio);
            view.page = (view.page + 1) % all_pages().size();
            break;
        case Action::quit:
            quit(studio);
            break;
        case Action::earlier_step:
            change_step(view, -1);
            break;
        case Action::later_step:
            change_step(view, 1);
            break;
        case Action::earlier_bar:
            change_bar(studio, -1);
            break;
        case Action::later_bar:
            change_bar(studio, 1);
            break;
        case Action::larger:
            change_scale(studio, studio.ui.scale + 0.125F);
            break;
        case Action::smaller:
            change_scale(studio, studio.ui.scale - 0.125F);
            break;
        case Action::usual_size:
            change_scale(studio, 1);
            break;
    }
}

bool run_chord(const Chord& chord, const Studio& studio, bool typing) {
    if (studio.view.dialog != Dialog::none) return false;
    for (const ActionInfo& info : all_actions()) {
        if (!(info.chord == chord) || (typing && !info.while_typing)) continue;
        run(info.action, studio);
        return true;
    }
    return false;
}

void open_dialog(View& view, Dialog dialog) {
    view.dialog = dialog;
    view.dialog_opens = true;
}

void close_dialog(View& view) {
    view.dialog = Dialog::none;
}

void show_trouble(View& view, const std::string& sentence) {
    view.trouble = sentence;
    open_dialog(view, Dialog::trouble);
}

void with_changes_settled(const Studio& studio, const std::string& words, std::function<void()> what) {
    if (!studio.session.changed_since_saved()) {
        // Undone back to what is saved: a copy of the changes may still lie there and would be offered for
        // ever.
        if (!studio.session.recovery()) studio.session.discard_autosave();
        what();
        return;
    }
    studio.view.after_words = words;
    studio.view.after_saving = std::move(what);
    open_dialog(studio.view, Dialog::unsaved);
}

void open_file(const Studio& studio, const std::filesystem::path& file) {
    try {
        studio.session.open_whatever(file);
        looked_at_another(studio);
    } catch (const InputError& error) {
        show_trouble(studio.view, error.what());
    }
}

void look_at_design(const Studio& studio, std::size_t document) {
    if (document == studio.session.at()) return;
    studio.session.look_at(document);
    looked_at_another(studio);
}

bool save_file(const Studio& studio) {
    if (studio.session.file().empty()) {
        browse(studio, Dialog::save_as);
        return false;
    }
    try {
        studio.session.save();
        return true;
    } catch (const InputError& error) {
        show_trouble(studio.view, error.what());
        return false;
    }
}

double shown_z_mm(const Studio& studio) {
    const auto& design = studio.session.design();
    return std::clamp(studio.view.cut_z_mm.value_or(design::bar_face_z_mm(design, shown_bar(studio))), 0.0,
                      design.mould.length_mm);
}

int shown_bar(const Studio& studio) {
    const int bars = std::max(1, design::bar_count(studio.session.design()));
    return studio.view.bar == 0 ? (bars + 1) / 2 : std::clamp(studio.view.bar, 1, bars);
}

}  // namespace foreslice::studio
