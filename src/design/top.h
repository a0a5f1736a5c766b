// What is done to the loaf's top when everything is poured and drawn. Ranges: limits.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace foreslice::design {

/// Batter kept back from the pours and spooned on in a heap along the loaf. It comes out of the portion's
/// share, so the mould is filled to `Mould::fill_mm` on average with it, and lower before it.
struct Spooned {
    std::string portion;            ///< a Portion's id
    double part_percent = 15;       ///< of the portion, 0.01..100; what the pours do not get
    std::optional<double> at_mm{};  ///< middle of the heap from the left wall, 0..500; empty: the middle
    double width_mm = 30;           ///< of the heap across the mould before it slumps, 4..500
    double lump_mm = 28;            ///< from one spoonful to the next along the loaf, 0..200; 0: an even heap
    friend bool operator==(const Spooned&, const Spooned&) = default;
};

enum class TopTool {
    spatula,  ///< its edge leaves broad swoops that lean the way it was drawn
    fork      ///< its tines leave even round furrows with sharp ridges between
};

enum class TopMotion {
    along,     ///< drawn along the loaf: ridges side by side
    to_crest,  ///< batter drawn up from both walls to a crest along the loaf, the tool's marks on its flanks
    peaks,     ///< pulled up here and there into peaks
    across     ///< side to side over and over: waves that follow each other along the loaf
};

/// One way of working the surface, after what was spooned on.
struct TopStroke {
    TopTool tool = TopTool::spatula;
    TopMotion motion = TopMotion::along;
    double height_mm = 4;              ///< from furrow to ridge, 0.2..40
    double spacing_mm = 14;            ///< from ridge to ridge, or between peaks, 2..200
    double lean = 0.5;                 ///< -1..1: to which side ridges lean; 0: neither
    std::optional<double> crest_mm{};  ///< place of the crest from the left wall, 0..500; empty: the middle
    friend bool operator==(const TopStroke&, const TopStroke&) = default;
};

/// Glitter or mica strewn over the top: flakes that mirror the light each in its own direction.
struct Glitter {
    std::string colourant;     ///< id in the colourant library
    double cover_percent = 6;  ///< of the top that flakes cover, 0.1..60
    double size_mm = 0.35;     ///< of a flake, 0.1..3
    friend bool operator==(const Glitter&, const Glitter&) = default;
};

struct Top {
    std::vector<Spooned> spooned;    ///< in order, the first lies lowest
    std::vector<TopStroke> strokes;  ///< in order
    std::vector<Glitter> glitter;
    /// Yield stress that the batter has reached when the top is worked (after a wait), 0..10,000; empty: that
    /// of the portion on top. What it cannot hold sinks back.
    std::optional<double> firmed_yield_stress_pa{};
    bool plain() const { return spooned.empty() && strokes.empty() && glitter.empty(); }
    friend bool operator==(const Top&, const Top&) = default;
};

}  // namespace foreslice::design
