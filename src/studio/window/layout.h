// Where everything lies in the window, from its size alone.
#pragma once

#include <vector>

namespace foreslice::studio {

struct Area {
    float x = 0, y = 0, width = 0, height = 0;
    float right() const { return x + width; }
    float bottom() const { return y + height; }
};

struct Layout {
    Area title, ribbon, sheet, controls, notes, status;
};

/// `notes_height`: what the warnings would like to have, px; they get about a fifth of their column.
Layout window_layout(float width_px, float height_px, float scale, float notes_height);

/// The two figures on the sheet: labels, poured layers and cut face.
struct Figures {
    double px_per_mm = 0;         ///< of the cut face on the screen
    double poured_px_per_mm = 0;  ///< of the poured layers
    Area labels, poured, face;
};

/// Chooses between side by side and one above the other, whichever shows the face larger.
Figures sheet_figures(const Area& inside, double width_mm, double height_mm, float scale);

/// Spreads label centres that want to be at `wanted` (any order kept) so that none overlap, inside
/// [top, bottom].
std::vector<float> spread_labels(std::vector<float> wanted, float height, float top, float bottom);

}  // namespace foreslice::studio
