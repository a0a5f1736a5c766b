// Where a dropped photo of test bars lies while the maker points at the card and the bars.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "colour/palette.h"
#include "colour/photo.h"
#include "colour/swatch_fit.h"
#include "picture/image.h"
#include "studio/session/asked.h"
#include "studio/window/texture.h"

namespace foreslice::studio {

/// A photo with a smaller copy for the screen, and the few colours that it is made of.
struct OpenedPhoto {
    std::string file_name;
    colour::Photo photo;
    picture::Image shown;
    std::vector<colour::PaletteColour> palette;
};

/// What the worker is asked to fit, and what came out.
struct LearnedFit {
    std::vector<colour::TestBar> bars;
    colour::Optics base;
    bool base_is_new = false;
    colour::SwatchFit fit;
};

/// What became of keeping it.
struct KeptColourant {
    std::string name;  ///< another one than was asked for when another window had taken that
    std::shared_ptr<const colour::ColourantLibrary> colourants;  ///< all of the maker's, with it
};

struct SwatchDesk {
    /// One bar: where it was pointed at (empty: not yet) and what went in.
    struct Bar {
        std::optional<colour::Patch> patch;
        double g_per_kg_oils = 4, white_g_per_kg_oils = 0;
    };

    std::shared_ptr<const OpenedPhoto> opened;  ///< null while it is being read
    bool is_of_bars = false;  ///< said so; else the person has yet to say what the picture is
    std::string colourant_name = "my colour";
    Texture texture;
    bool on_card_of_graphics = false;  ///< the texture holds this photo
    std::optional<colour::Patch> card, plain;
    std::vector<Bar> bars;
    int pointing_at = 0;  ///< 0 card, 1 plain bar, 2.. bars
    double card_reflectance = 0.9, radius_px = 12;
    std::shared_ptr<const LearnedFit> fit;  ///< of the bars as they are now
    std::string words;                      ///< the outcome, or what is missing
    std::filesystem::path own_library;      ///< the maker's library file; empty: nowhere to keep it

    std::uint64_t questions = 0;  ///< asked so far: every one is a new one
    Asked<OpenedPhoto> opening;
    Asked<LearnedFit> fitting;
    Asked<KeptColourant> keeping;
    bool fit_awaited = false, kept_awaited = false;

    /// The bars are others now.
    void forget_fit() {
        fit.reset();
        fit_awaited = false;
    }
    bool busy() const { return opening.doing().busy || fitting.doing().busy || keeping.doing().busy; }
};

}  // namespace foreslice::studio
