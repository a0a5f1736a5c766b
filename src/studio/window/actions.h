// Every intent of the person once: its words, its key, whether it can be done now, and what it does. Buttons,
// keys and dialogs all come here.
#pragma once

#include <SDL.h>

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "studio/window/input_queue.h"
#include "studio/window/view.h"

namespace foreslice::studio {

enum class Action {
    start_new,
    open,
    close,
    next_design,
    save,
    save_as,
    export_picture,
    undo,
    redo,
    keys,
    look,
    board,
    board_pin,
    board_orders,
    board_compare,
    board_open,
    board_name,
    board_star,
    board_send,
    board_take_off,
    play,
    next_page,
    loupe,
    quit,
    earlier_step,
    later_step,
    earlier_bar,
    later_bar,
    larger,
    smaller,
    usual_size,
};

struct ActionInfo {
    Action action;
    const char* words;
    const char* keys;  ///< as written on the F1 page
    Chord chord;
    bool while_typing;  ///< also while a text field has the keyboard
};

const std::vector<ActionInfo>& all_actions();
bool can_run(Action action, const Studio& studio);
void run(Action action, const Studio& studio);
/// Runs what a chord stands for; false when it stands for nothing.
bool run_chord(const Chord& chord, const Studio& studio, bool typing);

void open_dialog(View& view, Dialog dialog);
void close_dialog(View& view);
void show_trouble(View& view, const std::string& sentence);
/// Opens a design file, every design of a collection, or the design that a picture carries, beside the
/// designs that are open; a design that is open already is looked at. What is wrong is shown.
void open_file(const Studio& studio, const std::filesystem::path& file);
/// Saves under the design's file, or asks for one; true when it is saved now.
bool save_file(const Studio& studio);
/// Does it at once, or after the question about unsaved changes has been answered.
void with_changes_settled(const Studio& studio, const std::string& words, std::function<void()> what);
/// Looks at another of the open designs.
void look_at_design(const Studio& studio, std::size_t document);
/// The bar that is shown: the chosen one, or the middle one.
int shown_bar(const Studio& studio);
/// Where along the loaf the shown face was cut, mm.
double shown_z_mm(const Studio& studio);

}  // namespace foreslice::studio
