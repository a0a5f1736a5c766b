// Where a photo of test bars lies while the maker points at the card and the bars.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "colour/photo.h"
#include "colour/swatch_fit.h"
#include "studio/window/texture.h"

namespace foreslice::studio {

struct SwatchDesk {
    /// One bar: where it was pointed at (empty: not yet) and what went in.
    struct Bar {
        std::optional<colour::Patch> patch;
        double g_per_kg_oils = 4, white_g_per_kg_oils = 0;
    };

    colour::Photo photo;
    std::string file_name, colourant_name = "my colour";
    Texture texture;
    bool on_card_of_graphics = false;  ///< the texture holds this photo
    std::optional<colour::Patch> card, plain;
    std::vector<Bar> bars;
    int pointing_at = 0;  ///< 0 card, 1 plain bar, 2.. bars
    double card_reflectance = 0.9, radius_px = 12;
    std::optional<colour::SwatchFit> fit;
    std::string words;                  ///< the outcome, or what is missing
    std::filesystem::path own_library;  ///< the maker's library file; empty: nowhere to keep it
};

}  // namespace foreslice::studio
