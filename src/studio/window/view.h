// What the window looks at and which dialog is open: everything the screen needs to know that is not the
// design.
#pragma once

#include <array>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "studio/session/session.h"
#include "studio/window/layout.h"
#include "studio/window/shelf.h"
#include "studio/window/swatch_desk.h"
#include "studio/window/texture.h"
#include "studio/window/ui.h"

namespace foreslice::studio {

/// The maker's own order of work.
enum class Step { batter, tint, pour, wire, top, cut, cure };
inline constexpr std::array all_steps{Step::batter, Step::tint, Step::pour, Step::wire,
                                      Step::top,    Step::cut,  Step::cure};

enum class Dialog {
    none,
    open,
    save_as,
    export_picture,
    send,
    unsaved,
    recovery,
    keys,
    look,
    trouble,
    swatches
};

struct FolderEntry {
    std::string name;
    bool folder = false;
};

/// The file browser.
struct Browser {
    std::filesystem::path folder;
    std::vector<FolderEntry> entries;
    std::string problem;  ///< why the folder cannot be listed
    std::string path;     ///< the field
    bool replace_asked = false;
    double px_per_mm = 12;  ///< of an exported picture
    int variant = 0;        ///< number of the one that is sent to a collection
};

struct View {
    Step step = Step::tint;
    std::size_t portion = 0, pour = 0, stroke = 0, waypoint = 0;
    std::optional<std::size_t> dragged_pour;
    int bar = 0;                     ///< 0: the middle one
    std::optional<double> cut_z_mm;  ///< where the knife stands when not at that bar's face
    std::size_t page = 0;            ///< of all_pages()
    Area page_area{};                ///< where a page with the loaf below it lies
    Shelf shelf;                     ///< what panels remember

    Dialog dialog = Dialog::none;
    bool dialog_opens = false;  ///< set together with `dialog`
    Browser browser;
    std::string trouble;                 ///< for Dialog::trouble
    std::function<void()> after_saving;  ///< what the person wanted when unsaved changes stood in the way
    std::string after_words;             ///< "open another design", "close the studio"
    bool quit = false;

    std::optional<Notice> notice;
    std::chrono::steady_clock::time_point notice_until{};

    SwatchDesk swatches;
    Texture drawn, poured;
    std::uint64_t textures_of = 0;  ///< order number shown, times two, plus one when fine
    float wanted_scale = 0;         ///< 0: leave it
    bool look_changed = false;      ///< the settings say another look than is worn
    std::chrono::steady_clock::time_point busy_since{};
    bool first_start = false;  ///< the studio was never open before: it says what it is
    bool shaders = true;       ///< whether the display has them
};

/// What panels are given.
struct Studio {
    Session& session;
    View& view;
    Ui& ui;
};

}  // namespace foreslice::studio
