// The studio's own way to choose a file: folders, designs, recent files and a path field. Needs nothing from
// the desktop, so it works over remote displays and in tests alike.
#pragma once

#include <filesystem>

#include "studio/window/view.h"

namespace foreslice::studio {

/// Opens one of Dialog::open, save_as, export_picture, send with a sensible folder and name.
void browse(const Studio& studio, Dialog dialog);
/// `dialog`: says which files of the folder are of use.
void enter_folder(Browser& browser, const std::filesystem::path& folder, Dialog dialog);
/// Draws the dialog's inside.
void draw_browser(const Studio& studio);
/// The desktop's own chooser, if one is open: what it answers would be taken for the next dialog's.
void put_chooser_away(const Studio& studio);
/// The path field as a path: "~" is the home folder, a relative name lies in the folder shown.
std::filesystem::path chosen_path(const Browser& browser);

}  // namespace foreslice::studio
