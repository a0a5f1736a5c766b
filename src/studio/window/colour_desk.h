// What the colour panels remember between frames: pictures to pick from, the wanted colour, what is computed
// of the document.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "colour/dose_units.h"
#include "colour/match.h"
#include "colour/palette.h"
#include "studio/session/asked.h"
#include "studio/window/swatch_desk.h"

namespace foreslice::studio {

/// A picture whose colours are picked, with the few that it is made of.
struct ThemePicture {
    std::shared_ptr<const OpenedPhoto> photo;
    Texture texture;
};

/// Recipes for a colour; the doses point into the library.
struct FoundRecipes {
    std::shared_ptr<const colour::ColourantLibrary> colour_library;
    colour::EncodedSrgb target;
    colour::Match match;
};

/// What a colourant does with white: colours over dose (columns) and white (rows, the first without any).
struct Reach {
    std::uint64_t revision = 0;
    std::size_t portion = 0, dose = 0;
    double most_g_per_kg = 0;
    std::vector<colour::PortionColour> colours;
};

/// One portion at the moments that count, with what may come out lightest and darkest.
struct AgeSwatches {
    std::uint64_t revision = 0;
    std::size_t portion = 0;
    std::vector<colour::ColourBand> bands;
};

struct ColourDesk {
    colour::DoseUnit unit = colour::DoseUnit::g_per_kg_oils;  ///< in which doses are shown and typed
    std::size_t reach_of = 0;                                 ///< which dose the strip shows
    Reach reach;
    AgeSwatches ages;

    std::vector<std::unique_ptr<ThemePicture>> themes;
    std::size_t theme = 0;

    std::optional<colour::EncodedSrgb> wanted;
    std::string wanted_text;
    int most_colourants = 2;
    double most_powder_g_per_kg = 30;
    Asked<FoundRecipes> matching;
};

}  // namespace foreslice::studio
